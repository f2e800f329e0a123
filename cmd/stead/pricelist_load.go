package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory/calendar"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
)

// The flags by which a person takes a list after a look at it.
const (
	confirmColumns = "confirm-columns"
	acceptGood     = "accept-good"
	acceptJumps    = "accept-jumps"
	acceptPrices   = "accept-prices"
	acceptGone     = "accept-gone"
	taxIn          = "tax-in"
)

// newListLoad loads a supplier's list, all of it or nothing.
func newListLoad() *cobra.Command {
	var accept catalogue.Accept
	var confirm bool
	var jump int
	var asOf string
	var tax percent
	cmd := &cobra.Command{Use: "load SUPPLIER FILE", Short: "Load a supplier's list: all of it, or nothing", Args: exactly("SUPPLIER", "FILE"),
		Long: `Loads a supplier's list: all of it or, if anything in it wants a look first,
nothing. Offers that the list no longer has are marked as gone. The same file
again changes nothing.`,
		Example: "  stead pricelist load harbour harbour-december.csv --confirm-columns\n  stead pricelist load harbour harbour-january.csv --accept-jumps"}
	cmd.Flags().BoolVar(&confirm, confirmColumns, false, "the columns are as the preview shows them: keep that")
	cmd.Flags().BoolVar(&accept.GoodRows, acceptGood, false, "load the good lines although others are bad")
	cmd.Flags().BoolVar(&accept.Jumps, acceptJumps, false, "the prices that moved far are right")
	cmd.Flags().BoolVar(&accept.Gone, acceptGone, false, "most of what the supplier had is really gone")
	cmd.Flags().BoolVar(&accept.Prices, acceptPrices, false, "the prices are right as they stand")
	cmd.Flags().StringVar(&asOf, "as-of", "", "day from which the list holds (default today)")
	jumpFlag(cmd, &jump)
	taxFlag(cmd, &tax)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		from := now()
		if asOf != "" {
			day, err := calendar.ParseDay(asOf)
			if err != nil {
				return usage(cmd, fmt.Errorf("--as-of: %w", err))
			}
			from = day.Time()
		}
		if err := checkJump(cmd, jump); err != nil {
			return err
		}
		l, err := openList(cmd.Context(), w, args[0], args[1])
		if err != nil {
			return err
		}
		defer l.File.Close() // only read from
		if !l.Confirmed && !confirm {
			return fmt.Errorf("nobody has confirmed yet which column of the lists of %s is what: look at `stead pricelist preview %s FILE`, then load with --%s",
				l.Supplier.Name, l.Supplier.Code, confirmColumns)
		}
		if err := l.CheckColumns(); err != nil {
			return err
		}
		l.Mapping = tax.on(l.Mapping)
		own, err := desk.TaxPercent(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		line := newMeter("loading " + l.File.Name())
		s, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Summary, error) {
			if !l.Confirmed || tax.given {
				if err := catalogue.PutMapping(ctx, tx, l.Supplier.ID, l.Mapping); err != nil {
					return catalogue.Summary{}, err
				}
			}
			load := l.Load(own, now())
			load.AsOf, load.JumpPercent, load.Accept, load.Progress = from, jump, accept, line.lines()
			return load.Run(ctx, tx)
		})
		line.end()
		if err != nil {
			return held(err, l.Supplier.Code, own)
		}
		return show(cmd, s, func() {
			if s.Again {
				say(cmd, "this very list is loaded already: nothing changed")
				return
			}
			for _, a := range l.Asks {
				say(cmd, "? %s: stead pricelist columns %s FILE %s", a.Words, l.Supplier.Code, answerFlag(a))
			}
			say(cmd, "the list %s of %s is loaded:", l.File.Name(), l.Supplier.Name)
			printCounts(cmd, s)
			if s.Unread > 0 {
				say(cmd, "what could not be read: stead pricelist review %s", l.Supplier.Code)
			}
			if s.Waiting > 0 {
				say(cmd, "what waits, and why: stead pricelist waiting %s", l.Supplier.Code)
			}
			printLeftOut(cmd, s.LeftOut)
			printJumps(cmd, s.Jumps)
			printRetailDoubts(cmd, l.Supplier.Currency, own, s.Retail)
			printProblems(cmd, s.Bad)
			say(cmd, "\nif it was the wrong list: stead pricelist takeback %s", l.Supplier.Code)
		})
	})
	return cmd
}

