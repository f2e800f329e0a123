package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/pricing/orderplan"
	"stead/substitution"
)

func newOrder() *cobra.Command {
	return group("order", "What to order, what is on its way, what came",
		newOrderPlan(), newOrderPlace(), newOrderReceive(), newOrderList(), newOrderShow(), newOrderCancel(),
		newOrderAcknowledge(), newOrderInvoice(), newOrderLate(), newOrderPaper())
}

// policyFlags are the flags by which orders are planned.
type policyFlags struct {
	refill  string
	noSplit bool
}

func (f *policyFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.refill, "refill", "always", "stock below its reorder level: always, or if-cheaper (only to reach free carriage)")
	cmd.Flags().BoolVar(&f.noSplit, "no-split", false, "all that is wanted of a part from one supplier")
}

func (f *policyFlags) policy(cmd *cobra.Command) (pricing.OrderPolicy, error) {
	if f.refill != "always" && f.refill != "if-cheaper" {
		return pricing.OrderPolicy{}, usage(cmd, fmt.Errorf("--refill is always or if-cheaper, not %q", f.refill))
	}
	return pricing.OrderPolicy{RefillIfCheaper: f.refill == "if-cheaper", NoSplit: f.noSplit}, nil
}

func newOrderPlan() *cobra.Command {
	var problem string
	var flags policyFlags
	var whatIf bool
	cmd := &cobra.Command{Use: "plan", Short: "Make the cheapest order lists that meet the dates", Args: exactly(),
		Example: "  stead order plan\n  stead order plan --problem orders.json --json"}
	flags.add(cmd)
	cmd.Flags().BoolVar(&whatIf, "what-if", false, "also tell what a day more, a supplier fewer or one supplier alone would cost")
	cmd.Flags().StringVar(&problem, "problem", "", "solve a problem from a JSON file in place of the workshop's (- for standard input)")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if problem != "" {
			return solveProblem(cmd, problem)
		}
		policy, err := flags.policy(cmd)
		if err != nil {
			return err
		}
		return inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
			list, err := pricing.PlanOrders(cmd.Context(), w, policy, now())
			if err != nil {
				return err
			}
			shop, err := inventory.LoadShop(cmd.Context(), w)
			if err != nil {
				return err
			}
			answer := struct {
				pricing.OrderList
				WhatIf []pricing.WhatIf `json:"what_if,omitempty"`
			}{OrderList: list}
			if whatIf {
				if answer.WhatIf, err = list.WhatIf(cmd.Context()); err != nil {
					return err
				}
			}
			return show(cmd, answer, func() {
				printOrderList(cmd, list, shop.Currency)
				printWhatIf(cmd, answer.WhatIf, shop.Currency)
			})
		})(cmd, args)
	}
	return cmd
}

