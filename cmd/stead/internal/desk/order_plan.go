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

	lines LinesAsked // that are shown; all where none were asked for
	of    int        // how many lines there are
	all   []ordering.Draft
	cut   []string // what is said of what is not shown beside the lines
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

// Some is the plan with so many of its lines as a screen shows, and so many words of each kind beside them. A plan that is no
// longer is shown as it is.
func (v OrderPlan) Some(asked LinesAsked) OrderPlan {
	v.lines, v.of, v.all = asked, v.Count(), v.Orders
	if asked.From > 1 || v.of > asked.Most {
		v.Orders = v.Dearest(asked.From-1, asked.Most)
	}
	v.Orders = slices.Clone(v.Orders)
	for i := range v.Orders {
		o := &v.Orders[i]
		if more := len(o.Reasons) - asked.Most; more > 0 {
			o.Reasons = append(slices.Clone(o.Reasons[:asked.Most]), fmt.Sprintf("and %d more of this kind", more))
		}
	}
	v.cut = nil
	v.Waiting = cutTo(asked.Most, v.Waiting, "that wait for a minimum order", &v.cut)
	v.PutOff = cutTo(asked.Most, v.PutOff, "put off", &v.cut)
	v.BackOrdered = cutTo(asked.Most, v.BackOrdered, "on back order", &v.cut)
	v.List.Late = cutTo(asked.Most, v.List.Late, "late", &v.cut)
	v.Missing = cutTo(asked.Most, v.Missing, "not to be had", &v.cut)
	return v
}

// cutTo are the first of all, and adds to words how many more there are of a kind.
func cutTo[T any](most int, all []T, kind string, words *[]string) []T {
	if len(all) <= most {
		return all
	}
	*words = append(*words, fmt.Sprintf("%d more %s", len(all)-most, kind))
	return all[:most]
}

func (v OrderPlan) shown() shown {
	lines := 0
	for _, o := range v.Orders {
		lines += len(o.Lines)
	}
	return shown{v.lines.From, lines, v.of, "what jobs wait for first, then the dearest"}
}

// SomeWords say which lines of how many are shown; empty where all are.
func (v OrderPlan) SomeWords() string { return v.shown().words() }

// Next is where the lines begin that come after these; 0 where there are none.
func (v OrderPlan) Next() int { return v.shown().next() }

// From is where the lines begin that are shown.
func (v OrderPlan) From() int { return v.lines.From }

// CutWords say what is not shown beside the lines; empty where all is.
func (v OrderPlan) CutWords() string {
	if len(v.cut) == 0 {
		return ""
	}
	return "Not shown: " + strings.Join(v.cut, ", ") + "."
}

// LeftWords say what had no room on the list, and what to do.
func (v OrderPlan) LeftWords() string {
	if v.Left == 0 {
		return ""
	}
	return fmt.Sprintf("%s for the shelf had no room on this list and can be ordered next: place these orders and plan again", Several(v.Left, "part"))
}

// SumWords are what an order comes to.
func (v OrderPlan) SumWords(o ordering.Draft) string {
	words := fmt.Sprintf("goods %s, carriage %s", pricing.Amount(o.Currency, o.Goods), pricing.Amount(o.Currency, o.Carriage))
	for _, all := range v.all {
		if all.SupplierID == o.SupplierID && len(all.Lines) > len(o.Lines) {
			return fmt.Sprintf("%s; %s in all", words, Several(len(all.Lines), "line"))
		}
	}
	return words
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
