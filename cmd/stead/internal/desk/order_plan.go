package desk

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"stead/inventory"
	"stead/inventory/leadtime"
	"stead/pricing"
	"stead/pricing/ordering"
)

// OrderPlan is what to order now, and what that would come to under other rules.
type OrderPlan struct {
	ordering.List
	WhatIf []ordering.WhatIf `json:"what_if,omitempty"`

	Currency string `json:"-"` // the shop's
}

// LoadOrderPlan plans what to order, and if asked under other rules as well.
func LoadOrderPlan(ctx context.Context, db inventory.DB, policy ordering.Policy, whatIf bool, now time.Time) (v OrderPlan, err error) {
	if v.List, err = ordering.Plan(ctx, db, policy, now); err != nil {
		return v, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	if err != nil {
		return v, err
	}
	v.Currency = shop.Currency
	if whatIf {
		v.WhatIf, err = v.List.WhatIf(ctx)
	}
	return v, err
}

// ForWhom says for whom a line is: jobs, the shelf, and whether it is to be measured when it comes.
func ForWhom(l ordering.Line) string {
	var who []string
	for _, j := range l.ForJobs {
		who = append(who, fmt.Sprintf("job %d", j))
	}
	if l.ForShelf > 0 {
		who = append(who, fmt.Sprintf("shelf %d", l.ForShelf))
	}
	if l.Rides {
		who = append(who, "rides along")
	}
	if l.Substitute {
		who = append(who, "measure on arrival")
	}
	return strings.Join(who, ", ")
}

// CostWords are what the plan comes to, how sure that is the least, and what planning saves; none where nothing is ordered.
func (v OrderPlan) CostWords() []string {
	if len(v.Orders) == 0 {
		return nil
	}
	proof := "no list that meets the dates is cheaper"
	if !v.Proven {
		proof = fmt.Sprintf("not proven cheapest: at most %s above it", pricing.Amount(v.Currency, v.Total.Sub(v.LowerBound)))
	}
	out := []string{fmt.Sprintf("in all %s with carriage; %s", pricing.Amount(v.Currency, v.Total), proof)}
	if saved := v.EachAlone.Sub(v.Total); saved.IsPositive() {
		out = append(out, fmt.Sprintf("bought line by line at each lowest price it would be %s: the plan saves %s",
			pricing.Amount(v.Currency, v.EachAlone), pricing.Amount(v.Currency, saved)))
	}
	return out
}

// Late are the promises that will not be kept as things stand.
type Late struct {
	Clock
	Currency string
	Sure     string // how surely the shop promises its days: "9 in 10"
	Promises []ordering.Late
	Delays   []string // with which days count: that all suppliers are late just now, or that one which is awaited has become slower
}

// NoneLate says that all will be kept.
const NoneLate = "every promise that hangs on a part still holds"

// LoadLate looks through everything that jobs wait for.
func LoadLate(ctx context.Context, db inventory.DB, now time.Time) (v Late, err error) {
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return v, err
	}
	return lateOf(ctx, db, deliveries, now)
}

// lateOf looks through it with what is known of deliveries.
func lateOf(ctx context.Context, db inventory.DB, deliveries *inventory.Deliveries, now time.Time) (v Late, err error) {
	v.Clock = At(now)
	if v.Promises, err = pricing.LatePromises(ctx, db, deliveries); err != nil {
		return v, err
	}
	awaited, err := inventory.SuppliersAwaited(ctx, db)
	if err != nil {
		return v, err
	}
	for _, l := range v.Promises {
		if l.NotOrdered && l.Supplier != "" {
			awaited = append(awaited, deliveries.SupplierNumber(l.Supplier))
		}
	}
	v.Delays = delayWords(deliveries.Delays(awaited...))
	shop, err := inventory.LoadShop(ctx, db)
	v.Currency, v.Sure = shop.Currency, leadtime.InWords(shop.Confidence)
	return v, err
}

// delayWords tell of delays, of each once.
func delayWords(delays []inventory.Delay) (words []string) {
	for _, d := range delays {
		if !slices.Contains(words, d.Words) {
			words = append(words, d.Words)
		}
	}
	return words
}

// Words tell of one of them.
func (v Late) Words(l ordering.Late) string { return l.Words(v.Currency, v.Today()) }