// held says how a list that was held back is taken. Own is the tax that the shop itself charges, in per cent.
func held(err error, supplier string, own decimal.Decimal) error {
	var h *catalogue.HeldError
	if !errors.As(err, &h) {
		return err
	}
	doubt := desk.DoubtJumps
	if doubts := desk.ListDoubts(true, h.Summary); len(doubts) > 0 {
		doubt = doubts[0]
	}
	means := map[desk.Doubt]string{desk.DoubtPrices: "if the prices are right", desk.DoubtGone: "if they are really gone", desk.DoubtBad: "to take the good lines only",
		desk.DoubtJumps: "if they are right"}[doubt]
	switch {
	case doubt == desk.DoubtTax:
		yours := ""
		if own.IsPositive() {
			yours = fmt.Sprintf("your own tax is %s %%, and ", own)
		}
		return fmt.Errorf("%w (load with --%s PERCENT: %s--%[2]s 0 says that none is in the prices)", err, taxIn, yours)
	case h.Summary.Paper == pricelist.TaxGone:
		return fmt.Errorf("%w (if no tax is in them any more, load with --%s 0; if they are right as they are, with --%s)", err, taxIn, acceptPrices)
	case h.Summary.Paper == pricelist.TaxCome:
		return fmt.Errorf("%w (if tax is in them now, load with --%s PERCENT; if they are right as they are, with --%s)", err, taxIn, acceptPrices)
	case h.Summary.Paper == pricelist.Confirmation:
		return fmt.Errorf("%w (what it says of an order goes to that order: `stead order acknowledge ORDER LINE=DAY|PRICE`; if it is a list all the same, load with --%s)", err, acceptPrices)
	}
	return fmt.Errorf("%w (`stead pricelist preview %s FILE` shows all; %s, load with --%s)", err, supplier, means, acceptFlags[doubt])
}

// percent is a flag that takes a rate of tax.
type percent struct {
	rate  decimal.Decimal
	given bool
}

func (p *percent) String() string {
	if !p.given {
		return ""
	}
	return p.rate.String()
}

func (p *percent) Type() string { return "percent" }

func (p *percent) Set(text string) error {
	rate, err := decimal.NewFromString(strings.TrimSpace(strings.TrimSuffix(strings.ReplaceAll(text, ",", "."), "%")))
	if err != nil {
		return fmt.Errorf("%q is no rate of tax: write 20 for 20 per cent", text)
	}
	if err := pricelist.CheckTax(rate); err != nil {
		return err
	}
	p.rate, p.given = rate, true
	return nil
}

// on is the mapping with the tax that a person has given.
func (p *percent) on(m pricelist.Mapping) pricelist.Mapping {
	if !p.given {
		return m
	}
	return m.WithTax(p.rate)
}

// again is the flag as it is given once more; empty where it was not.
func (p *percent) again() string {
	if !p.given {
		return ""
	}
	return fmt.Sprintf(" --%s %s", taxIn, p.rate)
}

func taxFlag(cmd *cobra.Command, into *percent) {
	cmd.Flags().Var(into, taxIn, "tax that is in the list's prices, in per cent: it is taken out of them, in later lists too; 0: none is")
}

func jumpFlag(cmd *cobra.Command, into *int) {
	cmd.Flags().IntVar(into, "jump", 25, "a price that moves by more than this many per cent is a jump")
}

func checkJump(cmd *cobra.Command, percent int) error {
	if percent < 1 || percent > 1000 {
		return usage(cmd, fmt.Errorf("--jump is between 1 and 1000 per cent, not %d", percent))
	}
	return nil
}
