package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/inventory"
)

// newStockKeep advises what to keep of a part on the shelf, and sets it.
func newStockKeep() *cobra.Command {
	var at, to int
	var never, advised bool
	var lineCost string
	cmd := &cobra.Command{Use: "keep PART", Short: "Advise what to keep of a part, and set when it is ordered again", Args: exactly("PART"),
		Long: `Advises how many of a part to keep on the shelf, from how it was used and how
long its cheapest supplier really takes, so that 19 sales in 20 are met from the
shelf; and sets when it is ordered again. ` + "`stead order plan`" + ` then orders it.`,
		Example: "  stead stock keep TAR-CH9\n  stead stock keep TAR-CH9 --at 2 --to 6"}
	cmd.Flags().IntVar(&at, "at", 0, "order again when so many are left, on the shelf and on order")
	cmd.Flags().IntVar(&to, "to", 0, "and order up to so many")
	cmd.Flags().BoolVar(&advised, "as-advised", false, "set what is advised")
	cmd.Flags().BoolVar(&never, "never", false, "do not order it again by itself")
	cmd.Flags().StringVar(&lineCost, "line-cost", "1.50", "what one more line of an order costs in handling and carriage; the default is our guess: give your own")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		cost, err := amount(cmd, "--line-cost", lineCost)
		if err != nil {
			return err
		}
		byHand := cmd.Flags().Changed("at")
		switch {
		case byHand != cmd.Flags().Changed("to"):
			return usage(cmd, errors.New("--at and --to go together: when to order again, and up to how many"))
		case byHand && advised, byHand && never, advised && never:
			return usage(cmd, errors.New("--at with --to, --as-advised and --never each say it another way: give one"))
		case at < 0 || to < 0:
			return usage(cmd, errors.New("--at and --to are numbers of pieces, not below zero"))
		}
		p, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		k, err := inventory.KeepingOf(cmd.Context(), w, p, cost.Decimal, now())
		if err != nil {
			return err
		}
		set := true
		switch {
		case byHand:
			k.ReorderLevel, k.ReorderTo = &at, &to
		case advised && k.AdvisedLevel == nil:
			return fmt.Errorf("none of %s is advised to be kept: `stead stock keep %d` says why", k.Name, p.ID)
		case advised:
			k.ReorderLevel, k.ReorderTo = k.AdvisedLevel, k.AdvisedTo
		case never:
			k.ReorderLevel, k.ReorderTo = nil, nil
		default:
			set = false
		}
		if set {
			_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int64, error) {
				return p.ID, inventory.SetReorder(ctx, tx, p.ID, k.ReorderLevel, k.ReorderTo)
			})
			if err != nil {
				return err
			}
		}
		return show(cmd, k, func() {
			say(cmd, "%s: %s", k.Name, keptWords(k))
			say(cmd, "  %s", k.Words)
		})
	})
	return cmd
}

// keptWords tell when a part is ordered again.
func keptWords(k inventory.Keeping) string {
	if k.ReorderLevel == nil || k.ReorderTo == nil {
		return "not ordered again by itself"
	}
	return fmt.Sprintf("ordered again when %d are left, up to %d", *k.ReorderLevel, *k.ReorderTo)
}
