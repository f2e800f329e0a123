package main

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/pricing"
)

func newJobQuote() *cobra.Command {
	cmd := &cobra.Command{Use: "quote JOB", Short: "Make the options for a job and keep them as its next quote", Args: exactly("JOB"), Example: "  stead job quote 101"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		q, err := change(cmd, w, "job quote "+args[0], func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Quote, error) {
			return pricing.MakeQuote(ctx, tx, id, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, q, func() { printQuote(cmd, q) })
	})
	return cmd
}

func newJobApprove() *cobra.Command {
	var d pricing.Decision
	var wishFor []string
	cmd := &cobra.Command{Use: "approve JOB", Short: "Record the customer's answer to a quote", Args: exactly("JOB"),
		Example: "  stead job approve 101 --version 1 --option soonest \\\n      --by \"Ines Falkner\" --accept all\n" +
			"  stead job approve 101 --version 1 --option soonest \\\n      --by \"Ines Falkner\" --accept all \\\n      --decline \"crank.outer-ring chainring.finish\""}
	cmd.Flags().IntVar(&d.Version, "version", 0, "version of the quote that they were shown")
	cmd.Flags().StringVar(&d.Option, "option", "", "the option, by name")
	cmd.Flags().StringVar(&d.By, "by", "", "who gave their word")
	cmd.Flags().StringArrayVar(&d.Accept, "accept", nil, "difference accepted, as \"PLACE RULE\", or all")
	cmd.Flags().StringArrayVar(&d.Decline, "decline", nil, "difference declined, as \"PLACE RULE\": plans again without it")
	cmd.Flags().StringArrayVar(&wishFor, "wish", nil, "difference accepted for now, to be put right next time, as \"PLACE RULE\"")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var err error
		if d.JobID, err = jobNumber(cmd, args[0]); err != nil {
			return err
		}
		if d.Version == 0 || d.Option == "" || d.By == "" {
			return usage(cmd, fmt.Errorf("--version, --option and --by are needed: what was shown, what was chosen, and by whom"))
		}
		q, err := change(cmd, w, fmt.Sprintf("job approve %d version %d %s", d.JobID, d.Version, d.Option), func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Quote, error) {
			return pricing.Approve(ctx, tx, d, wishFor, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, q, func() {
			if q.Version != d.Version {
				say(cmd, "not approved: planned again without what was declined\n")
				printQuote(cmd, q)
				return
			}
			say(cmd, "job %d approved by %s: option %s, %s", d.JobID, d.By, d.Option, approvedTotal(q, d.Option))
			for _, words := range wishFor {
				say(cmd, "  remembered for next time: %s", words)
			}
		})
	})
	return cmd
}

func approvedTotal(q pricing.Quote, option string) string {
	for _, o := range q.Options {
		if o.Named(option) {
			return pricing.Amount(q.Currency, o.Total) + ", " + o.Promise
		}
	}
	return ""
}
