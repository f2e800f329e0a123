package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
)

func orderNumber(cmd *cobra.Command, text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0, usage(cmd, fmt.Errorf("an order is named by its number, not %q", text))
	}
	return id, nil
}

func orderNumbers(cmd *cobra.Command, texts []string) ([]int64, error) {
	var ids []int64
	for _, text := range texts {
		id, err := orderNumber(cmd, text)
		if err != nil {
			return nil, err
		}
		ids = append(ids, id)
	}
	return ids, nil
}

func newOrderList() *cobra.Command {
	var all bool
	cmd := &cobra.Command{Use: "list", Short: "List the orders that are on their way, or all", Args: exactly(), Example: "  stead order list --all"}
	cmd.Flags().BoolVar(&all, "all", false, "closed ones too")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error { return listOrders(cmd, w, !all) })
	return cmd
}

func listOrders(cmd *cobra.Command, w *workshop, open bool) error {
	list, err := desk.LoadOrders(cmd.Context(), w, open, now())
	if err != nil {
		return err
	}
	return show(cmd, list.Orders, func() {
		var rows [][]string
		for _, o := range list.Orders {
			rows = append(rows, []string{strconv.FormatInt(o.ID, 10), list.Suppliers[o.SupplierID].Name, o.State.Words(), list.Date(o.PlacedAt),
				desk.DueOf(o, list.Said).Words(), list.Total(o)})
		}
		if len(rows) == 0 && open {
			say(cmd, "nothing is on its way; `stead order list --all` shows closed orders too")
			return
		}
		if len(rows) == 0 {
			say(cmd, "nothing was ordered yet: `stead order plan` says what to order")
			return
		}
		terminal.Table(cmd.OutOrStdout(), []string{">ORDER", "SUPPLIER", "STATE", "PLACED", "EXPECTED", ">TOTAL"}, rows)
	})
}

func newOrderShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show ORDER", Short: "Show an order line by line", Args: exactly("ORDER"), Example: "  stead order show 501"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := orderNumber(cmd, args[0])
		if err != nil {
			return err
		}
		return showOrder(cmd, w, id)
	})
	return cmd
}

func showOrder(cmd *cobra.Command, w *workshop, id int64) error {
	order, err := desk.LoadOrder(cmd.Context(), w, id, now())
	if err != nil {
		return err
	}
	return show(cmd, order, func() {
		say(cmd, "order %d to %s, %s", order.ID, order.Supplier.Name, order.State.Words())
		var rows [][]string
		for _, l := range order.Rows {
			rows = append(rows, []string{strconv.FormatInt(l.ID, 10), l.Part, l.PacksWords, pricing.Amount(order.Supplier.Currency, l.Cost()), strconv.Itoa(l.Awaited()), l.Expected})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">LINE", "PART", ">PACKS", ">COST", ">TO COME", "EXPECTED"}, rows)
		say(cmd, "carriage %s", pricing.Amount(order.Supplier.Currency, order.Carriage))
		indented(cmd, order.Added())
		for _, l := range order.Rows {
			for _, said := range l.Differences {
				say(cmd, "  line %d: %s", l.ID, said)
			}
		}
		if told := order.ToldWords(); told != "" {
			say(cmd, "%s", told)
		}
		sayPost(cmd, order.Clock, order.Post)
	})
}

func newOrderTold() *cobra.Command {
	var by string
	cmd := &cobra.Command{Use: "told ORDER", Short: "Record that the supplier was told of an order in another way",
		Example: "  stead order told 501 --by telephone", Args: exactly("ORDER")}
	cmd.Flags().StringVar(&by, "by", "", "`how`: telephone, \"their site\" or \"in person\"")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := orderNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if !slices.Contains(inventory.Ways(), inventory.Way(by)) {
			return usage(cmd, fmt.Errorf("say how they were told: --by telephone, --by \"their site\" or --by \"in person\", not %q", by))
		}
		if _, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Order, error) {
			return inventory.TellOrder(ctx, tx, id, inventory.Way(by), now())
		}); err != nil {
			return err
		}
		return showOrder(cmd, w, id)
	})
	return cmd
}

func newOrderCancel() *cobra.Command {
	cmd := &cobra.Command{Use: "cancel ORDER [LINE …]", Short: "Cancel what has not come yet; jobs that wait for it want it again", Example: "  stead order cancel 501",
		Args: atLeast("ORDER")}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		ids, err := orderNumbers(cmd, args)
		if err != nil {
			return err
		}
		order, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Order, error) {
			return inventory.CancelOrder(ctx, tx, ids[0], ids[1:]...)
		})
		if err != nil {
			return err
		}
		return show(cmd, order, func() { say(cmd, "order %d is %s", order.ID, order.State.Words()) })
	})
	return cmd
}
