package main

import (
	"context"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/shelf"
)

// newReorder is the week's list for the shelf.
func newReorder() *cobra.Command {
	var flags shelfFlags
	var asked linesFlags
	cmd := &cobra.Command{Use: "reorder", Short: "What to order for the shelf this week, and what waiting risks", Args: exactly(),
		Long: `Lists what to order for the shelf now, a block a supplier, and in it first
what is risked most by waiting: how many, why, what it costs, the chance that a
job waits if it is ordered a week later, and what the order saves. Answer it
with ` + "`stead reorder take`" + `, less, snooze, never or at-least: what was said is
remembered with its note and shown the next time, and what was taken is ordered
by ` + "`stead order plan`" + `. Of a long list so many lines are shown,
what is risked most first, whoever sells it; the sums are of all.
` + asSet,
		Example: "  stead reorder\n  stead reorder --target 98\n  stead reorder --from 41 --most 20"}
	flags.add(cmd)
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
		list, err := desk.LoadReorder(cmd.Context(), w, policy, lines, now())
		if err != nil {
			return err
		}
		return show(cmd, list, func() { sayWeekList(cmd, list) })
	})
	cmd.AddCommand(newReorderTake(), newReorderLess(), newReorderSnooze(), newReorderNever(), newReorderAtLeast(), newReorderUseUp(), newReorderAsAdvised())
	return cmd
}

// weekList is the whole list, to be answered.
func weekList(cmd *cobra.Command, w *workshop, flags shelfFlags) (shelf.WeekList, error) {
	policy, err := flags.policy(cmd, w)
	if err != nil {
		return shelf.WeekList{}, err
	}
	return desk.LoadWeekList(cmd.Context(), w, policy, now())
}

// sayWeekList prints the list.
func sayWeekList(cmd *cobra.Command, list desk.Reorder) {
	for _, doubt := range list.Doubts {
		say(cmd, "Beware: %s.", doubt)
	}
	if list.Ground != "" {
		say(cmd, "%s.", list.Ground)
	}
	if list.Parts == 0 {
		say(cmd, "Nothing is to be ordered for the shelf.")
	}
	for _, b := range list.Blocks {
		say(cmd, "%s (%s)", b.Name, b.Supplier)
		var rows [][]string
		for _, l := range b.Lines {
			rows = append(rows, []string{strconv.FormatInt(l.PartID, 10), l.Name, strconv.Itoa(l.OnShelf), strconv.Itoa(l.SpokenFor), desk.ComingWords(l),
				desk.UseWords(l), strconv.Itoa(l.Order), l.Cost.StringFixed(2)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", ">SHELF", ">HELD", ">COMING", ">USE", ">ORDER", ">COST " + desk.Symbol(list.Currency)}, rows)
		for _, l := range b.Lines {
			words := list.LineWords(l)
			words[0] = l.Name + ": " + words[0]
			indented(cmd, words)
		}
		say(cmd, "  %s\n", list.BlockWords(b))
	}
	for _, a := range list.Aside {
		if a.Pending > 0 {
			say(cmd, "Not listed: %s, %d to be ordered by `stead order plan` (%s).", a.Name, a.Pending, a.Words)
		} else {
			say(cmd, "Not listed: %s (%s).", a.Name, a.Words)
		}
	}
	sayIf(cmd, list.AsideWords())
	if len(list.Blocks) > 0 {
		say(cmd, "%s\n", list.TableWords())
	}
	sayIf(cmd, list.SomeWords())
	if next := list.Next(); next > 0 {
		say(cmd, "The next begin with `--from %d`.", next)
	}
	say(cmd, "%s", list.TotalWords())
	sayIf(cmd, desk.FloorWords(list.Floors))
	sayIf(cmd, desk.QuarterWords(list.LastQuarter, list.Target, calendar.DayOf(now().In(zone()))))
}

// sayIf prints words, if there are any.
func sayIf(cmd *cobra.Command, words string) {
	if words != "" {
		say(cmd, "%s", words)
	}
}

// reorderAnswer is a command that says something to parts of the list.
func reorderAnswer(cmd *cobra.Command, note *string, words func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error)) *cobra.Command {
	cmd.Flags().StringVar(note, "note", "", "why, to be shown the next time")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		said, err := words(cmd, w, args)
		if err != nil {
			return err
		}
		said, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]shelf.Word, error) {
			for i := range said {
				said[i].Note, said[i].At = *note, now()
			}
			return said, shelf.Say(ctx, tx, said...)
		})
		if err != nil {
			return err
		}
		var ids []int64
		for _, word := range said {
			ids = append(ids, word.PartID)
		}
		parts, err := inventory.Parts(cmd.Context(), w, ids)
		if err != nil {
			return err
		}
		return show(cmd, said, func() {
			if len(said) > desk.ScreenLines {
				say(cmd, "%s taken; `stead order plan` orders them", desk.Several(len(said), "part"))
				return
			}
			for _, word := range said {
				say(cmd, "%s: %s", parts[word.PartID].Name, desk.ShelfAnswerWords(word, "`stead order plan`"))
			}
		})
	})
	return cmd
}
