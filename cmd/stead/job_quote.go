package main

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
)

func newJobQuote() *cobra.Command {
	var brief bool
	cmd := &cobra.Command{Use: "quote JOB", Short: "Make the options for a job and keep them as its next quote", Args: exactly("JOB"), Example: "  stead job quote 101\n  stead job quote 101 --brief",
		Long: `Makes the options for a job and keeps them as its next quote. Of all sets of
parts that fit, those are looked at that no other betters in what the workshop
pays with carriage, in day and in difference; "cheapest" is the one of them for
which the customer pays least. Where parts carry a retail price, another set
may be cheaper for the customer and dearer for the workshop: it is not offered.`}
	cmd.Flags().BoolVar(&brief, "brief", false, "each option in one line")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		stop := newMeter("looking for the ways to do it").upTo(pricing.Patience)
		q, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Quote, error) {
			return pricing.MakeQuote(ctx, tx, id, now())
		})
		stop()
		if err != nil {
			return err
		}
		return show(cmd, q, func() {
			v := desk.TellQuote(q, desk.At(now()))
			if brief {
				printBrief(cmd, v)
			} else {
				printQuote(cmd, v)
			}
			say(cmd, "\n%s", afterQuote(v))
		})
	})
	return cmd
}

// printBrief says a quote in a line an option; where nothing does the job it says the whole.
func printBrief(cmd *cobra.Command, v desk.Quote) {
	if len(v.Choices) == 0 {
		printQuote(cmd, v)
		return
	}
	var rows [][]string
	for _, c := range v.Choices {
		notes := desk.Several(len(c.Deviations), "difference")
		if c.Over != "" {
			notes += "; " + c.Over
		}
		rows = append(rows, []string{c.Called(), pricing.Amount(v.Currency, c.Total), c.Promise, notes})
	}
	say(cmd, "%s", v.Title())
	terminal.Table(cmd.OutOrStdout(), []string{"OPTION", ">PRICE", "HERE", "DIFFERENT"}, rows)
	sayEach(cmd, v.DelayWords())
}

func newJobApprove() *cobra.Command {
	var d pricing.Decision
	var wishFor []string
	var readyBy, allow string
	cmd := &cobra.Command{Use: "approve JOB", Short: "Record the customer's answer to a quote", Args: exactly("JOB"),
		Long: `Records the customer's answer to a quote. Its prices stand as long as it says;
its days are looked at again. Where parts ordered now would come after the day
that was quoted nothing is approved yet: it says by when they would be here, and
takes that day with --ready-by once the customer has agreed to it.`,
		Example: "  stead job approve 101 --version 1 --option soonest \\\n      --by \"Ines Falkner\" --accept all\n" +
			"  stead job approve 101 --version 1 --option soonest \\\n      --by \"Ines Falkner\" --accept all \\\n      --decline \"crank.outer-ring chainring.finish\""}
	cmd.Flags().IntVar(&d.Version, "version", 0, "version of the quote that they were shown")
	cmd.Flags().StringVar(&d.Option, "option", "", "the option, by name")
	cmd.Flags().StringVar(&d.By, "by", "", "who gave their word")
	cmd.Flags().StringArrayVar(&d.Accept, "accept", nil, "difference accepted, as \"PLACE RULE\", or all")
	cmd.Flags().StringArrayVar(&d.Decline, "decline", nil, "difference declined, as \"PLACE RULE\": plans again without it")
	cmd.Flags().StringArrayVar(&wishFor, "wish", nil, "difference accepted for now, to be put right next time, as \"PLACE RULE\"")
	cmd.Flags().StringVar(&allow, "allow", "", "how much they let you use beyond it without asking again, tax included")
	cmd.Flags().StringVar(&readyBy, "ready-by", "", "later day that they agreed to, where the quote's can no longer be kept")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var err error
		if d.JobID, err = jobNumber(cmd, args[0]); err != nil {
			return err
		}
		if d.ReadyBy, err = day(cmd, "--ready-by", readyBy); err != nil {
			return err
		}
		if d.Allow, err = amount(cmd, "--allow", allow); err != nil {
			return err
		}
		if d.Version == 0 || d.Option == "" || d.By == "" {
			return usage(cmd, fmt.Errorf("--version, --option and --by are needed: what was shown, what was chosen, and by whom"))
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (desk.Answered, error) {
			q, err := pricing.Approve(ctx, tx, d, wishFor, now())
			out := desk.Answered{Quote: desk.TellQuote(q, desk.At(now()))}
			if err != nil || q.State != pricing.Approved {
				return out, err
			}
			agreed, err := pricing.AgreedOn(ctx, tx, d.JobID)
			if err != nil {
				return out, err
			}
			out.Approval = &agreed.Words[len(agreed.Words)-1].Approval
			return out, nil
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			if out.Approval == nil {
				say(cmd, "not approved: planned again without what was declined\n")
				printQuote(cmd, out.Quote)
				say(cmd, "\n%s", afterQuote(out.Quote))
				return
			}
			say(cmd, "job %d approved by %s: option %s, %s", d.JobID, d.By, out.ApprovedOption(*out.Approval), out.ApprovedWords(*out.Approval))
			for _, words := range wishFor {
				say(cmd, "  remembered for next time: %s", words)
			}
		})
	})
	return cmd
}
