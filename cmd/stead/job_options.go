package main

import (
	"strings"

	"github.com/spf13/cobra"

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
		s, err := pricing.LoadSituation(cmd.Context(), w, id, now())
		if err != nil {
			return err
		}
		front, err := s.Front(cmd.Context())
		if err != nil {
			return err
		}
		return show(cmd, front, func() { printFront(cmd, front, s.Shop.Currency) })
	})
	return cmd
}

// mark is how an option is drawn: by the gravest kind of difference that it brings.
func mark(o pricing.Option) (rune, string) {
	mark, words := 'o', "nothing"
	for _, d := range o.Deviations {
		if d.Kind == "function" {
			return 'F', "function"
		}
		mark, words = 'f', "finish"
	}
	return mark, words
}

func printFront(cmd *cobra.Command, f pricing.Front, currency string) {
	if len(f.Options) == 0 {
		say(cmd, "nothing does the job as asked: `stead job quote %d` says why", f.JobID)
		return
	}
	var points []terminal.Point
	var rows [][]string
	cheapest, dearest := f.Options[0], f.Options[0]
	for _, o := range f.Options {
		m, different := mark(o)
		points = append(points, terminal.Point{X: float64(o.ReadyOn), Y: o.Total.InexactFloat64(), Mark: m})
		if o.Total.LessThan(cheapest.Total) {
			cheapest = o
		}
		if o.Total.GreaterThan(dearest.Total) {
			dearest = o
		}
		rows = append(rows, []string{string(m), pricing.Amount(currency, o.Total), o.Promise, different, strings.Join(o.Names, " = ")})
	}
	if len(f.Options) > 1 {
		first, last := f.Options[0].ReadyOn, f.Options[len(f.Options)-1].ReadyOn
		terminal.Plot(cmd.OutOrStdout(), points, terminal.Axis{Least: first.Words(today()), Most: last.Words(today())},
			terminal.Axis{Least: pricing.Amount(currency, cheapest.Total), Most: pricing.Amount(currency, dearest.Total)})
		say(cmd, "\n%11s o nothing is different   f finish   F function\n", "")
	}
	terminal.Table(cmd.OutOrStdout(), []string{"", ">TOTAL", "READY", "DIFFERENT", "THE BEST AS"}, rows)
	if !f.Proven {
		say(cmd, "the search was stopped: there may be better options than these")
	}
}
