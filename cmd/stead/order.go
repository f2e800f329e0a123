package main

import (
	"context"
	"fmt"
	"os"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
	"stead/pricing/ordering"
	"stead/pricing/orderplan"
)

func newOrder() *cobra.Command {
	return group("order", "What to order, what is on its way, what came",
		newOrderPlan(), newOrderByHand(), newOrderPlace(), newOrderReceive(), newOrderList(), newOrderShow(), newOrderTold(), newOrderCancel(),
		newOrderAcknowledge(), newOrderInvoice(), newOrderLate(), newOrderPaper())
}

// policyFlags are the flags by which orders are planned.
type policyFlags struct {
	refill  string
	noSplit bool
	fillUp  []string
}

func (f *policyFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.refill, "refill", "always", "stock below its reorder level: always, or if-cheaper (only to reach free carriage)")
	cmd.Flags().BoolVar(&f.noSplit, "no-split", false, "all that is wanted of a part from one supplier")
	cmd.Flags().StringSliceVar(&f.fillUp, "fill-up", nil, "buy from these `suppliers` up to their minimum order, even what nobody wants")
}

func (f *policyFlags) policy(cmd *cobra.Command, w *workshop) (ordering.Policy, error) {
	if f.refill != "always" && f.refill != "if-cheaper" {
		return ordering.Policy{}, usage(cmd, fmt.Errorf("--refill is always or if-cheaper, not %q", f.refill))
	}
	policy := ordering.Policy{RefillIfCheaper: f.refill == "if-cheaper", NoSplit: f.noSplit}
	for _, code := range f.fillUp {
		s, err := inventory.SupplierByCode(cmd.Context(), w, code)
		if err != nil {
			return policy, err
		}
		policy.FillUp = append(policy.FillUp, s.Code)
	}
	return policy, nil
}

func newOrderPlan() *cobra.Command {
	var problem string
	var flags policyFlags
	var asked linesFlags
	var whatIf bool
	cmd := &cobra.Command{Use: "plan", Short: "Make the cheapest order lists that meet the dates", Args: exactly(),
		Long: `Makes the cheapest order lists that meet the dates, for all jobs and the shelf
together. Of a long list so many lines are shown, what jobs wait for first, then
the dearest, and the sums of all; --json gives all. What has no room on one list
is named: place that list and plan again.`,
		Example: "  stead order plan\n  stead order plan --problem orders.json --json"}
	flags.add(cmd)
	asked.add(cmd)
	cmd.Flags().BoolVar(&whatIf, "what-if", false, "also tell what a day more, a supplier fewer or one supplier alone would cost")
	cmd.Flags().StringVar(&problem, "problem", "", "solve a problem from a JSON file in place of the workshop's (- for standard input)")
	readsFile(cmd, "problem")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if problem != "" {
			return solveProblem(cmd, problem)
		}
		return inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
			lines, err := asked.lines(cmd)
			if err != nil {
				return err
			}
			policy, err := flags.policy(cmd, w)
			if err != nil {
				return err
			}
			most := ordering.Patience
			if whatIf {
				most *= 2 // the plan, and what would be if
			}
			stop := newMeter("planning the orders").upTo(most)
			plan, err := desk.LoadOrderPlan(cmd.Context(), w, policy, whatIf, now())
			stop()
			if err != nil {
				return err
			}
			return show(cmd, plan, func() {
				printOrderPlan(cmd, plan.Some(lines))
				printWhatIf(cmd, plan.WhatIf, plan.Currency)
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

// printOrderPlan sets a plan of orders on the terminal, a supplier at a time.
func printOrderPlan(cmd *cobra.Command, list desk.OrderPlan) {
	if len(list.Orders) == 0 {
		say(cmd, "nothing to order")
	}
	sayIf(cmd, list.SomeWords())
	for _, o := range list.Orders {
		say(cmd, "%s — here by %s", o.Name, o.Promise)
		var rows [][]string
		for _, l := range o.Lines {
			rows = append(rows, []string{l.Code, l.Name, desk.PacksWords(l.Packs, l.Pack), pricing.Amount(o.Currency, l.Amount), desk.ForWhom(l)})
		}
		if len(rows) > 0 {
			terminal.Table(cmd.OutOrStdout(), []string{"CODE", "PART", ">PACKS", ">AMOUNT", "FOR"}, rows)
		}
		say(cmd, "%s", list.SumWords(o))
		indented(cmd, o.Reasons)
		say(cmd, "")
	}
	if len(list.Orders) > 0 {
		for _, words := range list.CostWords() {
			say(cmd, "%s", words)
		}
		say(cmd, "to order just this: stead order place --as-planned %s", list.AsPlanned)
	}
	if next := list.Next(); next > 0 {
		say(cmd, "The next lines begin with `--from %d`.", next)
	}
	sayIf(cmd, list.LeftWords())
	for _, w := range list.Waiting {
		say(cmd, "waits: %s: %s", w.Name, w.Words)
		if w.FillUp != "" {
			say(cmd, "  --fill-up %s orders it by %s", w.Supplier, w.FillUp)
		}
	}
	for _, p := range list.PutOff {
		say(cmd, "put off until %s: %s: %s (%s)", p.Until, p.Name, p.Why, p.By)
	}
	for _, words := range list.BackOrdered {
		say(cmd, "%s", words)
	}
	for _, words := range list.Late {
		say(cmd, "late: %s", words)
	}
	for _, words := range list.Missing {
		say(cmd, "not to be had: %s", words)
	}
	sayIf(cmd, list.CutWords())
}

func printWhatIf(cmd *cobra.Command, list []ordering.WhatIf, currency string) {
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
		rows = append(rows, []string{w.Words, pricing.Amount(currency, *w.Total), desk.MoreWords(currency, *w.More)})
	}
	terminal.Table(cmd.OutOrStdout(), []string{"WHAT IF", ">IN ALL", ">"}, rows)
}

func newOrderPlace() *cobra.Command {
	var flags policyFlags
	var asPlanned string
	cmd := &cobra.Command{Use: "place [SUPPLIER …]", Short: "Place the planned orders, or those of the suppliers named", Example: "  stead order place\n  stead order place harbour",
		Long: `Plans as ` + "`stead order plan`" + ` does and places the orders. Where what the plan
rests on changes meanwhile (what is wanted, offered, or on its way) nothing is
ordered. What is ordered later in the day joins the order that its supplier
has from us already, until the cut-off or until the supplier has answered: one
parcel and one carriage. With --as-planned it is the very list that was shown,
or none.`}
	flags.add(cmd)
	cmd.Flags().StringVar(&asPlanned, "as-planned", "", "only if nothing has changed since the plan of this name, which it gives at its end")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		policy, err := flags.policy(cmd, w)
		if err != nil {
			return err
		}
		for _, code := range args {
			if _, err := inventory.SupplierByCode(cmd.Context(), w, code); err != nil {
				return err
			}
		}
		placed, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]inventory.Order, error) {
			return ordering.PlacePlanned(ctx, tx, policy, asPlanned, args, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, placed, func() {
			if len(placed) == 0 {
				say(cmd, "nothing to order")
			}
			for _, o := range placed {
				if more := o.JoinedLast(); len(more) > 0 {
					say(cmd, "order %d goes with %s more: send it anew", o.ID, desk.Several(len(more), "line"))
					continue
				}
				say(cmd, "order %d placed: %s", o.ID, desk.Several(len(o.Lines), "line"))
			}
		})
	})
	return cmd
}
