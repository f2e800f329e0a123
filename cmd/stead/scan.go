package main

import (
	"context"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/barcode"
)

func newScan() *cobra.Command {
	var give string
	var take bool
	cmd := &cobra.Command{Use: "scan CODE …", Short: "Find the part, bin, bike or job that bears a bar code", Args: atLeast("CODE"),
		Example: "  stead scan 2000000000374\n  stead scan bin A1\n  stead scan \"drawer 7/B\" --give 71",
		Long: `Finds what bears a code as a scanner reads it: a GTIN of 8, 12, 13 or 14 digits,
also within a GS1 symbol or link; a maker's or a supplier's code; a label of
the workshop's own, such as "part 71" or "bin D2". A code that no part bears yet
is given to one with --give, and taken away again with --take.`}
	cmd.Flags().StringVar(&give, "give", "", "give the code to this part, named by number or code")
	cmd.Flags().BoolVar(&take, "take", false, "take a code away that was given")
	by := addHand(cmd)
	cmd.MarkFlagsMutuallyExclusive("give", "take")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		code := strings.Join(args, " ")
		switch {
		case give != "":
			return giveCode(cmd, w, code, give, by)
		case take:
			of, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (int64, error) {
				return inventory.TakeCode(ctx, tx, code, hand)
			})
			if err != nil {
				return err
			}
			return show(cmd, map[string]any{"code": code, "part": of}, func() { say(cmd, "the code %s is of part %d no more", code, of) })
		}
		s, err := desk.LoadScanned(cmd.Context(), w, code)
		if err != nil {
			return usage(cmd, err)
		}
		if len(s.Found) == 0 {
			return &desk.UnknownCodeError{Scanned: s}
		}
		return show(cmd, s, func() {
			for _, t := range s.Found {
				line := t.Label()
				if t.Kind != barcode.OnBin {
					line += ": " + t.Name
				}
				say(cmd, "%s", line+"; "+t.Words)
			}
			if s.Note != "" {
				say(cmd, "  %s", s.Note)
			}
		})
	})
	return cmd
}

// giveCode gives a code to a part.
func giveCode(cmd *cobra.Command, w *workshop, code, to string, by handFlags) error {
	part, err := inventory.PartNamed(cmd.Context(), w, to)
	if err != nil {
		return err
	}
	part, err = correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (inventory.Part, error) {
		return inventory.GiveCode(ctx, tx, code, part.ID, hand)
	})
	if err != nil {
		return err
	}
	return show(cmd, map[string]any{"code": code, "part": part.ID}, func() { say(cmd, "the code %s is of part %d, %s", code, part.ID, part.Name) })
}
