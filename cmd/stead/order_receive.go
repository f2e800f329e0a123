package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
)

func newOrderReceive() *cobra.Command {
	var bins []string
	var reference string
	var all, over bool
	cmd := &cobra.Command{Use: "receive ORDER [LINE=PIECES[:OUTCOME] …]", Short: "Book a delivery in: whole, part, over, wrong or damaged",
		Example: "  stead order receive 501 --all --bin A1\n  stead order receive 501 1=1:damaged --bin A1 --reference DN-778\n  stead order receive 501 --all --bin 1=A1",
		Args:    atLeast("ORDER")}
	cmd.Flags().StringArrayVar(&bins, "bin", nil, "the bin for what is good, or for one line of it, LINE=`BIN` (default where each part belongs); may be repeated")
	cmd.Flags().StringVar(&reference, "reference", "", "number of the delivery note")
	cmd.Flags().BoolVar(&all, "all", false, "everything came as ordered")
	cmd.Flags().BoolVar(&over, "over", false, "keep what came beyond the order")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := orderNumber(cmd, args[0])
		if err != nil {
			return err
		}
		arrivals, err := arrivalsFrom(cmd, args[1:])
		if err != nil {
			return err
		}
		if !all && len(arrivals) == 0 {
			return usage(cmd, fmt.Errorf("say what came: LINE=PIECES, or --all for everything as ordered; `stead order show %d` shows the lines", id))
		}
		into, err := intoFrom(cmd, bins)
		if err != nil {
			return err
		}
		receipt, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (inventory.Receipt, error) {
			if all {
				return inventory.ReceiveAll(ctx, tx, key, id, reference, into, now(), arrivals, over)
			}
			return inventory.ReceiveOrder(ctx, tx, key, id, reference, into, now(), arrivals, over)
		})
		if err != nil {
			return err
		}
		out, err := desk.LoadReceipt(cmd.Context(), w, receipt)
		if err != nil {
			return err
		}
		return show(cmd, out, func() { printReceipt(cmd, out) })
	})
	return cmd
}

// intoFrom reads where it goes: a bin for all of it, LINE=BIN for a line.
func intoFrom(cmd *cobra.Command, bins []string) (into inventory.Into, err error) {
	into.Lines = map[int64]string{}
	for _, b := range bins {
		line, name, ofLine := strings.Cut(b, "=")
		id, err := strconv.ParseInt(line, 10, 64)
		switch {
		case ofLine && (err != nil || name == ""):
			return into, usage(cmd, fmt.Errorf("--bin %q: write BIN, or LINE=BIN for one line of the order", b))
		case ofLine:
			into.Lines[id] = name
		case into.Bin != "" && into.Bin != b:
			return into, usage(cmd, fmt.Errorf("--bin names two bins for all of it, %s and %s: write LINE=BIN for one line of the order", into.Bin, b))
		default:
			into.Bin = b
		}
	}
	return into, nil
}

// arrivalsFrom reads what came: LINE=PIECES, with an outcome when it is not good.
func arrivalsFrom(cmd *cobra.Command, args []string) ([]inventory.Arrival, error) {
	var arrivals []inventory.Arrival
	for _, a := range args {
		line, rest, ok := strings.Cut(a, "=")
		count, outcome, named := strings.Cut(rest, ":")
		if !named {
			outcome = string(inventory.Good)
		}
		id, err := strconv.ParseInt(line, 10, 64)
		if !ok || err != nil {
			return nil, usage(cmd, fmt.Errorf("%q says not what came: write LINE=PIECES or LINE=PIECES:damaged", a))
		}
		n, err := pieces(cmd, count)
		if err != nil {
			return nil, err
		}
		if n == 0 {
			return nil, usage(cmd, fmt.Errorf("%q: of what did not come nothing is said, leave line %d out; it is still awaited", a, id))
		}
		outcomes := []inventory.Outcome{inventory.Good, inventory.Over, inventory.Wrong, inventory.Damaged}
		if !slices.Contains(outcomes, inventory.Outcome(outcome)) {
			return nil, usage(cmd, fmt.Errorf("%q: pieces come good, over, wrong or damaged, not %q", a, outcome))
		}
		arrivals = append(arrivals, inventory.Arrival{LineID: id, Outcome: inventory.Outcome(outcome), Pieces: n})
	}
	return arrivals, nil
}

func printReceipt(cmd *cobra.Command, r desk.Receipt) {
	first, more := desk.ReceiptWords(r.Receipt)
	say(cmd, "%s", first)
	indented(cmd, more)
	for _, a := range r.Arrived {
		if a.Outcome == inventory.Wrong || a.Outcome == inventory.Damaged {
			say(cmd, "  %d %s: send it back with `stead return send %d %d %d --why %s`", a.Pieces, a.Outcome, r.OrderID, a.LineID, a.Pieces, a.Outcome)
		}
	}
	for _, m := range r.Measure {
		say(cmd, "  %s", desk.MeasureWords(m))
		var rows [][]string
		for _, d := range m.Dimensions {
			rows = append(rows, []string{d.Means, d.Value, d.Measure})
		}
		terminal.Table(cmd.OutOrStdout(), []string{"DIMENSION", "SHOULD BE", "HOW"}, rows)
	}
	for _, g := range r.Wishes {
		say(cmd, "  %s", "a wish can be met: "+desk.WhoseWish(g))
	}
}
