package pages

import (
	"context"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/pricing/ordering"
)

// planPage is what to order, from whom and why; and by which rules, which stand in the page's address.
type planPage struct {
	desk.Clock
	desk.OrderPlan
	Policy ordering.Policy
	Asked  bool // what other rules would cost is shown as well
}

// policyAsked are the rules that the address names.
func policyAsked(v *visit) (ordering.Policy, error) {
	policy := ordering.Policy{RefillIfCheaper: v.asked("refill") == "if-cheaper", NoSplit: v.asked("no-split") != ""}
	for _, code := range v.r.URL.Query()["fill-up"] {
		s, err := inventory.SupplierByCode(v.ctx, v.db(), code)
		if err != nil {
			return policy, err
		}
		policy.FillUp = append(policy.FillUp, s.Code)
	}
	return policy, nil
}

// path is the address of a plan by some rules.
func (p planPage) path(policy ordering.Policy, whatIf bool) string {
	q := url.Values{}
	if policy.RefillIfCheaper {
		q.Set("refill", "if-cheaper")
	}
	if policy.NoSplit {
		q.Set("no-split", "yes")
	}
	for _, code := range policy.FillUp {
		q.Add("fill-up", code)
	}
	if whatIf {
		q.Set("what-if", "yes")
	}
	if len(q) == 0 {
		return "/orders/plan"
	}
	return "/orders/plan?" + q.Encode()
}

// WhatIfPath asks what other rules would cost.
func (p planPage) WhatIfPath() string { return p.path(p.Policy, true) }

// FillUp buys from a supplier up to its minimum order.
func (p planPage) FillUp(code string) string {
	policy := p.Policy
	policy.FillUp = append(slices.Clone(policy.FillUp), code)
	return p.path(policy, false)
}

// NotFilled buys from a supplier what is wanted, and no more.
func (p planPage) NotFilled(code string) string {
	policy := p.Policy
	policy.FillUp = slices.DeleteFunc(slices.Clone(policy.FillUp), func(c string) bool { return c == code })
	return p.path(policy, false)
}

// For says for whom a line is.
func (p planPage) For(l ordering.Line) string { return desk.ForWhom(l) }

// Packs are how many packs of how many pieces.
func (p planPage) Packs(l ordering.Line) string { return desk.PacksWords(l.Packs, l.Pack) }

// In writes an amount of an order in its currency.
func (p planPage) In(o ordering.Draft, l ordering.Line) string {
	return pricing.Amount(o.Currency, l.Amount)
}

// NextPath and FirstPath lead to the lines that come after these and to the first, planned by the same rules.
func (p planPage) NextPath() string  { return p.from(p.Next()) }
func (p planPage) FirstPath() string { return p.from(1) }

func (p planPage) from(line int) string {
	path := p.path(p.Policy, false)
	if strings.Contains(path, "?") {
		return fmt.Sprintf("%s&from=%d", path, line)
	}
	return fmt.Sprintf("%s?from=%d", path, line)
}

// More is what other rules cost beside these.
func (p planPage) More(w ordering.WhatIf) string {
	if w.Total == nil {
		return w.Why
	}
	return fmt.Sprintf("%s, %s", pricing.Amount(p.Currency, *w.Total), desk.MoreWords(p.Currency, *w.More))
}

func showPlan(v *visit) (string, any, error) {
	p := planPage{Clock: desk.At(v.now), Asked: v.asked("what-if") != ""}
	var err error
	if p.Policy, err = policyAsked(v); err != nil {
		return "", nil, err
	}
	lines, err := v.linesAsked()
	if err != nil {
		return "", nil, err
	}
	plan, err := desk.LoadOrderPlan(v.ctx, v.db(), p.Policy, p.Asked, v.now)
	p.OrderPlan = plan.Some(lines)
	return "What to order", p, err
}

func placeOrders(v *visit, t *typed) (string, error) {
	policy, err := policyAsked(v)
	if err != nil {
		return "", err
	}
	planned := t.line("planned")
	if planned == "" {
		return "", &statusError{400, "the form is not whole: open the page again"}
	}
	var from []string
	words := "placed the planned orders"
	if t.row != "" {
		s, err := inventory.SupplierByCode(v.ctx, v.db(), t.row)
		if err != nil {
			return "", err
		}
		from, words = []string{s.Code}, "placed the planned order with "+s.Name
	}
	placed, err := change(v, words, func(ctx context.Context, tx pgx.Tx, _ string) ([]inventory.Order, error) {
		return ordering.PlacePlanned(ctx, tx, policy, planned, from, v.now)
	})
	if err != nil {
		return "", err
	}
	switch len(placed) {
	case 0:
		return v.done("/orders/plan", "nothing is to be ordered", nil)
	case 1:
		return v.done(fmt.Sprintf("/orders/%d", placed[0].ID), "the order is placed here: now send it", nil)
	}
	var numbers []string
	for _, o := range placed {
		numbers = append(numbers, fmt.Sprint(o.ID))
	}
	return v.done("/orders", "orders "+strings.Join(numbers, ", ")+" are placed here: open each and send it", nil)
}
