package main

import (
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
)

// newJobOptions shows every option that could be worth having, not only the few of the quote.
func newJobOptions() *cobra.Command {
	cmd := &cobra.Command{Use: "options JOB", Short: "Show and draw every option of a job that no other one betters", Args: exactly("JOB"), Example: "  stead job options 102",
		Long: `Shows and draws every option of a job that no other one betters in what the
workshop pays with carriage, in day and in difference. TOTAL is what the
customer pays for it.`}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		stop := newMeter("looking for the ways to do it").upTo(pricing.Patience)
		v, err := desk.LoadOptions(cmd.Context(), w, id, now())
		stop()
		if err != nil {
			return err
		}
		return show(cmd, v, func() { printOptions(cmd, v) })
	})
	return cmd
}

// marks are how options are drawn.
var marks = map[desk.Differs]rune{desk.Nothing: 'o', desk.Finish: 'f', desk.Function: 'F'}

func printOptions(cmd *cobra.Command, v desk.Options) {
	if len(v.Options) == 0 {
		say(cmd, "nothing does the job as asked: `stead job quote %d` says why", v.JobID)
		return
	}
	var points []terminal.Point
	var rows [][]string
	for _, o := range v.Marked {
		points = append(points, terminal.Point{X: float64(o.ReadyOn), Y: o.Total.InexactFloat64(), Mark: marks[o.Differs]})
		rows = append(rows, []string{string(marks[o.Differs]), pricing.Amount(v.Currency, o.Total), o.Promise, string(o.Differs), o.Called()})
	}
	if len(v.Options) > 1 {
		cheapest, dearest := v.Span()
		first, last := v.Options[0].ReadyOn, v.Options[len(v.Options)-1].ReadyOn
		terminal.Plot(cmd.OutOrStdout(), points, terminal.Axis{Least: v.Day(first), Most: v.Day(last)},
			terminal.Axis{Least: pricing.Amount(v.Currency, cheapest.Total), Most: pricing.Amount(v.Currency, dearest.Total)})
		say(cmd, "\n%11s o nothing is different   f finish   F function\n", "")
	}
	terminal.Table(cmd.OutOrStdout(), []string{"", ">TOTAL", "READY", "DIFFERENT", "THE BEST AS"}, rows)
	sayEach(cmd, v.Delays)
	if !v.Proven {
		say(cmd, "the search was stopped: there may be better options than these")
	}
}
