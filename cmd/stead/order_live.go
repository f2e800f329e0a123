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
	"stead/pricing"
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
		if asJSON, _ := cmd.Flags().GetBool("json"); !asJSON {
			return printLate(cmd, w)
		}
		late, err := pricing.LatePromises(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, append([]ordering.Late{}, late...), nil)
	})
	return cmd
}

func printLate(cmd *cobra.Command, w *workshop) error {
	late, err := pricing.LatePromises(cmd.Context(), w, now())
	if err != nil {
		return err
	}
	shop, err := inventory.LoadShop(cmd.Context(), w)
	if err != nil {
		return err
	}
	if len(late) == 0 {
		say(cmd, "every promise that hangs on a part still holds")
	}
	for _, l := range late {
		say(cmd, "%s", l.Words(shop.Currency, today()))
		if l.NotOrdered {
			say(cmd, "  to order it: stead order plan, then stead order place")
		}
		if len(l.Sooner) > 0 {
			say(cmd, "  to plan it anew: stead order cancel %d %d, then stead order plan", l.OrderID, l.LineID)
		}
	}
	return nil
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
			paper, err := desk.LoadOrderPaper(cmd.Context(), w, id)
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
	fmt.Fprintf(out, "%s\norders from %s on %s, our number %d\n\n", p.Shop.Name, p.Supplier.Name, calendar.DayOf(p.Order.PlacedAt), p.Order.ID)
	var rows [][]string
	for _, l := range p.Order.Lines {
		rows = append(rows, []string{p.Codes[l.OfferID], p.Parts[l.PartID].Name, packs(l.Packs, l.Pack), l.Price.StringFixed(2), l.Cost().StringFixed(2)})
	}
	terminal.Table(out, []string{"YOUR CODE", "DESCRIPTION", ">PACKS", ">A PACK", ">" + p.Supplier.Currency}, rows)
	fmt.Fprintf(out, "\ngoods %s, carriage %s\n\n", pricing.Amount(p.Supplier.Currency, p.Order.Goods()), pricing.Amount(p.Supplier.Currency, p.Order.Carriage))
}

func writeOrderPaper(file string, p desk.OrderPaper) error {
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("write order %d: %w", p.Order.ID, err)
	}
	err = orderPaperRows(f, p)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		os.Remove(file)
		return fmt.Errorf("write order %d to %s: %w", p.Order.ID, file, err)
	}
	return nil
}

func orderPaperRows(out io.Writer, p desk.OrderPaper) error {
	w, err := terminal.NewCSV(out)
	if err != nil {
		return err
	}
	if err := w.Write("our order", "your code", "description", "packs", "pieces in a pack", "price of a pack", "amount", "currency"); err != nil {
		return err
	}
	for _, l := range p.Order.Lines {
		if err := w.Write(strconv.FormatInt(p.Order.ID, 10), p.Codes[l.OfferID], p.Parts[l.PartID].Name, strconv.Itoa(l.Packs), strconv.Itoa(l.Pack),
			l.Price.StringFixed(2), l.Cost().StringFixed(2), p.Supplier.Currency); err != nil {
			return err
		}
	}
	return w.Close()
}
