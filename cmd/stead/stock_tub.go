package main

import (
	"context"
	"errors"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
)

func newStockOpen() *cobra.Command {
	cmd := &cobra.Command{Use: "open PART", Short: "Open a tub or bottle on the bench", Args: exactly("PART"),
		Long: `Takes a tub of grease, paste or oil, or a bottle of cleaner, brake fluid,
sealant or glue, off the shelf and opens it on the bench. The smears of jobs
whose parts are used are taken out of the tub of their purpose; brake fluid is
that of the brake. When a fifth is left and none stands sealed or is on its way,
the next is ordered with the rest.`,
		Example: "  stead stock open VEX-GR-400"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		p, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		t, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (inventory.Tub, error) {
			return inventory.OpenTub(ctx, tx, key, p.ID)
		})
		if err != nil {
			return err
		}
		return show(cmd, t, func() { say(cmd, "tub %d: %s, open on the bench", t.ID, p.Name) })
	})
	return cmd
}

func newStockTubs() *cobra.Command {
	var number int64
	var left, grams string
	cmd := &cobra.Command{Use: "tubs", Short: "List what is open on the bench, or say what is left of a tub", Args: exactly(),
		Example: "  stead stock tubs\n  stead stock tubs --tub 1 --left 0.5"}
	cmd.Flags().Int64Var(&number, "tub", 0, "this tub, by its number")
	cmd.Flags().StringVar(&left, "left", "", "what is left of it: 0.5 is half, 0 empty")
	cmd.Flags().StringVar(&grams, "grams", "", "what is left of it by the scales, without the tub")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		if number == 0 {
			tubs, err := desk.LoadTubs(cmd.Context(), w)
			if err != nil {
				return err
			}
			return show(cmd, tubs, func() { printTubs(cmd, tubs) })
		}
		share, err := amount(cmd, "--left", left)
		if err != nil {
			return err
		}
		weight, err := amount(cmd, "--grams", grams)
		if err != nil {
			return err
		}
		if share.Valid == weight.Valid {
			return usage(cmd, errors.New("say what is left of the tub, as a share with --left or by weight with --grams"))
		}
		t, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Tub, error) {
			if weight.Valid {
				return inventory.WeighTub(ctx, tx, number, weight.Decimal)
			}
			return inventory.SetTub(ctx, tx, number, share.Decimal)
		})
		if err != nil {
			return err
		}
		return show(cmd, t, func() { say(cmd, "tub %d: %s left", t.ID, desk.LeftWords(t.Left)) })
	})
	return cmd
}

func printTubs(cmd *cobra.Command, tubs []desk.Tub) {
	if len(tubs) == 0 {
		say(cmd, "nothing is open on the bench: `stead stock open PART`")
		return
	}
	var rows [][]string
	for _, t := range tubs {
		rows = append(rows, []string{strconv.FormatInt(t.ID, 10), t.Name, t.Purpose, desk.LeftWords(t.Left)})
	}
	terminal.Table(cmd.OutOrStdout(), []string{">TUB", "NAME", "FOR", ">LEFT"}, rows)
}
