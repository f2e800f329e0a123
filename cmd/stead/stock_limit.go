package main

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/shelf"
	"stead/substitution"
)

// newStockLimit says how many of a part its place holds, and how long it keeps.
func newStockLimit() *cobra.Command {
	var holds, months int
	var family string
	cmd := &cobra.Command{Use: "limit [PART]", Short: "Say how many of a part its place holds, and how long it keeps", Args: cobra.MaximumNArgs(1),
		Long: `Says how many of a part its place holds, and for how many months it keeps:
until it perishes, or nobody rides any more what it is for. No more is then
advised to be kept than fit there and sell in that time. --family says how long
all parts of a kind keep that have no life of their own. 0 takes a limit back.`,
		Example: "  stead stock limit TAR-CH9 --holds 12\n  stead stock limit VEX-GR-400 --months 24\n  stead stock limit --family lubricant --months 36"}
	cmd.Flags().IntVar(&holds, "holds", 0, "pieces that its place holds")
	cmd.Flags().IntVar(&months, "months", 0, "months that it keeps")
	cmd.Flags().StringVar(&family, "family", "", "all parts of a family, such as lubricant")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		givenHolds, givenMonths := cmd.Flags().Changed("holds"), cmd.Flags().Changed("months")
		switch {
		case (len(args) == 0) == (family == ""):
			return usage(cmd, errors.New("name a PART, or give --family"))
		case !givenHolds && !givenMonths:
			return usage(cmd, errors.New("nothing is given to change"))
		case family != "" && givenHolds:
			return usage(cmd, errors.New("--holds is of one part's place, not of a family"))
		case family != "":
			_, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int, error) {
				return months, shelf.SetFamilyLife(ctx, tx, substitution.Family(family), months)
			})
			if err != nil {
				return err
			}
			return show(cmd, map[string]any{"family": family, "months": months}, func() { say(cmd, "%s", desk.FamilyLifeWords(family, months)) })
		}
		p, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		limit, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (shelf.Limit, error) {
			all, err := shelf.LoadLimits(ctx, tx)
			if err != nil {
				return shelf.Limit{}, err
			}
			limit := all.Parts[p.ID]
			if givenHolds {
				limit.Holds = holds
			}
			if givenMonths {
				limit.Months = months
			}
			return limit, shelf.SetLimit(ctx, tx, p.ID, limit)
		})
		if err != nil {
			return err
		}
		return show(cmd, limit, func() { say(cmd, "%s: %s", p.Name, desk.LimitWords(limit)) })
	})
	return cmd
}
