package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
)

// newStockExcess lists what will not sell.
func newStockExcess() *cobra.Command {
	var flags shelfFlags
	var months int
	var returned, reduced float64
	var asked linesFlags
	cmd := &cobra.Command{Use: "excess", Short: "What is on the shelf and will not sell, and what to do with it", Args: exactly(),
		Long: `Lists parts of which more lies on the shelf than will sell in its stock life:
what they tie up and since when, on which bikes in the books they would fit as
things stand, for which parts that sell they stand in, and whether to keep,
return or reduce them. A piece is kept while its price, at the time at which it
will sell, is worth more today than what it brings now. What ties up most comes
first; the sum at the foot is of all of them, those that are not shown too.
` + "`stead reorder use-up`" + ` lets quotes prefer one of them where it fits.
` + asSet,
		Example: "  stead stock excess\n  stead stock excess --returned 80 --months 12\n  stead stock excess --from 41 --most 20"}
	flags.add(cmd)
	cmd.Flags().IntVar(&months, "months", 0, "what should sell within so many months is not in excess")
	cmd.Flags().Float64Var(&returned, "returned", 0, "what suppliers give back, in 100 of the price; 0 where none takes any back")
	cmd.Flags().Float64Var(&reduced, "reduced", 0, "what a piece brings that is sold off, in 100 of its price")
	asked.add(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		lines, err := asked.lines(cmd)
		if err != nil {
			return err
		}
		policy, err := flags.policy(cmd, w)
		if err != nil {
			return err
		}
		if cmd.Flags().Changed("months") {
			policy.Excess.Months = months
		}
		if cmd.Flags().Changed("returned") {
			policy.Excess.Returned = returned / 100
		}
		if cmd.Flags().Changed("reduced") {
			policy.Excess.Reduced = reduced / 100
		}
		if err := policy.Excess.Check(); err != nil {
			return usage(cmd, err)
		}
		excess, err := desk.LoadExcess(cmd.Context(), w, policy, lines, now())
		if err != nil {
			return err
		}
		return show(cmd, excess, func() { sayExcess(cmd, excess) })
	})
	return cmd
}

func sayExcess(cmd *cobra.Command, excess desk.Excess) {
	for _, doubt := range excess.Doubts {
		say(cmd, "Beware: %s.", doubt)
	}
	if excess.Parts == 0 {
		say(cmd, "Nothing is on the shelf that will not sell in time.")
		return
	}
	if len(excess.Lines) > 0 {
		sayExcessLines(cmd, excess)
	}
	say(cmd, "\n%s", excess.TotalWords())
	if words := excess.SomeWords(); words != "" {
		say(cmd, "%s", words)
	}
	if next := excess.Next(); next > 0 {
		say(cmd, "The next begin with `--from %d`.", next)
	}
}

func sayExcessLines(cmd *cobra.Command, excess desk.Excess) {
	var rows [][]string
	for _, e := range excess.Lines {
		rows = append(rows, []string{strconv.FormatInt(e.PartID, 10), e.Name, strconv.Itoa(e.Free), strconv.Itoa(e.Excess.Excess), priceWords(e.TiedUp),
			e.Since.Time().Format("Jan 2006"), e.SoldWords()})
	}
	terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", ">FREE", ">EXCESS", ">TIED UP " + desk.Symbol(excess.Currency), ">SINCE", ">LAST SOLD"}, rows)
	for _, e := range excess.Lines {
		say(cmd, "%s: %s", e.Name, excess.Words(e))
		indented(cmd, e.UseWords())
		if e.Said != "" {
			indented(cmd, []string{e.SaidWords()})
		}
	}
}
