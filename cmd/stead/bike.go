package main

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
)

func newBike() *cobra.Command {
	return group("bike", "Bikes, what is on record of them, and what was done to them", newBikeShow(), newBikeSet(), newBikeForgetWish())
}

func newBikeShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show BIKE", Short: "Show a bike: owner, what is fitted, past jobs and wishes", Args: exactly("BIKE"), Example: "  stead bike show 1"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "bike", args[0])
		if err != nil {
			return err
		}
		v, err := desk.LoadBike(cmd.Context(), w, id)
		if err != nil {
			return err
		}
		return show(cmd, v, func() {
			say(cmd, "%s", desk.BikeWords(v.ID, v.Words, v.FrameNumber))
			say(cmd, "  %s", desk.CustomerWords(v.Customer))
			for _, j := range v.Jobs {
				say(cmd, "  %s", desk.PastJobWords(j))
			}
			for _, w := range v.Wishes {
				say(cmd, "  %s", fmt.Sprintf("wished for (%d): %s", w.ID, w.Words))
			}
			indented(cmd, desk.PhotoWords(v.Photos))
			printTrail(cmd, v.Corrected)
			var rows [][]string
			for _, place := range v.Build.Places() {
				rows = append(rows, []string{desk.SiteWords(place), desk.FittedWords(v.Build[place])})
			}
			if len(rows) > 0 {
				say(cmd, "")
				terminal.Table(cmd.OutOrStdout(), []string{"PLACE", "ON RECORD"}, rows)
			}
		})
	})
	return cmd
}

func newBikeSet() *cobra.Command {
	var words, frame, owner string
	cmd := &cobra.Command{Use: "set BIKE", Short: "Correct a bike's words, frame number or owner", Args: exactly("BIKE"),
		Example: "  stead bike set 1 --frame-number \"FT 4471 K\"\n  stead bike set 2 --words \"crimson road bike, 8-speed\" --why \"not red\""}
	cmd.Flags().StringVar(&words, "words", "", "a few words to know it by")
	cmd.Flags().StringVar(&frame, "frame-number", "", "the number stamped on the frame; empty takes it away")
	cmd.Flags().StringVar(&owner, "owner", "", "number of the customer whose it is now")
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "bike", args[0])
		if err != nil {
			return err
		}
		if err := checkChanged(cmd, "words", "frame-number", "owner"); err != nil {
			return err
		}
		var to int64
		if cmd.Flags().Changed("owner") {
			if to, err = numbered(cmd, "customer", owner); err != nil {
				return err
			}
		}
		b, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (pricing.Bike, error) {
			return pricing.CorrectBike(ctx, tx, id, hand, func(b *pricing.Bike) {
				if cmd.Flags().Changed("words") {
					b.Words = words
				}
				if cmd.Flags().Changed("frame-number") {
					b.FrameNumber = frame
				}
				if to != 0 {
					b.Customer.ID = to
				}
			})
		})
		if err != nil {
			return err
		}
		return show(cmd, b, func() {
			say(cmd, "%s; %s", desk.BikeWords(b.ID, b.Words, b.FrameNumber), desk.CustomerWords(b.Customer))
		})
	})
	return cmd
}
