package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
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
		v, err := desk.LoadWhy(cmd.Context(), w, id, option, site.Place, now())
		if err != nil {
			return err
		}
		return show(cmd, v, func() { printWhy(cmd, v) })
	})
	return cmd
}

func printWhy(cmd *cobra.Command, v desk.Why) {
	say(cmd, "Option %s: %s, %s", v.Option.Name(), pricing.Amount(v.Currency, v.Option.Total), v.Option.Promise)
	say(cmd, "  %s: %s, %s", desk.SiteWords(v.Place), v.Chosen[0].Name, v.From)
	if len(v.Others) == 0 {
		say(cmd, "there is no other part and no other source for it")
		return
	}
	say(cmd, "\nWith another in its place and all else the same:\n")
	var rows [][]string
	for _, o := range v.Others {
		rows = append(rows, []string{o.Name, o.From, o.Pays, o.Days, strings.Join(o.But, "; ")})
	}
	terminal.Table(cmd.OutOrStdout(), []string{"PART", "FROM", ">PAYS", ">DAYS", "BUT"}, rows)
}
