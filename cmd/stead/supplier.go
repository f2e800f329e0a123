package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/leadtime"
	"stead/pricing"
)

func newSupplier() *cobra.Command {
	return group("supplier", "Suppliers and their terms", newSupplierAdd(), newSupplierOffer(), newSupplierList(), newSupplierShow())
}

// amount reads an amount of money; an empty text is none.
func amount(cmd *cobra.Command, flag, text string) (decimal.NullDecimal, error) {
	if text == "" {
		return decimal.NullDecimal{}, nil
	}
	d, err := decimal.NewFromString(text)
	if err != nil || d.IsNegative() {
		return decimal.NullDecimal{}, usage(cmd, fmt.Errorf("%s is an amount such as 5.95, not %q", flag, text))
	}
	return decimal.NewNullDecimal(d), nil
}

func newSupplierAdd() *cobra.Command {
	var s inventory.Supplier
	var carriage, paidAt, minimum string
	cmd := &cobra.Command{Use: "add CODE NAME", Short: "Add a supplier with its terms", Args: exactly("CODE", "NAME"),
		Example: "  stead supplier add harbour \"Harbour Lane Cycle Trade\" --lead-days 2 \\\n      --to-order-days 12 --cut-off 15:00 --carriage 5.95 --carriage-paid-at 75"}
	cmd.Flags().IntVar(&s.LeadDays, "lead-days", 3, "working days quoted for what it has in stock")
	cmd.Flags().IntVar(&s.ToOrderDays, "to-order-days", 20, "working days quoted for what it must order")
	cmd.Flags().StringVar(&s.CutOff, "cut-off", "16:00", "hour by which an order counts for the same day")
	cmd.Flags().StringVar(&s.Country, "country", "", "whose bank holidays it keeps (default the shop's)")
	cmd.Flags().StringVar(&s.Currency, "currency", "", "currency of its prices (default the shop's)")
	cmd.Flags().StringVar(&carriage, "carriage", "0", "carriage of an order")
	cmd.Flags().StringVar(&paidAt, "carriage-paid-at", "", "goods worth this much travel free")
	cmd.Flags().StringVar(&minimum, "minimum", "0", "least worth of an order")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		s.Code, s.Name = args[0], args[1]
		c, err := amount(cmd, "--carriage", carriage)
		if err != nil {
			return err
		}
		m, err := amount(cmd, "--minimum", minimum)
		if err != nil {
			return err
		}
		if s.CarriagePaidAt, err = amount(cmd, "--carriage-paid-at", paidAt); err != nil {
			return err
		}
		if _, err := calendar.NewCutOff(s.CutOff, "UTC"); err != nil {
			return usage(cmd, fmt.Errorf("--cut-off: %w", err))
		}
		s.Carriage, s.MinimumOrder = c.Decimal, m.Decimal
		added, err := change(cmd, w, "supplier add "+args[0], func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Supplier, error) {
			return inventory.AddSupplier(ctx, tx, s)
		})
		if err != nil {
			return err
		}
		return show(cmd, added, func() { say(cmd, "supplier %s: %s", added.Code, added.Name) })
	})
	return cmd
}

func newSupplierList() *cobra.Command {
	cmd := &cobra.Command{Use: "list", Short: "List suppliers and their terms", Args: exactly(), Example: "  stead supplier list"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		all, err := inventory.Suppliers(cmd.Context(), w)
		if err != nil {
			return err
		}
		return show(cmd, all, func() {
			var rows [][]string
			for _, s := range all {
				paid := "never"
				if s.CarriagePaidAt.Valid {
					paid = pricing.Amount(s.Currency, s.CarriagePaidAt.Decimal)
				}
				rows = append(rows, []string{s.Code, s.Name, strconv.Itoa(s.LeadDays), strconv.Itoa(s.ToOrderDays), s.CutOff,
					pricing.Amount(s.Currency, s.Carriage), paid, pricing.Amount(s.Currency, s.MinimumOrder)})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"CODE", "NAME", ">DAYS", ">TO ORDER", "BY", ">CARRIAGE", ">FREE FROM", ">LEAST"}, rows)
		})
	})
	return cmd
}

// newSupplierShow sets what a supplier quotes beside what it does.
func newSupplierShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show CODE", Short: "Show what a supplier quotes beside what really comes when", Args: exactly("CODE"), Example: "  stead supplier show harbour"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		ctx := cmd.Context()
		s, err := inventory.SupplierByCode(ctx, w, args[0])
		if err != nil {
			return err
		}
		d, err := inventory.LoadDeliveries(ctx, w, now())
		if err != nil {
			return err
		}
		type outlook struct {
			Stock  inventory.Signal `json:"stock"`
			Quoted int              `json:"quoted_days"`
			HereBy string           `json:"here_by"`
			Why    []string         `json:"why"`
		}
		var out []outlook
		for _, signal := range []inventory.Signal{inventory.InStock, inventory.Low, inventory.ToOrder, inventory.Unknown} {
			o := outlook{Stock: signal, Quoted: s.QuotedDays(signal), HereBy: "can't be promised", Why: d.Forecast(s.ID, signal).Words(d.Today)}
			if promise, err := d.Promise([]leadtime.Shipment{d.Shipment(s.ID, signal)}); err == nil {
				o.HereBy = promise.Words(d.Today)
			}
			out = append(out, o)
		}
		answer := struct {
			Supplier inventory.Supplier `json:"supplier"`
			Ordered  []outlook          `json:"ordered_now"`
			DaysLate []int              `json:"days_late"` // of past parcels, working days after the quote
		}{s, out, d.DaysLate(s.ID)}
		return show(cmd, answer, func() {
			say(cmd, "%s (%s), orders by %s count for the day\n", s.Name, s.Code, s.CutOff)
			var rows [][]string
			for _, o := range out {
				rows = append(rows, []string{string(o.Stock), strconv.Itoa(o.Quoted), o.HereBy})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"STOCK", ">QUOTED DAYS", "ORDERED NOW, HERE BY"}, rows)
			say(cmd, "")
			for _, words := range out[0].Why {
				say(cmd, "  %s", words)
			}
			if len(answer.DaysLate) > 0 {
				say(cmd, "\nPast parcels, working days after the day quoted:")
				terminal.Bars(cmd.OutOrStdout(), answer.DaysLate)
			}
		})
	})
	return cmd
}
