package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing/ordering"
)

// newOrderAcknowledge records what a supplier answers to an order.
func newOrderAcknowledge() *cobra.Command {
	return confirmCommand("acknowledge", "Record what the supplier answers: a day, back order, a price",
		"  stead order acknowledge 501 1=2026-12-14\n  stead order acknowledge 501 1=back-ordered", inventory.Acknowledged)
}

// newOrderInvoice records what a supplier charges; `order show` sets it beside what was ordered.
func newOrderInvoice() *cobra.Command {
	return confirmCommand("invoice", "Record an invoice's prices and show where they differ",
		"  stead order invoice 501 1=19.90", inventory.Invoiced)
}

func confirmCommand(use, short, example string, kind inventory.ConfirmationKind) *cobra.Command {
	var note string
	cmd := &cobra.Command{Use: use + " ORDER LINE=DAY|PRICE …", Short: short, Example: example,
		Args: atLeast("ORDER", "LINE=DAY or LINE=PRICE")}
	cmd.Flags().StringVar(&note, "note", "", "the supplier's words")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := orderNumber(cmd, args[0])
		if err != nil {
			return err
		}
		said, err := confirmations(cmd, args[1:], kind, note)
		if err != nil {
			return err
		}
		if _, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int64, error) {
			_, err := inventory.Confirm(ctx, tx, id, said, now())
			return id, err
		}); err != nil {
			return err
		}
		if err := showOrder(cmd, w, id); err != nil {
			return err
		}
		if asJSON, _ := cmd.Flags().GetBool("json"); asJSON {
			return nil
		}
		return printLate(cmd, w)
	})
	return cmd
}

// confirmations reads LINE=2026-12-14, LINE=back-ordered and LINE=18.20.
func confirmations(cmd *cobra.Command, args []string, kind inventory.ConfirmationKind, note string) ([]inventory.Confirmation, error) {
	var said []inventory.Confirmation
	for _, a := range args {
		line, value, _ := strings.Cut(a, "=")
		id, err := strconv.ParseInt(line, 10, 64)
		c := inventory.Confirmation{LineID: id, Kind: kind, Note: note}
		if day, bad := calendar.ParseDay(value); bad == nil && kind == inventory.Acknowledged {
			c.ExpectedOn = &day
		} else if value == "back-ordered" && kind == inventory.Acknowledged {
			c.BackOrdered = true
		} else if price, bad := number(value); bad == nil {
			c.Price = decimal.NewNullDecimal(price)
		} else {
			err = bad
		}
		if err != nil {
			return nil, usage(cmd, fmt.Errorf("%q says neither a day nor a price of a line: write LINE=2026-12-14, LINE=back-ordered or LINE=18.20", a))
		}
		said = append(said, c)
	}
	return said, nil
}

func newOrderLate() *cobra.Command {
	cmd := &cobra.Command{Use: "late", Short: "List the promises that parts will not keep", Args: exactly(), Example: "  stead order late"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		late, err := desk.LoadLate(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, append([]ordering.Late{}, late.Promises...), func() { sayLate(cmd, late) })
	})
	return cmd
}

func printLate(cmd *cobra.Command, w *workshop) error {
	late, err := desk.LoadLate(cmd.Context(), w, now())
	if err != nil {
		return err
	}
	sayLate(cmd, late)
	return nil
}

func sayLate(cmd *cobra.Command, late desk.Late) {
	if len(late.Promises) == 0 {
		say(cmd, "%s", desk.NoneLate)
	}
	for _, l := range late.Promises {
		say(cmd, "%s", late.Words(l))
		if l.NotOrdered {
			say(cmd, "  to order it: stead order plan, then stead order place")
		}
		if len(l.Sooner) > 0 {
			say(cmd, "  to plan it anew: stead order cancel %d %d, then stead order plan", l.OrderID, l.LineID)
		}
	}
	sayEach(cmd, late.Delays)
}

// newOrderPaper writes orders as they are sent to suppliers.
func newOrderPaper() *cobra.Command {
	var dir string
	cmd := &cobra.Command{Use: "paper ORDER …", Args: atLeast("ORDER"), Short: "Write orders to send, on the terminal or as CSV files", Example: "  stead order paper 501\n  stead order paper 533 534 --csv orders/"}
	cmd.Flags().StringVar(&dir, "csv", "", "folder to write order-NUMBER.csv files into; it is made")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		ids, err := orderNumbers(cmd, args)
		if err != nil {
			return err
		}
		if dir != "" {
			if err := os.MkdirAll(dir, 0o777); err != nil {
				return fmt.Errorf("--csv: %w", err)
			}
		}
		for _, id := range ids {
			paper, err := desk.LoadOrderPaper(cmd.Context(), w, id, now())
			if err != nil {
				return err
			}
			if dir == "" {
				printOrderPaper(cmd.OutOrStdout(), paper)
				continue
			}
			file := filepath.Join(dir, fmt.Sprintf("order-%d.csv", id))
			if err := writeOrderPaper(file, paper); err != nil {
				return err
			}
			say(cmd, "%s", file)
		}
		return nil
	})
	return cmd
}

func printOrderPaper(out io.Writer, p desk.OrderPaper) {
	fmt.Fprintf(out, "%s\n%s\n\n", p.Shop.Name, p.Heading())
	var rows [][]string
	for _, l := range p.Lines() {
		rows = append(rows, []string{p.Codes[l.OfferID], p.Parts[l.PartID].Name, desk.PacksWords(l.Packs, l.Pack), l.Price.StringFixed(2), l.Cost().StringFixed(2)})
	}
	terminal.Table(out, []string{"YOUR CODE", "DESCRIPTION", ">PACKS", ">A PACK", ">" + p.Supplier.Currency}, rows)
	fmt.Fprintf(out, "\n%s\n\n", p.TotalWords())
	if len(p.Added) > 0 {
		fmt.Fprintf(out, "%s\n%s\n\n", desk.InPlace, strings.Join(p.Added, "\n"))
	}
}

func writeOrderPaper(file string, p desk.OrderPaper) error {
	return writeNew(fmt.Sprintf("order %d", p.Order.ID), file, p.WriteCSV)
}

// writeNew writes a file that was not there before, whole or not at all.
func writeNew(what, file string, write func(io.Writer) error) error {
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("write %s: %w", what, err)
	}
	err = write(f)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		os.Remove(file)
		return fmt.Errorf("write %s to %s: %w", what, file, err)
	}
	return nil
}
