package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
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
	list, err := desk.LoadOrders(cmd.Context(), w, open)
	if err != nil {
		return err
	}
	return show(cmd, list.Orders, func() {
		var rows [][]string
		for _, o := range list.Orders {
			s := list.Suppliers[o.SupplierID]
			rows = append(rows, []string{strconv.FormatInt(o.ID, 10), s.Name, o.State, o.PlacedAt.In(zone()).Format("2006-01-02"),
				desk.Due(o).String(), pricing.Amount(s.Currency, o.Goods().Add(o.Carriage))})
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
	order, err := desk.LoadOrder(cmd.Context(), w, id)
	if err != nil {
		return err
	}
	supplier, parts, words := order.Supplier, order.Parts, order.Words
	return show(cmd, order, func() {
		say(cmd, "order %d to %s, %s", order.ID, supplier.Name, order.State)
		var rows [][]string
		for _, l := range order.Lines {
			expected := l.ExpectedOn.String()
			if later := words[l.ID].ExpectedOn; later != nil {
				expected = later.String()
			}
			if words[l.ID].BackOrdered {
				expected = "no day"
			}
			rows = append(rows, []string{strconv.FormatInt(l.ID, 10), parts[l.PartID].Name, packs(l.Packs, l.Pack),
				pricing.Amount(supplier.Currency, l.Cost()), strconv.Itoa(l.Awaited()), expected})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">LINE", "PART", ">PACKS", ">COST", ">TO COME", "EXPECTED"}, rows)
		say(cmd, "carriage %s", pricing.Amount(supplier.Currency, order.Carriage))
		for _, l := range order.Lines {
			for _, said := range differences(l, words[l.ID], supplier.Currency) {
				say(cmd, "  line %d: %s", l.ID, said)
			}
		}
	})
}

// differences are where the supplier's papers differ from what was ordered.
func differences(l inventory.OrderLine, said inventory.Word, currency string) []string {
	var out []string
	if said.BackOrdered {
		out = append(out, "on back order, and the supplier cannot say until when")
	}
	if said.Acknowledged.Valid && !said.Acknowledged.Decimal.Equal(l.Price) {
		out = append(out, fmt.Sprintf("acknowledged at %s a pack, ordered at %s", pricing.Amount(currency, said.Acknowledged.Decimal), pricing.Amount(currency, l.Price)))
	}
	if said.Invoiced.Valid && !said.Invoiced.Decimal.Equal(l.Price) {
		more := said.Invoiced.Decimal.Sub(l.Price).Mul(decimal.NewFromInt(int64(l.Packs)))
		out = append(out, fmt.Sprintf("invoiced at %s a pack, ordered at %s: %s on the line", pricing.Amount(currency, said.Invoiced.Decimal),
			pricing.Amount(currency, l.Price), signed(currency, more)))
	}
	return out
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
		return show(cmd, order, func() { say(cmd, "order %d is %s", order.ID, order.State) })
	})
	return cmd
}
