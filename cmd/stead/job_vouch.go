package main

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

func newJobVouch() *cobra.Command {
	var caution, takeBack bool
	cmd := &cobra.Command{Use: "vouch JOB PLACE [PART RULE]", ValidArgsFunction: complete(nil, placeNames), Short: "Answer for a part that a rule is not sure of, for this job", Args: atLeast("JOB", "PLACE"),
		Long: `Answers for what a rule finds against a part, for this job alone: that it cannot
tell, or that the part works differently. Name and reason are printed on quote
and job. A broken rule of fit or safety wants --caution-read besides, after the
caution that is shown without it. It never becomes a fact about the part. What
the rules find is shown by stead fit place JOB PLACE --part PART.`,
		Example: "  stead job vouch 104 crank.ring COR-R130-46S-G chainring.teeth \\\n      --by \"Otis Wren\" --why \"he asked for a higher gear\"\n  stead job vouch 104 crank.ring --take-back"}
	cmd.Flags().BoolVar(&caution, "caution-read", false, "the caution was read")
	cmd.Flags().BoolVar(&takeBack, "take-back", false, "nobody answers for anything at the place any more")
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		site, err := substitution.SiteOf(substitution.Place(args[1]))
		if err != nil {
			return usage(cmd, err)
		}
		if takeBack {
			_, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (string, error) {
				return args[1], pricing.TakeBackVouched(ctx, tx, id, site.Place, hand)
			})
			if err != nil {
				return err
			}
			return show(cmd, map[string]any{"job": id, "place": site.Place}, func() { say(cmd, "the rules are asked at the %s as before", site.Words) })
		}
		if len(args) != 4 || !cmd.Flags().Changed("by") || !cmd.Flags().Changed("why") {
			return usage(cmd, fmt.Errorf("PART, RULE, --by and --why are needed: whoever answers for a part gives their name and the reason"))
		}
		part, err := inventory.PartNamed(cmd.Context(), w, args[2])
		if err != nil {
			return err
		}
		v, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (pricing.Vouched, error) {
			return pricing.Vouch(ctx, tx, id, site.Place, part.ID, args[3], caution, hand)
		})
		if err != nil {
			return err
		}
		return show(cmd, v, func() {
			say(cmd, "%s", desk.VouchedWords(v))
			say(cmd, "\nquote again with `stead job quote %d`", id)
		})
	})
	return cmd
}
