package desk

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/pricing/ordering"
)

// Today is what there is to do in the workshop.
type Today struct {
	Clock
	Stand    []OnStand         `json:"on_the_stand"`           // every bike in the workshop, what is due first
	Promised []OnStand         `json:"promised_today"`         // of these, those that go home today or should have gone
	PartsIn  []OnStand         `json:"parts_here"`             // of these, those whose parts are all here and not fitted
	Late     []ordering.Late   `json:"late"`                   // promises that parts will not keep as things stand
	Overdue  []inventory.Order `json:"overdue"`                // orders of which something should have come before today
	Wishes   []pricing.Granted `json:"wishes_that_can_be_met"` // remembered wishes that can be met now

	Delays []string `json:"delays,omitempty"` // with which days count: that all suppliers are late, or that one has become slower

	Coming    []inventory.Order            `json:"-"` // on their way and not overdue
	Suppliers map[int64]inventory.Supplier `json:"-"` // of the orders
	Said      map[int64]inventory.Word     `json:"-"` // by them of the orders' lines
	Currency  string                       `json:"-"` // the shop's
	Sure      string                       `json:"-"` // how surely it promises its days: "9 in 10"
}

// OnStand is a job with what it asks for next.
type OnStand struct {
	pricing.JobSummary
	Next Step `json:"next"`
}

// LoadToday gathers what there is to do, as things stand at a moment.
func LoadToday(ctx context.Context, db inventory.DB, now time.Time) (v Today, err error) {
	v = Today{Clock: At(now), Stand: []OnStand{}, Promised: []OnStand{}, PartsIn: []OnStand{}, Late: []ordering.Late{}, Overdue: []inventory.Order{}, Wishes: []pricing.Granted{}}
	if v.Stand, err = LoadJobs(ctx, db, pricing.JobSearch{}, now); err != nil {
		return v, err
	}
	for _, j := range v.Stand {
		if j.Promised != nil && *j.Promised <= v.Today() {
			v.Promised = append(v.Promised, j)
		}
		if j.Next == Fit {
			v.PartsIn = append(v.PartsIn, j)
		}
	}
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return v, err
	}
	late, err := lateOf(ctx, db, deliveries, now)
	if err != nil {
		return v, err
	}
	v.Currency, v.Sure, v.Delays = late.Currency, late.Sure, late.Delays
	for _, l := range late.Promises {
		if !l.InTime() || !slices.ContainsFunc(v.Stand, func(j OnStand) bool { return j.ID == l.JobID && j.Next == OrderParts }) {
			v.Late = append(v.Late, l) // else it stands among what is to be ordered
		}
	}
	orders, err := LoadOrders(ctx, db, true, now)
	if err != nil {
		return v, err
	}
	v.Suppliers, v.Said = orders.Suppliers, orders.Said
	for _, o := range orders.Orders {
		if overdue(o, v.Said, v.Today()) {
			v.Overdue = append(v.Overdue, o)
		} else {
			v.Coming = append(v.Coming, o)
		}
	}
	wishes, err := pricing.GrantableWishes(ctx, db, deliveries)
	v.Wishes = append(v.Wishes, wishes...)
	return v, err
}

// LoadJobs lists jobs with what each asks for next, what is due first; without a search those that are not closed.
func LoadJobs(ctx context.Context, db inventory.DB, search pricing.JobSearch, now time.Time) ([]OnStand, error) {
	jobs, err := pricing.Jobs(ctx, db, search)
	if err != nil {
		return nil, err
	}
	claims := map[int64][]inventory.Claim{}
	open, err := inventory.OpenClaims(ctx, db)
	if err != nil {
		return nil, err
	}
	for _, c := range open {
		claims[c.JobID] = append(claims[c.JobID], c)
	}
	held := map[int64]bool{}
	reserved, err := inventory.ReservationsOf(ctx, db)
	if err != nil {
		return nil, err
	}
	for _, r := range reserved {
		held[r.JobID] = true
	}
	var ids []int64
	for _, j := range jobs {
		if j.State == pricing.Quoted || j.State == pricing.JobApproved { // an amendment may be open
			ids = append(ids, j.ID)
		}
	}
	quotes, err := pricing.LastQuotes(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	since, err := pricing.FoundSince(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	out := []OnStand{}
	for _, j := range jobs {
		s := standing{state: j.State, claims: claims[j.ID], held: held[j.ID], found: since[j.ID]}
		if j.State == pricing.Inspected {
			job, err := pricing.JobByID(ctx, db, j.ID)
			if err != nil {
				return nil, err
			}
			s.findings = job.Findings
		}
		if q, quoted := quotes[j.ID]; quoted {
			told := TellQuote(q, At(now))
			s.quote = &told
		}
		out = append(out, OnStand{j, nextOf(s)})
	}
	slices.SortStableFunc(out, func(a, b OnStand) int { return cmp.Compare(a.due(), b.due()) })
	return out, nil
}

// Has reports whether a job goes by all of some words: of its number, its customer and its bike.
func (j OnStand) Has(words string) bool {
	all := strings.ToLower(fmt.Sprint(j.ID, " ", j.Customer, " ", j.Bike))
	for _, w := range strings.Fields(strings.ToLower(words)) {
		if !strings.Contains(all, w) {
			return false
		}
	}
	return true
}

// due is the day that was promised, else the one that was asked; with neither the last of all.
func (j OnStand) due() calendar.Day {
	switch {
	case j.Promised != nil:
		return *j.Promised
	case j.WantedBy != nil:
		return *j.WantedBy
	}
	return math.MaxInt
}

// DueWords is the day that was promised, else the one that was asked, as it stands in a table; empty with neither.
func (j OnStand) DueWords() string {
	if j.Promised != nil {
		return j.Promised.String()
	}
	return DayOrNone(j.WantedBy)
}

// overdue reports whether something of an order should have come before a day, by the last that its supplier said.
func overdue(o inventory.Order, said map[int64]inventory.Word, today calendar.Day) bool {
	return slices.ContainsFunc(o.Lines, func(l inventory.OrderLine) bool {
		expected := expectedOn(l, said[l.ID])
		return l.Awaited() > 0 && expected != nil && *expected < today
	})
}

// PromisedWords are the bikes that go home today, or should have gone, with the day that was promised.
func (v Today) PromisedWords() []string {
	var out []string
	for _, j := range v.Promised {
		out = append(out, fmt.Sprintf("job %d, %s's %s, promised for %s: %s", j.ID, j.Customer, j.Bike, v.Day(*j.Promised), j.Next))
	}
	return out
}

// PartsInWords are the bikes whose parts are all here and not fitted.
func (v Today) PartsInWords() []string {
	var out []string
	for _, j := range v.PartsIn {
		out = append(out, fmt.Sprintf("job %d, %s's %s", j.ID, j.Customer, j.Bike))
	}
	return out
}

// LateWords are the promises that parts will not keep.
func (v Today) LateWords() []string {
	var out []string
	for _, l := range v.Late {
		out = append(out, l.Words(v.Currency, v.Today()))
	}
	return out
}

// OverdueWords are the orders of which something should have come before today.
func (v Today) OverdueWords() []string {
	var out []string
	for _, o := range v.Overdue {
		out = append(out, fmt.Sprintf("order %d from %s", o.ID, v.Suppliers[o.SupplierID].Name))
	}
	return out
}

// WishWords are the remembered wishes that can be met now, with whose they are.
func (v Today) WishWords() []string {
	var out []string
	for _, g := range v.Wishes {
		out = append(out, WhoseWish(g))
	}
	return out
}
