package main

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/pricing"
)

func newJobQuote() *cobra.Command {
	cmd := &cobra.Command{Use: "quote JOB", Short: "Make the options for a job and keep them as its next quote", Args: exactly("JOB"), Example: "  stead job quote 101",
		Long: `Makes the options for a job and keeps them as its next quote. Of all sets of
parts that fit, those are looked at that no other betters in what the workshop
pays with carriage, in day and in difference; "cheapest" is the one of them for
which the customer pays least. Where parts carry a retail price, another set
may be cheaper for the customer and dearer for the workshop: it is not offered.`}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		q, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Quote, error) {
			return pricing.MakeQuote(ctx, tx, id, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, q, func() {
			printQuote(cmd, q)
			say(cmd, "\n%s", afterQuote(q))
		})
	})
	return cmd
}

// answer is what an answer to a quote comes to: the approval, or the new quote without what was declined.
type answer struct {
	pricing.Quote
	Approval *pricing.Approval `json:"approval,omitempty"`
}

func newJobApprove() *cobra.Command {
	var d pricing.Decision
	var wishFor []string
	var readyBy string
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
	cmd.Flags().StringVar(&readyBy, "ready-by", "", "later day that they agreed to, where the quote's can no longer be kept")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var err error
		if d.JobID, err = jobNumber(cmd, args[0]); err != nil {
			return err
		}
		if d.ReadyBy, err = day(cmd, "--ready-by", readyBy); err != nil {
			return err
		}
		if d.Version == 0 || d.Option == "" || d.By == "" {
			return usage(cmd, fmt.Errorf("--version, --option and --by are needed: what was shown, what was chosen, and by whom"))
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (answer, error) {
			q, err := pricing.Approve(ctx, tx, d, wishFor, now())
			if err != nil || q.State != pricing.Approved {
				return answer{Quote: q}, err
			}
			_, a, err := pricing.ApprovedQuote(ctx, tx, d.JobID)
			return answer{q, &a}, err
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
			say(cmd, "job %d approved by %s: option %s, %s", d.JobID, d.By, d.Option, approvedWords(out.Quote, *out.Approval))
			for _, words := range wishFor {
				say(cmd, "  remembered for next time: %s", words)
			}
		})
	})
	return cmd
}

// approvedWords are the price and the day that were approved.
func approvedWords(q pricing.Quote, a pricing.Approval) string {
	words := pricing.Amount(q.Currency, a.Total)
	for _, o := range q.Options {
		switch {
		case !o.Named(a.Option):
		case o.ReadyOn == a.ReadyOn:
			words += ", " + o.Promise
		default:
			words += fmt.Sprintf(", all here by %s, as agreed", a.ReadyOn.Words(today()))
		}
	}
	return words
}
