package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory/shelf"
)

// newShopShelf sets what the shop wants of its shelf, and what that costs it.
func newShopShelf() *cobra.Command {
	var flags shelfFlags
	var carrying, waiting, safety, season string
	var months int
	var returned, reduced float64
	cmd := &cobra.Command{Use: "shelf", Short: "Say what the shelf is to meet, and what stock and waiting cost", Args: exactly(),
		Long: `Says what the shop wants of its shelf, and what that costs it: with these
figures ` + "`stead reorder`" + `, ` + "`stead stock keep`" + ` and ` + "`stead stock excess`" + ` reckon.
--waiting is what each working day costs for which a job waits for a part: a
bike that stands in the way, a call, a customer who does not come back. Where
waiting is dearer than the shelf, more is kept than --target asks for; what is
seldom sold but slow to come is then kept as well.
What a new shop begins with is common practice or our guess: give your own.
--season says how much is asked for in each month, in any measure; after a year
the books say more and more of it themselves.`,
		Example: "  stead shop shelf --target 97 --line-cost 2\n  stead shop shelf --waiting 3 --waiting-safety 6\n  stead shop shelf --season 3,4,6,8,10,11,10,10,9,8,6,4"}
	flags.add(cmd)
	cmd.Flags().StringVar(&carrying, "carrying", "", "what a year on the shelf costs, in 100 of the price: money, room, what is lost or spoilt")
	cmd.Flags().StringVar(&waiting, "waiting", "", "what a working day costs for which a job waits for a part")
	cmd.Flags().StringVar(&safety, "waiting-safety", "", "the same for a part of the brakes, the steering or the wheels")
	cmd.Flags().StringVar(&season, "season", "", "twelve numbers, January first, such as 3,4,6,8,10,11,10,10,9,8,6,4; or riding")
	cmd.Flags().IntVar(&months, "excess-months", 0, "what should sell within so many months is not in excess")
	cmd.Flags().Float64Var(&returned, "returned", 0, "what suppliers give back, in 100 of the price; 0 where none takes any back")
	cmd.Flags().Float64Var(&reduced, "reduced", 0, "what a piece brings that is sold off, in 100 of its price")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		if !anyFlag(cmd) {
			return usage(cmd, errors.New("nothing is given to change"))
		}
		var costs [3]decimal.NullDecimal
		for i, c := range []struct{ flag, text string }{{"--carrying", carrying}, {"--waiting", waiting}, {"--waiting-safety", safety}} {
			var err error
			if costs[i], err = amount(cmd, c.flag, c.text); err != nil {
				return err
			}
		}
		var numbers []float64
		if season != "" {
			var err error
			if numbers, err = desk.ParseSeason(season); err != nil {
				return usage(cmd, fmt.Errorf("--season: %w", err))
			}
		}
		if err := flags.put(cmd, &shelf.Policy{}); err != nil { // before anything is changed
			return err
		}
		p, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (shelf.Policy, error) {
			return shelf.ChangePolicy(ctx, tx, func(p *shelf.Policy) {
				_ = flags.put(cmd, p)
				if costs[0].Valid {
					p.Holding = costs[0].Decimal.Shift(-2).InexactFloat64()
				}
				if costs[1].Valid {
					p.Waiting = costs[1].Decimal
				}
				if costs[2].Valid {
					p.WaitingSafety = costs[2].Decimal
				}
				if season != "" {
					p.Season = numbers
				}
				if cmd.Flags().Changed("excess-months") {
					p.Excess.Months = months
				}
				if cmd.Flags().Changed("returned") {
					p.Excess.Returned = returned / 100
				}
				if cmd.Flags().Changed("reduced") {
					p.Excess.Reduced = reduced / 100
				}
			})
		})
		if err != nil {
			return err
		}
		all, err := desk.LoadShop(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, p, func() {
			for _, words := range all.ShelfWords() {
				say(cmd, "%s", words)
			}
		})
	})
	return cmd
}
