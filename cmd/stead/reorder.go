package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
)

// newReorder is the week's list for the shelf.
func newReorder() *cobra.Command {
	var shelf shelfFlags
	var take []string
	var all bool
	cmd := &cobra.Command{Use: "reorder", Short: "What to order for the shelf this week, and what waiting risks", Args: exactly(),
		Long: `Lists what to order for the shelf now, a block a supplier, and in it first
what is risked most by waiting: how many, why, what it costs, and the chance
that a job waits if it is ordered a week later. --take keeps a part as advised
from now on, so that ` + "`stead order plan`" + ` orders it; --take-all keeps all of
them so.`,
		Example: "  stead reorder\n  stead reorder --target 98"}
	shelf.add(cmd)
	cmd.Flags().StringArrayVar(&take, "take", nil, "keep this part of the list as advised; may be given again")
	cmd.Flags().BoolVar(&all, "take-all", false, "keep all parts of the list as advised")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		policy, err := shelf.policy(cmd)
		if err != nil {
			return err
		}
		ctx := cmd.Context()
		s, err := inventory.LoadShelf(ctx, w, policy, nil, now())
		if err != nil {
			return err
		}
		deliveries, err := inventory.LoadDeliveries(ctx, w, now())
		if err != nil {
			return err
		}
		list, err := s.WeekList(deliveries)
		if err != nil {
			return err
		}
		if all || len(take) > 0 {
			if err := takeAdvised(cmd, w, s, list, take, all); err != nil {
				return err
			}
		}
		return show(cmd, list, func() { sayWeekList(cmd, list) })
	})
	return cmd
}

// takeAdvised keeps parts of the list as advised.
func takeAdvised(cmd *cobra.Command, w *workshop, s *inventory.ShelfAdvice, list inventory.WeekList, take []string, all bool) error {
	listed := map[int64]bool{}
	for _, b := range list.Blocks {
		for _, l := range b.Lines {
			listed[l.PartID] = all
		}
	}
	for _, name := range take {
		p, err := inventory.PartNamed(cmd.Context(), w, name)
		if err != nil {
			return err
		}
		if _, there := listed[p.ID]; !there {
			return fmt.Errorf("%s is not on the list: `stead stock keep %d` says what is advised of it", p.Name, p.ID)
		}
		listed[p.ID] = true
	}
	_, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int, error) {
		taken := 0
		for _, k := range s.Parts { // in the order of the shelf, which is always the same
			if !listed[k.PartID] {
				continue
			}
			if err := inventory.SetReorder(ctx, tx, k.PartID, k.AdvisedLevel, k.AdvisedTo); err != nil {
				return 0, err
			}
			taken++
		}
		return taken, nil
	})
	return err
}

// sayWeekList prints the list.
func sayWeekList(cmd *cobra.Command, list inventory.WeekList) {
	if list.Ground != "" {
		say(cmd, "%s.", list.Ground)
	}
	if len(list.Blocks) == 0 {
		say(cmd, "Nothing is to be ordered for the shelf.")
	}
	for _, b := range list.Blocks {
		say(cmd, "%s (%s)", b.Name, b.Supplier)
		var rows [][]string
		for _, l := range b.Lines {
			rows = append(rows, []string{strconv.FormatInt(l.PartID, 10), l.Name, strconv.Itoa(l.OnShelf), strconv.Itoa(l.SpokenFor), strconv.Itoa(l.Coming),
				fmt.Sprintf("%.1f (%d to %d)", l.Use, l.UseLeast, l.UseMost), strconv.Itoa(l.Order), l.Cost.StringFixed(2)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", ">SHELF", ">HELD", ">COMING", ">USE", ">ORDER", ">COST £"}, rows)
		for _, l := range b.Lines {
			say(cmd, "  %s: %s Waiting a week: %s.", l.Name, l.Why, l.RiskWords)
			if l.Ground != "" && list.Ground == "" {
				say(cmd, "  %s.", l.Ground)
			}
		}
		foot := fmt.Sprintf("  goods £%s, carriage £%s", b.Goods.StringFixed(2), b.Carriage.StringFixed(2))
		if b.FreeFrom != nil {
			foot += fmt.Sprintf("; £%s more and it comes carriage paid", b.FreeFrom.StringFixed(2))
		}
		say(cmd, "%s\n", foot)
	}
	say(cmd, "Money now: £%s. On the shelf: £%s as set, £%s as advised. Sales met: %.0f in 100 as set, %.0f as advised.",
		list.Money.StringFixed(2), list.AsSet.Stock.StringFixed(2), list.Advised.Stock.StringFixed(2), 100*list.AsSet.Meets, 100*list.Advised.Meets)
}
