package main

import (
	"context"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/inventory"
	"stead/pricing"
)

func newJobSet() *cobra.Command {
	var wish, wanted string
	cmd := &cobra.Command{Use: "set JOB", Short: "Correct what was asked for when a bike was booked in", Args: exactly("JOB"),
		Example: "  stead job set 101 --wish \"chain jumps under load\" --wanted-by 2026-12-18"}
	cmd.Flags().StringVar(&wish, "wish", "", "what the customer asks, in their words")
	cmd.Flags().StringVar(&wanted, "wanted-by", "", "when they would like it back; none for any day")
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if err := checkChanged(cmd, "wish", "wanted-by"); err != nil {
			return err
		}
		if wanted == "none" {
			wanted = ""
		}
		day, err := comingDay(cmd, "--wanted-by", wanted)
		if err != nil {
			return err
		}
		return undo(cmd, w, by, id, "job "+args[0]+" corrected", func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) error {
			return pricing.CorrectJob(ctx, tx, id, hand, func(words *pricing.Words) {
				if cmd.Flags().Changed("wish") {
					words.Wish = wish
				}
				if cmd.Flags().Changed("wanted-by") {
					words.WantedBy = day
				}
			})
		})
	})
	return cmd
}

// undo does a change of a job that answers with a few words.
func undo(cmd *cobra.Command, w *workshop, by handFlags, id int64, words string, do func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) error) error {
	if _, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (int64, error) { return id, do(ctx, tx, hand) }); err != nil {
		return err
	}
	job, err := pricing.JobByID(cmd.Context(), w, id)
	if err != nil {
		return err
	}
	return show(cmd, map[string]any{"job": id, "state": job.State}, func() { say(cmd, "%s", words) })
}

func newJobUnbook() *cobra.Command {
	cmd := &cobra.Command{Use: "unbook JOB", Short: "Take back a booking that was made by mistake", Args: exactly("JOB"), Example: "  stead job unbook 101 --why \"twice the same bike\""}
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		return undo(cmd, w, by, id, "job "+args[0]+" is taken back: it is no part of the bike's history", func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) error {
			return pricing.TakeBackBooking(ctx, tx, id, hand)
		})
	})
	return cmd
}

func newJobReopen() *cobra.Command {
	cmd := &cobra.Command{Use: "reopen JOB", Short: "Open a job again that was closed or cancelled today", Args: exactly("JOB"), Example: "  stead job reopen 101 --why \"the brake was forgotten\""}
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		return undo(cmd, w, by, id, "job "+args[0]+" is open again", func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) error {
			return pricing.Reopen(ctx, tx, id, hand)
		})
	})
	return cmd
}

func newJobRelease() *cobra.Command {
	cmd := &cobra.Command{Use: "release JOB", Short: "Let go of what is still held for a cancelled job", Args: exactly("JOB"), Example: "  stead job cancel 101 --why \"sold the bike\" --parts hold\n  stead job release 101"}
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		let, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) ([]inventory.Reservation, error) {
			return pricing.Release(ctx, tx, id, hand)
		})
		if err != nil {
			return err
		}
		return show(cmd, let, func() {
			n := 0
			for _, r := range let {
				n += r.Pieces
			}
			say(cmd, "%d pieces that were held for job %d are free", n, id)
		})
	})
	return cmd
}

func newBikeForgetWish() *cobra.Command {
	cmd := &cobra.Command{Use: "forget-wish WISH", Short: "Take back what was remembered for next time", Args: exactly("WISH"), Example: "  stead bike forget-wish 1 --why \"he likes the silver one now\""}
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "wish", args[0])
		if err != nil {
			return err
		}
		_, err = correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (int64, error) {
			return id, pricing.ForgetWish(ctx, tx, id, hand)
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]int64{"wish": id}, func() { say(cmd, "wish %s is forgotten", strconv.FormatInt(id, 10)) })
	})
	return cmd
}
