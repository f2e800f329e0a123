package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/inventory/barcode"
	"stead/migrations"
	"stead/pricing/billing"
)

func newPrint() *cobra.Command {
	return group("print", "Papers as PDF, to print or to send",
		newPrintQuote(), newPrintAgreement(), newPrintBill(), newPrintReceipt(), newPrintCard(), newPrintOrder(), newPrintGoodsIn(), newPrintSheet(), newPrintLabel())
}

// printing is a command that sets papers into a file.
type printing struct {
	*cobra.Command
	out, size string
	replace   bool
}

func newPrinting(cmd *cobra.Command) *printing {
	p := &printing{Command: cmd}
	cmd.Flags().StringVar(&p.out, "out", "", "where to write it, such as quote.pdf")
	cmd.Flags().StringVar(&p.size, "size", "a4", "page: a4, a roll's width such as 80mm, or WIDTHxHEIGHTmm")
	cmd.Flags().BoolVar(&p.replace, "replace", false, "write over a paper that is there already")
	needed(cmd, "out")
	return p
}

// papers makes the command set what load gives, one paper an argument.
func (p *printing) papers(load func(ctx context.Context, w *workshop, arg string) (paper.Paper, error)) *cobra.Command {
	p.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var all []func(*paper.Sheet)
		for _, arg := range args {
			one, err := load(cmd.Context(), w, arg)
			if err != nil {
				return err
			}
			all = append(all, one.Set)
		}
		return p.write(cmd.Name(), all)
	})
	return p.Command
}

// ofJobs makes the command set a paper of each job.
func (p *printing) ofJobs(load func(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (paper.Paper, error)) *cobra.Command {
	return p.papers(func(ctx context.Context, w *workshop, arg string) (paper.Paper, error) {
		id, err := jobNumber(p.Command, arg)
		if err != nil {
			return paper.Paper{}, err
		}
		return load(ctx, w, id, now())
	})
}

// ofOrders makes it set a paper of each order.
func (p *printing) ofOrders(load func(ctx context.Context, db inventory.DB, orderID int64, now time.Time) (paper.Paper, error)) *cobra.Command {
	return p.papers(func(ctx context.Context, w *workshop, arg string) (paper.Paper, error) {
		ids, err := orderNumbers(p.Command, []string{arg})
		if err != nil {
			return paper.Paper{}, err
		}
		return load(ctx, w, ids[0], now())
	})
}

// write sets the papers into the file, whole or not at all.
func (p *printing) write(title string, all []func(*paper.Sheet)) error {
	return p.file("paper", len(all), func(out io.Writer, size paper.Size) error { return paper.Write(out, size, title, all...) })
}

// file writes so many papers or labels, whole or not at all.
func (p *printing) file(noun string, n int, set func(io.Writer, paper.Size) error) error {
	size, err := paper.ReadSize(p.size)
	if err != nil {
		return usage(p.Command, fmt.Errorf("--size: %w", err))
	}
	var pdf bytes.Buffer
	if err := set(&pdf, size); err != nil {
		return err
	}
	if err := writeWhole(p.out, pdf.Bytes(), p.replace); err != nil {
		return err
	}
	return show(p.Command, map[string]any{"file": p.out, noun + "s": n}, func() { say(p.Command, "%s in %s", desk.Several(n, noun), p.out) })
}

// writeWhole writes a file beside its place and puts it there when it is whole.
func writeWhole(file string, content []byte, replace bool) error {
	if _, err := os.Lstat(file); !replace && !errors.Is(err, fs.ErrNotExist) {
		if err != nil {
			return fmt.Errorf("write %s: %w", file, err)
		}
		return fmt.Errorf("%s is there already: give another --out, or --replace to write over it", file)
	}
	f, err := os.CreateTemp(filepath.Dir(file), ".stead-paper-*")
	if err != nil {
		return notWritten(file, err)
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.Write(content)
	if synced := f.Sync(); err == nil {
		err = synced
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644) // a paper is to be handed on
	}
	if err == nil {
		err = os.Rename(f.Name(), file)
	}
	if err != nil {
		return notWritten(file, err)
	}
	return nil
}

// notWritten is why a file could not be written, without the name that it had until it was whole.
func notWritten(file string, err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return migrations.DiskFull(fmt.Errorf("write %s: %w", file, err), file)
}

func newPrintQuote() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "quote JOB …", Short: "Print the newest quote of jobs", Args: atLeast("JOB"),
		Example: "  stead print quote 101 --out quote.pdf\n  stead print quote 101 102 --out roll.pdf --size 80mm"})
	return p.ofJobs(paper.QuoteOf)
}

