package main

import (
	"context"
	"os/user"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/inventory"
	"stead/inventory/people"
)

// handFlags are the flags of a correction: who makes it, why, and what was seen of the thing before.
type handFlags struct {
	by, why *string
	seen    *int
}

func addHand(cmd *cobra.Command) handFlags {
	return handFlags{
		by:   cmd.Flags().String("by", "", "who corrects it (default who is logged in here)"),
		why:  cmd.Flags().String("why", "", "why, kept with the correction"),
		seen: cmd.Flags().Int("seen", 0, "how many corrections of it you saw: refused where there are more by now"),
	}
}

// hand is whoever makes the correction: one of the people who work here, where any are known.
func (f handFlags) hand(cmd *cobra.Command, db inventory.DB) (inventory.Hand, error) {
	login := ""
	if u, err := user.Current(); err == nil {
		login = u.Username
	}
	who, err := people.Acting(cmd.Context(), db, *f.by, login)
	if err != nil {
		return inventory.Hand{}, err
	}
	hand := inventory.Hand{By: who, Why: *f.why, At: now()}
	if cmd.Flags().Changed("seen") {
		hand.Seen = f.seen
	}
	return hand, nil
}

// correct does a change that somebody answers for; it stands under their name in the history too.
func correct[T any](cmd *cobra.Command, w *workshop, by handFlags, do func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (T, error)) (T, error) {
	hand, err := by.hand(cmd, w)
	if err != nil {
		var none T
		return none, err
	}
	cmd.SetContext(inventory.By(cmd.Context(), hand.By, ""))
	return change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (T, error) { return do(ctx, tx, hand) })
}
