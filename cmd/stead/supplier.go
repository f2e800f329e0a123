package main

import (
	"context"
	"errors"
	"fmt"
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
)

func newSupplier() *cobra.Command {
	return group("supplier", "Suppliers and their terms", newSupplierAdd(), newSupplierSet(), newSupplierOffer(), newSupplierList(), newSupplierShow(), newSupplierClosed(), newSupplierReopen())
}

// amount reads an amount of money; an empty text is none.
func amount(cmd *cobra.Command, flag, text string) (decimal.NullDecimal, error) {
	if text == "" {
		return decimal.NullDecimal{}, nil
	}
	d, err := number(text)
	if err == nil && d.GreaterThanOrEqual(decimal.New(1, 10)) {
		return decimal.NullDecimal{}, usage(cmd, fmt.Errorf("%s: %s cannot be meant: it is beyond ten thousand million", flag, text))
	}
	if err != nil || d.IsNegative() {
		return decimal.NullDecimal{}, usage(cmd, fmt.Errorf("%s is an amount such as 5.95, not %q", flag, text))
	}
	return decimal.NewNullDecimal(d), nil
}

// supplierTerms are a supplier's terms as they are typed.
type supplierTerms struct {
	inventory.Supplier
	carriage, paidAt, minimum string
}

// flags begin with the terms that t has.
func (t *supplierTerms) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.IntVar(&t.LeadDays, "lead-days", t.LeadDays, "working days quoted for what it has in stock")
	f.IntVar(&t.ToOrderDays, "to-order-days", t.ToOrderDays, "working days quoted for what it must order")
	f.StringVar(&t.CutOff, "cut-off", t.CutOff, "hour by which an order counts for the same day, such as 15:30")
	f.StringVar(&t.Country, "country", "", "whose bank holidays it keeps, such as GB or DE")
	f.Var(weekdays{&t.ClosedOn}, "closed", "days closed every week, such as saturday,sunday; none for none")
	f.StringVar(&t.carriage, "carriage", "", "carriage of an order")
	f.StringVar(&t.paidAt, "carriage-paid-at", "", "goods worth this much travel free; none if they never do")
	f.StringVar(&t.Email, "email", "", "where it takes orders by e-mail")
	f.StringVar(&t.minimum, "minimum", "", "least worth of an order")
}

// read makes values of what was typed as text.
func (t *supplierTerms) read(cmd *cobra.Command) error {
	carriage, err := amount(cmd, "--carriage", t.carriage)
	if err != nil {
		return err
	}
	minimum, err := amount(cmd, "--minimum", t.minimum)
	if err != nil {
		return err
	}
	t.Carriage, t.MinimumOrder = carriage.Decimal, minimum.Decimal
	if t.CarriagePaidAt, err = amount(cmd, "--carriage-paid-at", strings.TrimPrefix(t.paidAt, "none")); err != nil {
		return err
	}
	if !cmd.Flags().Changed("cut-off") {
		return nil
	}
	if _, err := calendar.NewCutOff(t.CutOff, "UTC"); err != nil {
		return usage(cmd, fmt.Errorf("--cut-off: %w", err))
	}
	return nil
}

// onto changes of s the terms that were given.
func (t *supplierTerms) onto(cmd *cobra.Command, s *inventory.Supplier) {
	for flag, set := range map[string]func(){
		"lead-days":        func() { s.LeadDays = t.LeadDays },
		"to-order-days":    func() { s.ToOrderDays = t.ToOrderDays },
		"email":            func() { s.Email = t.Email },
		"cut-off":          func() { s.CutOff = t.CutOff },
		"country":          func() { s.Country = t.Country },
		"closed":           func() { s.ClosedOn = t.ClosedOn },
		"carriage":         func() { s.Carriage = t.Carriage },
		"carriage-paid-at": func() { s.CarriagePaidAt = t.CarriagePaidAt },
		"minimum":          func() { s.MinimumOrder = t.MinimumOrder },
	} {
		if cmd.Flags().Changed(flag) {
			set()
		}
	}
}

func newSupplierAdd() *cobra.Command {
	given := supplierTerms{Supplier: inventory.Supplier{LeadDays: 3, ToOrderDays: 20, CutOff: "16:00"}}
	cmd := &cobra.Command{Use: "add CODE NAME", Short: "Add a supplier with its terms", Args: exactly("CODE", "NAME"),
		Long: `Adds a supplier with its terms. Unless told otherwise it keeps the shop's bank
holidays and prices in the shop's currency, is closed on Saturday and Sunday,
sends free of carriage and takes orders of any worth.`,
		Example: "  stead supplier add harbour \"Harbour Lane Cycle Trade\" --lead-days 2 \\\n      --to-order-days 12 --cut-off 15:00 --carriage 5.95 --carriage-paid-at 75"}
	given.flags(cmd)
	cmd.Flags().StringVar(&given.Currency, "currency", "", "currency of its prices, such as GBP")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if err := given.read(cmd); err != nil {
			return err
		}
		given.Code, given.Name = args[0], args[1]
		added, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Supplier, error) {
			return inventory.AddSupplier(ctx, tx, given.Supplier)
		})
		if err != nil {
			return err
		}
		return show(cmd, added, func() { say(cmd, "supplier %s: %s", added.Code, added.Name) })
	})
	return cmd
}

func newSupplierSet() *cobra.Command {
	var given supplierTerms
	cmd := &cobra.Command{Use: "set CODE", Short: "Change the terms that are given", Args: exactly("CODE"),
		Example: "  stead supplier set harbour --lead-days 3 --carriage-paid-at none"}
	given.flags(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if !anyFlag(cmd) {
			return usage(cmd, errors.New("nothing is given to change"))
		}
		if err := given.read(cmd); err != nil {
			return err
		}
		changed, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Supplier, error) {
			return inventory.ChangeSupplier(ctx, tx, args[0], func(s *inventory.Supplier) { given.onto(cmd, s) })
		})
		if err != nil {
			return err
		}
		return show(cmd, changed, func() { say(cmd, "terms of %s saved", changed.Name) })
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
		v, err := desk.LoadSupplier(cmd.Context(), w, args[0], now())
		if err != nil {
			return err
		}
		s := v.Supplier
		return show(cmd, v, func() {
			say(cmd, "%s (%s), orders by %s count for the day", s.Name, s.Code, s.CutOff)
			for _, words := range v.Closed {
				say(cmd, "%s", words)
			}
			say(cmd, "")
			var rows [][]string
			for _, o := range v.Ordered {
				rows = append(rows, []string{string(o.Stock), strconv.Itoa(o.Quoted), o.HereBy})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"STOCK", ">QUOTED DAYS", "ORDERED NOW, HERE BY"}, rows)
			say(cmd, "")
			for _, words := range v.Ordered[0].Why {
				say(cmd, "  %s", words)
			}
			if len(v.DaysLate) > 0 {
				say(cmd, "\nPast parcels, working days after the day quoted:")
				terminal.Bars(cmd.OutOrStdout(), v.DaysLate)
			}
		})
	})
	return cmd
}