func newPrintAgreement() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "agreement JOB …", Short: "Print what was agreed on jobs, with every difference, to be signed", Args: atLeast("JOB"),
		Example: "  stead print agreement 101 --out agreement.pdf"})
	return p.ofJobs(paper.AgreementOf)
}

func newPrintCard() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "card JOB …", Short: "Print job cards for the bench", Args: atLeast("JOB"),
		Example: "  stead print card 102 --out card.pdf"})
	return p.ofJobs(paper.CardOf)
}

func newPrintReceipt() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "receipt JOB …", Short: "Print what was paid for jobs, deposits too", Args: atLeast("JOB"),
		Example: "  stead print receipt 102 --out receipt.pdf --size 80mm"})
	return p.ofJobs(paper.ReceiptOf)
}

func newPrintBill() *cobra.Command {
	var credit bool
	p := newPrinting(&cobra.Command{Use: "bill NUMBER …", Short: "Print bills or credit notes, with what was paid", Args: atLeast("NUMBER"),
		Example: "  stead print bill 1 --out bill.pdf"})
	p.Flags().BoolVar(&credit, "credit-note", false, "NUMBER is that of a credit note")
	return p.papers(func(ctx context.Context, w *workshop, arg string) (paper.Paper, error) {
		n, err := paperNumber(p.Command, arg)
		if err != nil {
			return paper.Paper{}, err
		}
		series := billing.Bills
		if credit {
			series = billing.Credits
		}
		return paper.BillOf(ctx, w, series, n, now())
	})
}

func newPrintOrder() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "order ORDER …", Short: "Print orders as they are sent to suppliers", Args: atLeast("ORDER"),
		Example: "  stead print order 501 --out order.pdf"})
	return p.ofOrders(paper.OrderOf)
}

func newPrintGoodsIn() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "goods-in ORDER …", Short: "Print what parcels should hold, to tick while unpacking", Args: atLeast("ORDER"),
		Example: "  stead print goods-in 533 --out parcel.pdf"})
	return p.ofOrders(paper.GoodsInOf)
}

func newPrintSheet() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "sheet BIN …", Short: "Print sheets to count bins by", Args: atLeast("BIN"),
		Example: "  stead print sheet D2 --out sheet.pdf"})
	return p.papers(func(ctx context.Context, w *workshop, arg string) (paper.Paper, error) {
		return paper.SheetOf(ctx, w, arg, now())
	})
}

func newPrintLabel() *cobra.Command {
	p := newPrinting(&cobra.Command{Use: "label bin|part|bike|job NAME …", Short: "Print labels with bars and a QR code for bins, parts, bikes, jobs", Args: cobra.MinimumNArgs(2),
		Example: "  stead print label bin D2 --out bins.pdf\n  stead print label part 71 --out part.pdf --size 70x37mm\n  stead print label bike 1 --out bike.pdf --size 80mm",
		Long: `Prints labels that a scanner reads, as Code 128 and as QR code: "bin D2",
"part 71", "bike 1", "job 101". On A4 they stand three by eight, 70 × 37 mm
each; on a roll or a page of another size there is one a page.`})
	p.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var labels []desk.Label
		for _, name := range args[1:] {
			l, err := desk.LoadLabel(cmd.Context(), w, barcode.Kind(args[0]), name)
			if err != nil {
				return err
			}
			labels = append(labels, l)
		}
		return p.file("label", len(labels), func(out io.Writer, size paper.Size) error { return paper.Labels(out, size, labels) })
	})
	return p.Command
}
