package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
)

// newToday shows what there is to do.
func newToday() *cobra.Command {
	cmd := &cobra.Command{Use: "today", Short: "What there is to do: bikes on the stand, parts here, what is late", Args: exactly(), Example: "  stead today"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		v, err := desk.LoadToday(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, v, func() { printToday(cmd, v) })
	})
	return cmd
}

func printToday(cmd *cobra.Command, v desk.Today) {
	if len(v.Stand) == 0 {
		say(cmd, "no bike is in the workshop")
	} else {
		var rows [][]string
		for _, j := range v.Stand {
			rows = append(rows, []string{strconv.FormatInt(j.ID, 10), j.Customer, j.Bike, j.DueWords(), j.Next.String()})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">JOB", "CUSTOMER", "BIKE", "DUE", "NEXT"}, rows)
	}
	for _, part := range []struct {
		heading string
		words   []string
	}{{"To go home today", v.PromisedWords()}, {"Parts are here", v.PartsInWords()}, {"Late", v.LateWords()},
		{"Should have come", v.OverdueWords()}, {"Wishes that can be met", v.WishWords()}} {
		if len(part.words) > 0 {
			say(cmd, "\n%s", part.heading)
			indented(cmd, part.words)
		}
	}
	for _, words := range v.Delays {
		say(cmd, "\n%s", words)
	}
}