// solveProblem plans a problem from a file; the JSON is documented in package orderplan.
func solveProblem(cmd *cobra.Command, file string) error {
	in := cmd.InOrStdin()
	if file != "-" {
		f, err := os.Open(file)
		if err != nil {
			return usage(cmd, fmt.Errorf("--problem: %w", err))
		}
		defer f.Close()
		in = f
	}
	p, err := orderplan.ReadProblem(in)
	if err != nil {
		return usage(cmd, fmt.Errorf("--problem %s: %w", file, err))
	}
	plan, err := orderplan.Solve(cmd.Context(), p)
	if err != nil {
		return err
	}
	return show(cmd, plan, func() {
		proof := "proven: no plan is cheaper"
		if !plan.Proven {
			proof = fmt.Sprintf("not proven: at most %d above the cheapest", plan.Total-plan.LowerBound)
		}
		say(cmd, "total %d, %s\n", plan.Total, proof)
		var rows [][]string
		for _, l := range plan.Lines {
			rows = append(rows, []string{l.ID, l.Supplier, strconv.Itoa(l.Units), strconv.FormatInt(l.Cost, 10)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{"LINE", "SUPPLIER", ">UNITS", ">COST"}, rows)
		say(cmd, "")
		rows = nil
		for _, s := range plan.Suppliers {
			rows = append(rows, []string{s.ID, strconv.FormatInt(s.Goods, 10), strconv.FormatInt(s.Carriage, 10)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{"SUPPLIER", ">GOODS", ">CARRIAGE"}, rows)
	})
}

// printOrderList sets an order list on the terminal, a supplier at a time.
func printOrderList(cmd *cobra.Command, list pricing.OrderList, currency string) {
	if len(list.Orders) == 0 {
		say(cmd, "nothing to order")
	}
	for _, o := range list.Orders {
		say(cmd, "%s — here by %s", o.Name, o.Promise)
		var rows [][]string
		for _, l := range o.Lines {
			rows = append(rows, []string{l.Code, l.Name, packs(l.Packs, l.Pack), pricing.Amount(o.Currency, l.Amount), whoFor(l)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{"CODE", "PART", ">PACKS", ">AMOUNT", "FOR"}, rows)
		say(cmd, "goods %s, carriage %s", pricing.Amount(o.Currency, o.Goods), pricing.Amount(o.Currency, o.Carriage))
		for _, r := range o.Reasons {
			say(cmd, "  %s", r)
		}
		say(cmd, "")
	}
	if len(list.Orders) > 0 {
		proof := "no list that meets the dates is cheaper"
		if !list.Proven {
			proof = fmt.Sprintf("not proven cheapest: at most %s above it", pricing.Amount(currency, list.Total.Sub(list.LowerBound)))
		}
		say(cmd, "in all %s with carriage; %s", pricing.Amount(currency, list.Total), proof)
		if saved := list.EachAlone.Sub(list.Total); saved.IsPositive() {
			say(cmd, "bought line by line at each lowest price it would be %s: the plan saves %s",
				pricing.Amount(currency, list.EachAlone), pricing.Amount(currency, saved))
		}
	}
	for _, words := range list.Late {
		say(cmd, "late: %s", words)
	}
	for _, words := range list.Missing {
		say(cmd, "not to be had: %s", words)
	}
}

func printWhatIf(cmd *cobra.Command, list []pricing.WhatIf, currency string) {
	if len(list) == 0 {
		return
	}
	say(cmd, "")
	var rows [][]string
	for _, w := range list {
		if w.Total == nil {
			rows = append(rows, []string{w.Words, "", w.Why})
			continue
		}
		rows = append(rows, []string{w.Words, pricing.Amount(currency, *w.Total), signed(currency, *w.More)})
	}
	terminal.Table(cmd.OutOrStdout(), []string{"WHAT IF", ">IN ALL", ">"}, rows)
}

func packs(n, pack int) string {
	if pack == 1 {
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%d × %d", n, pack)
}

func whoFor(l pricing.DraftLine) string {
	var who []string
	for _, j := range l.ForJobs {
		who = append(who, fmt.Sprintf("job %d", j))
	}
	if l.ForShelf > 0 {
		who = append(who, fmt.Sprintf("shelf %d", l.ForShelf))
	}
	if l.Substitute {
		who = append(who, "measure on arrival")
	}
	return strings.Join(who, ", ")
}

func newOrderPlace() *cobra.Command {
	var flags policyFlags
	cmd := &cobra.Command{Use: "place [SUPPLIER …]", Short: "Place the planned orders, or those of the suppliers named", Example: "  stead order place\n  stead order place harbour"}
	flags.add(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		policy, err := flags.policy(cmd)
		if err != nil {
			return err
		}
		for _, code := range args {
			if _, err := inventory.SupplierByCode(cmd.Context(), w, code); err != nil {
				return err
			}
		}
		placed, err := change(cmd, w, "order place "+strings.Join(args, " "), func(ctx context.Context, tx pgx.Tx, _ string) ([]inventory.Order, error) {
			list, err := pricing.PlanOrders(ctx, tx, policy, now())
			if err != nil {
				return nil, err
			}
			return pricing.PlaceOrders(ctx, tx, list, args, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, placed, func() {
			if len(placed) == 0 {
				say(cmd, "nothing to order")
			}
			for _, o := range placed {
				say(cmd, "order %d placed: %s", o.ID, several(len(o.Lines), "line"))
			}
		})
	})
	return cmd
}

func orderNumber(cmd *cobra.Command, text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0, usage(cmd, fmt.Errorf("an order is named by its number, not %q", text))
	}
	return id, nil
}

func newOrderReceive() *cobra.Command {
	var bin, reference string
	var all, over bool
	cmd := &cobra.Command{Use: "receive ORDER [LINE=PIECES[:OUTCOME] …]", Short: "Book a delivery in: whole, part, over, wrong or damaged",
		Example: "  stead order receive 501 --all --bin A1\n  stead order receive 501 3=2 4=1:damaged --bin A1 --reference DN-778",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage(cmd, fmt.Errorf("ORDER is missing"))
			}
			return nil
		}}
	cmd.Flags().StringVar(&bin, "bin", "", "the bin for what is good")
	cmd.Flags().StringVar(&reference, "reference", "", "number of the delivery note")
	cmd.Flags().BoolVar(&all, "all", false, "everything came as ordered")
	cmd.Flags().BoolVar(&over, "over", false, "keep what came beyond the order")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := orderNumber(cmd, args[0])
		if err != nil {
			return err
		}
		order, err := inventory.OrderByID(cmd.Context(), w, id)
		if err != nil {
			return err
		}
		arrivals, err := arrivalsFrom(cmd, order, args[1:], all)
		if err != nil {
			return err
		}
		receipt, err := change(cmd, w, "order receive "+strings.Join(args, " "), func(ctx context.Context, tx pgx.Tx, key string) (inventory.Receipt, error) {
			return inventory.ReceiveOrder(ctx, tx, key, id, reference, bin, now(), arrivals, over)
		})
		if err != nil {
			return err
		}
		return show(cmd, receipt, func() { printReceipt(cmd, receipt) })
	})
	return cmd
}

// arrivalsFrom reads what came: LINE=PIECES, with an outcome when it is not good.
func arrivalsFrom(cmd *cobra.Command, order inventory.Order, args []string, all bool) ([]inventory.Arrival, error) {
	var arrivals []inventory.Arrival
	if all {
		for _, l := range order.Lines {
			if l.Awaited() > 0 {
				arrivals = append(arrivals, inventory.Arrival{LineID: l.ID, Outcome: inventory.Good, Pieces: l.Awaited()})
			}
		}
	}
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
		outcomes := []inventory.Outcome{inventory.Good, inventory.Over, inventory.Wrong, inventory.Damaged}
		if !slices.Contains(outcomes, inventory.Outcome(outcome)) {
			return nil, usage(cmd, fmt.Errorf("%q: pieces come good, over, wrong or damaged, not %q", a, outcome))
		}
		arrivals = append(arrivals, inventory.Arrival{LineID: id, Outcome: inventory.Outcome(outcome), Pieces: n})
	}
	return arrivals, nil
}

func printReceipt(cmd *cobra.Command, r inventory.Receipt) {
	say(cmd, "delivery of order %d booked in; the order is %s", r.OrderID, r.OrderState)
	for _, g := range r.Got {
		say(cmd, "  %d for job %d (%s), now held for it", g.Pieces, g.JobID, siteWords(substitution.Place(g.Place)))
	}
	for _, a := range r.Awaited {
		say(cmd, "  still to come: %d of %s", a.Pieces, a.Part)
	}
	for _, m := range r.Measure {
		say(cmd, "  substitute for job %d, %s: measure before fitting", m.JobID, m.Part)
		var rows [][]string
		for _, d := range m.Dimensions {
			rows = append(rows, []string{d.Means, d.Value, d.Measure})
		}
		terminal.Table(cmd.OutOrStdout(), []string{"DIMENSION", "SHOULD BE", "HOW"}, rows)
	}
}

func newOrderList() *cobra.Command {
	var all bool
	cmd := &cobra.Command{Use: "list", Short: "List the orders that are on their way, or all", Args: exactly(), Example: "  stead order list --all"}
	cmd.Flags().BoolVar(&all, "all", false, "closed ones too")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error { return listOrders(cmd, w, !all) })
	return cmd
}

func listOrders(cmd *cobra.Command, w *workshop, open bool) error {
	orders, err := inventory.Orders(cmd.Context(), w, open)
	if err != nil {
		return err
	}
	suppliers, err := inventory.Suppliers(cmd.Context(), w)
	if err != nil {
		return err
	}
	byID := map[int64]inventory.Supplier{}
	for _, s := range suppliers {
		byID[s.ID] = s
	}
	return show(cmd, orders, func() {
		var rows [][]string
		for _, o := range orders {
			s := byID[o.SupplierID]
			var due calendar.Day
			for _, l := range o.Lines {
				due = max(due, l.ExpectedOn)
			}
			rows = append(rows, []string{strconv.FormatInt(o.ID, 10), s.Name, o.State, o.PlacedAt.Local().Format("2006-01-02"),
				due.String(), pricing.Amount(s.Currency, o.Goods().Add(o.Carriage))})
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

// orderView is an order with what the supplier said of its lines since.
type orderView struct {
	inventory.Order
	Words map[int64]inventory.Word `json:"supplier_said,omitempty"` // by line
}

func showOrder(cmd *cobra.Command, w *workshop, id int64) error {
	ctx := cmd.Context()
	order, err := inventory.OrderByID(ctx, w, id)
	if err != nil {
		return err
	}
	supplier, err := inventory.SupplierByID(ctx, w, order.SupplierID)
	if err != nil {
		return err
	}
	var partIDs, lineIDs []int64
	for _, l := range order.Lines {
		partIDs, lineIDs = append(partIDs, l.PartID), append(lineIDs, l.ID)
	}
	parts, err := inventory.Parts(ctx, w, partIDs)
	if err != nil {
		return err
	}
	words, err := inventory.LastWords(ctx, w, lineIDs)
	if err != nil {
		return err
	}
	return show(cmd, orderView{order, words}, func() {
		say(cmd, "order %d to %s, %s", order.ID, supplier.Name, order.State)
		var rows [][]string
		for _, l := range order.Lines {
			expected := l.ExpectedOn
			if later := words[l.ID].ExpectedOn; later != nil {
				expected = *later
			}
			rows = append(rows, []string{strconv.FormatInt(l.ID, 10), parts[l.PartID].Name, packs(l.Packs, l.Pack),
				pricing.Amount(supplier.Currency, l.Cost()), strconv.Itoa(l.Awaited()), expected.String()})
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

func signed(currency string, x decimal.Decimal) string {
	switch {
	case x.IsZero():
		return "same"
	case x.IsPositive():
		return pricing.Amount(currency, x) + " more"
	}
	return pricing.Amount(currency, x.Neg()) + " less"
}

func newOrderCancel() *cobra.Command {
	cmd := &cobra.Command{Use: "cancel ORDER [LINE …]", Short: "Cancel what has not come yet; jobs that wait for it want it again", Example: "  stead order cancel 501",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage(cmd, fmt.Errorf("ORDER is missing"))
			}
			return nil
		}}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var ids []int64
		for _, a := range args {
			id, err := orderNumber(cmd, a)
			if err != nil {
				return err
			}
			ids = append(ids, id)
		}
		order, err := change(cmd, w, "order cancel "+strings.Join(args, " "), func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Order, error) {
			return inventory.CancelOrder(ctx, tx, ids[0], ids[1:]...)
		})
		if err != nil {
			return err
		}
		return show(cmd, order, func() { say(cmd, "order %d is %s", order.ID, order.State) })
	})
	return cmd
}
