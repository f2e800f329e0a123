package main

import (
	"context"
	"errors"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
)

// newJobLost asks why quotes came to nothing.
func newJobLost() *cobra.Command {
	var version int
	var because pricing.Because
	var note string
	cmd := &cobra.Command{Use: "lost [JOB]", Short: "List quotes that came to nothing, and say why", Args: cobra.MaximumNArgs(1),
		Long: `Lists the quotes that were declined, ran out or were changed and of which nobody
has said why; with JOB and --because it says so: price, date, part or no-answer.
What was lost because a part was late or could not be had counts as demand for
it, for as much of a sale as such quotes are approved when the part is there.`,
		Example: "  stead job lost\n  stead job lost 101 --because date --note \"needed it for the weekend\""}
	reasons := oneOf[pricing.Because]{&because, pricing.Reasons}
	cmd.Flags().Var(reasons, "because", "why: "+reasons.List())
	cmd.Flags().IntVar(&version, "version", 0, "of which version of the quote it is said; 0 is the newest")
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if (len(args) == 1) != (because != "") {
			return usage(cmd, errors.New("JOB and --because go together: which quote was lost, and why"))
		}
		if len(args) == 0 {
			lost, err := pricing.LostQuotes(cmd.Context(), w, true, now())
			if err != nil {
				return err
			}
			return show(cmd, lost, func() { sayLost(cmd, lost) })
		}
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (bool, error) {
			return true, pricing.SayLost(ctx, tx, id, version, because, note, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]any{"job": id, "because": because}, func() { say(cmd, "job %d: lost for %s", id, because) })
	})
	return cmd
}

func sayLost(cmd *cobra.Command, lost []pricing.Lost) {
	if len(lost) == 0 {
		say(cmd, "Of every quote that came to nothing it is known why.")
		return
	}
	var rows [][]string
	for _, l := range lost {
		rows = append(rows, []string{strconv.FormatInt(l.JobID, 10), strconv.Itoa(l.Version), l.MadeOn.String(), l.How, l.Customer, l.Bike})
	}
	terminal.Table(cmd.OutOrStdout(), []string{">JOB", ">QUOTE", "MADE", "HOW", "CUSTOMER", "BIKE"}, rows)
	for _, l := range lost {
		if l.Words != "" {
			say(cmd, "  of job %d they said: “%s”", l.JobID, l.Words)
		}
	}
	say(cmd, "Why? `stead job lost JOB --because price`, date, part or no-answer.")
}
