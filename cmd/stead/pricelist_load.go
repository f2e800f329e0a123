package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory/calendar"
	"stead/inventory/catalogue"
)

// The flags by which a person takes a list after a look at it.
const (
	confirmColumns = "confirm-columns"
	acceptGood     = "accept-good"
	acceptJumps    = "accept-jumps"
	acceptPrices   = "accept-prices"
	acceptGone     = "accept-gone"
)

// newListLoad loads a supplier's list, all of it or nothing.
func newListLoad() *cobra.Command {
	var accept catalogue.Accept
	var confirm bool
	var jump int
	var asOf string
	cmd := &cobra.Command{Use: "load SUPPLIER FILE", Short: "Load a supplier's list: all of it, or nothing", Args: exactly("SUPPLIER", "FILE"),
		Long: `Loads a supplier's list: all of it or, if anything in it wants a look first,
nothing. Offers that the list no longer has are marked as gone. The same file
again changes nothing.`,
		Example: "  stead pricelist load harbour harbour-december.csv --confirm-columns\n  stead pricelist load harbour harbour-january.csv --accept-jumps"}
	cmd.Flags().BoolVar(&confirm, confirmColumns, false, "the columns are as the preview shows them: keep that")
	cmd.Flags().BoolVar(&accept.GoodRows, acceptGood, false, "load the good lines although others are bad")
	cmd.Flags().BoolVar(&accept.Jumps, acceptJumps, false, "the prices that moved far are right")
	cmd.Flags().BoolVar(&accept.Gone, acceptGone, false, "most of what the supplier had is really gone")
	cmd.Flags().BoolVar(&accept.Prices, acceptPrices, false, "the prices do stand in their column")
	cmd.Flags().StringVar(&asOf, "as-of", "", "day from which the list holds (default today)")
	jumpFlag(cmd, &jump)
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
		tax, err := desk.TaxPercent(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		line := newMeter("loading " + l.File.Name())
		s, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Summary, error) {
			if !l.Confirmed {
				if err := catalogue.PutMapping(ctx, tx, l.Supplier.ID, l.Mapping); err != nil {
					return catalogue.Summary{}, err
				}
			}
			load := l.Load(tax, now())
			load.AsOf, load.JumpPercent, load.Accept, load.Progress = from, jump, accept, line.lines()
			return load.Run(ctx, tx)
		})
		line.end()
		if err != nil {
			return held(err, l.Supplier.Code)
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
			printRetailDoubts(cmd, l.Supplier.Currency, tax, s.Retail)
			printProblems(cmd, s.Bad)
			say(cmd, "\nif it was the wrong list: stead pricelist takeback %s", l.Supplier.Code)
		})
	})
	return cmd
}

// held says with which flag a list that was held back is taken.
func held(err error, supplier string) error {
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
	return fmt.Errorf("%w (`stead pricelist preview %s FILE` shows all; %s, load with --%s)", err, supplier, means, acceptFlags[doubt])
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
