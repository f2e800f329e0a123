package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
	"stead/substitution"
)

// newJobWhy answers the customer who asks why it must be that part, from there.
func newJobWhy() *cobra.Command {
	var option string
	cmd := &cobra.Command{Use: "why JOB PLACE", ValidArgsFunction: complete(nil, placeNames), Short: "Compare an option's part with the nearest alternatives", Args: exactly("JOB", "PLACE"),
		Example: "  stead job why 102 rear.cassette --option cheapest"}
	cmd.Flags().StringVar(&option, "option", "cheapest", "soonest, cheapest, closest or balanced")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		site, err := substitution.SiteOf(substitution.Place(args[1]))
		if err != nil {
			return usage(cmd, err)
		}
		s, err := pricing.LoadSituation(cmd.Context(), w, id, now())
		if err != nil {
			return err
		}
		c, err := s.Why(cmd.Context(), option, site.Place)
		if err != nil {
			return err
		}
		return show(cmd, c, func() { printComparison(cmd, c, s.Shop.Currency) })
	})
	return cmd
}

func printComparison(cmd *cobra.Command, c pricing.Comparison, currency string) {
	say(cmd, "Option %s: %s, %s", c.Option.Name(), pricing.Amount(currency, c.Option.Total), c.Option.Promise)
	say(cmd, "  %s: %s, %s", siteWords(c.Place), c.Chosen[0].Name, strings.Join(sources(c.Chosen), ", "))
	if len(c.Alternatives) == 0 {
		say(cmd, "there is no other part and no other source for it")
		return
	}
	say(cmd, "\nWith another in its place and all else the same:\n")
	var rows [][]string
	for _, a := range c.Alternatives {
		total, days := "", ""
		if a.With != nil {
			total = signed(currency, a.More)
			days = fmt.Sprintf("%+d", a.Days)
			if a.Days == 0 {
				days = "same"
			}
		}
		from := source(a.Supplier)
		if a.Shelf > 0 {
			from = fmt.Sprintf("%d from the shelf, rest from %s", a.Shelf, a.Supplier)
		}
		rows = append(rows, []string{a.Name, from, total, days, strings.Join(comparisonWords(c, a, currency), "; ")})
	}
	terminal.Table(cmd.OutOrStdout(), []string{"PART", "FROM", ">PAYS", ">DAYS", "BUT"}, rows)
}

func source(supplier string) string {
	if supplier == "" {
		return "shelf"
	}
	return supplier
}

// comparisonWords say what speaks against an alternative, what it makes different, and at what price it would win.
func comparisonWords(c pricing.Comparison, a pricing.Alternative, currency string) []string {
	words := slices.Clone(a.Against)
	if a.With != nil {
		for _, d := range a.With.Deviations {
			if !slices.ContainsFunc(c.Option.Deviations, func(o pricing.Deviation) bool { return o.Words == d.Words }) {
				words = append(words, d.Words)
			}
		}
	}
	switch {
	case a.Cheaper == nil:
	case a.Cheaper.IsZero():
		words = append(words, "as good, all else chosen anew")
	default:
		words = append(words, fmt.Sprintf("wins if we pay %s less", pricing.Amount(currency, *a.Cheaper)))
	}
	return words
}
