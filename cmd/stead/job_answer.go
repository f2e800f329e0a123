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

func newJobAnswer() *cobra.Command {
	var alike bool
	origin := substitution.Measured
	cmd := &cobra.Command{Use: "answer JOB [PART|PLACE DIMENSION=VALUE …]", Short: "Answer what a quote asks, and let it go on", Args: atLeast("JOB"),
		Long: `Answers a dimension that a quote asks for: of a part of the catalogue, from then
on and whatever later lists say, or of what sits at a place of the bike. The
quote is made anew with it. Alone it lists what the quote asks, each question
once: where several parts are asked it, PART stands for the number of each. With
--alike the answer is for every part that says the same: of one brand and kind,
which differs in finish, or where the answer is a word in size.`,
		Example: "  stead job answer 101\n  stead job answer 101 R110-50 chain_width=11/128\n  stead job answer 101 R110-50 bolt_pattern=even --alike --why \"on the bench\"\n  stead job answer 101 crank bolt_pattern=even"}
	cmd.Flags().BoolVar(&alike, "alike", false, "for all parts that say the same and lack it too")
	addOrigin(cmd, &origin)
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if len(args) == 1 {
			return showAsks(cmd, w, id)
		}
		if len(args) == 2 {
			return usage(cmd, fmt.Errorf("DIMENSION=VALUE is missing: what is known of %s now", args[1]))
		}
		var answer func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (pricing.Answered, error)
		if site, err := substitution.SiteOf(substitution.Place(args[1])); err == nil {
			facts, err := dimensions(cmd, site.Family, args[2:], origin)
			if err != nil {
				return err
			}
			answer = func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (pricing.Answered, error) {
				return pricing.AnswerAsks(ctx, tx, id, []pricing.Answer{{Place: site.Place, Facts: facts}}, hand, now())
			}
		} else {
			part, err := inventory.PartNamed(cmd.Context(), w, args[1])
			if err != nil {
				return err
			}
			facts, err := dimensions(cmd, part.Family, args[2:], origin)
			if err != nil {
				return err
			}
			answer = func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (pricing.Answered, error) {
				return pricing.AnswerAsks(ctx, tx, id, []pricing.Answer{{PartID: part.ID, Facts: facts, Alike: alike}}, hand, now())
			}
		}
		out, err := correct(cmd, w, by, answer)
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			for i, name := range out.Names {
				say(cmd, "known of part %d: %s", out.Parts[i], name)
			}
			if len(out.Names) > 0 {
				say(cmd, "")
			}
			v := desk.TellQuote(out.Quote, desk.At(now()))
			printQuote(cmd, v)
			say(cmd, "\n%s", afterQuote(v))
		})
	})
	return cmd
}

// showAsks lists what the newest quote of a job asks.
func showAsks(cmd *cobra.Command, w *workshop, id int64) error {
	if _, err := pricing.JobByID(cmd.Context(), w, id); err != nil {
		return err
	}
	q, found, err := pricing.LastQuote(cmd.Context(), w, id)
	if err != nil {
		return err
	}
	if !found {
		return fmt.Errorf("job %d has no quote yet: make it with `stead job quote %d`", id, id)
	}
	asks := []pricing.Ask{}
	for _, u := range q.Unsure {
		asks = append(asks, u.Asks...)
	}
	return show(cmd, asks, func() {
		if len(asks) == 0 {
			say(cmd, "quote %d of job %d asks nothing", q.Version, id)
		}
		for _, b := range questionsOf(q.Unsure) {
			printInquiry(cmd, id, b)
		}
	})
}
