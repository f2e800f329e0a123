package leadtime

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"stead/inventory/calendar"
)

// Experience is what past receipts teach, ready to be asked about any supplier.
type Experience struct {
	suppliers   map[string]record
	worthOfBase float64
	now         calendar.Day
}

// record is what came from one supplier, oldest order first.
type record struct {
	receipts []Receipt
	overdue  []Outstanding
	change   *Change
}

// Learn takes in all receipts that had come by now, and the orders still out.
// Lines that came in one parcel count once, whether or not the caller joined
// them.
func Learn(receipts []Receipt, outstanding []Outstanding, now calendar.Day) *Experience {
	type parcel struct {
		supplier         string
		ordered, arrived calendar.Day
		quoted           int
		signal           Signal
	}
	seen := map[parcel]bool{}
	by := map[string][]Receipt{}
	for _, r := range receipts {
		p := parcel{r.Supplier, r.Ordered, r.Arrived, quotedDays(r.Quoted, r.Signal), r.Signal}
		if r.Arrived > now || seen[p] {
			continue
		}
		seen[p] = true
		by[r.Supplier] = append(by[r.Supplier], r)
	}
	e := &Experience{suppliers: map[string]record{}, now: now}
	var late [][]int
	for _, supplier := range slices.Sorted(maps.Keys(by)) { // in order: sums of floats depend on it
		own := by[supplier]
		slices.SortStableFunc(own, func(a, b Receipt) int {
			return cmp.Or(cmp.Compare(a.Ordered, b.Ordered), cmp.Compare(a.Arrived, b.Arrived))
		})
		days := make([]int, len(own))
		for i, r := range own {
			days[i] = r.DaysLate()
		}
		late = append(late, days)
		e.suppliers[supplier] = record{receipts: own, change: findChange(own)}
	}
	e.worthOfBase = worthOfBase(late)
	for _, o := range outstanding {
		if o.DaysOverdue() > 0 {
			own := e.suppliers[o.Supplier]
			own.overdue = append(own.overdue, o)
			e.suppliers[o.Supplier] = own
		}
	}
	return e
}

// Order is a shipment to be forecast.
type Order struct {
	Supplier string
	Quoted   *int // working days, absent if the supplier gives no lead time
	Signal   Signal
}

// The votes of receipts that do not quite fit. The figures are the project's own
// judgement: halving is as fine as such a judgement can be.
const (
	daysToHalf      = 365.0 // a receipt a year older counts half
	beforeTheChange = 0.1
)

// vote is how much a receipt says about the order.
func (e *Experience) vote(order Order, r Receipt, change *Change) float64 {
	vote := likeness(order, r.Quoted, r.Signal) *
		math.Exp2(-float64(e.now-r.Arrived)/daysToHalf)
	if change != nil && r.Ordered < change.Since {
		vote *= beforeTheChange
	}
	return vote
}

// votes are those of a supplier's receipts, added up.
func (e *Experience) votes(order Order, from record) (sum float64) {
	for _, r := range from.receipts {
		sum += e.vote(order, r, from.change)
	}
	return sum
}

// cast adds the votes of a supplier's receipts, each times the weight, to the
// days that they speak for.
func (e *Experience) cast(ballot *Distribution, order Order, from record, weight float64) {
	quoted := quotedDays(order.Quoted, order.Signal)
	for _, r := range from.receipts {
		ballot.add(quoted+r.DaysLate(), weight*e.vote(order, r, from.change))
	}
}

// castOverdue adds the votes of orders that are overdue. Each speaks for the
// days still open to it, in the proportions of the base (Susarla and Van Ryzin,
// "Nonparametric Bayesian estimation of survival curves from incomplete
// observations", JASA 71, 1976, spread such votes in this way).
func castOverdue(ballot *Distribution, order Order, overdue []Outstanding, base Distribution) {
	quoted := quotedDays(order.Quoted, order.Signal)
	for _, o := range overdue {
		open := base.StillWaiting(quoted + o.DaysOverdue())
		vote := likeness(order, o.Quoted, o.Signal)
		for day, chance := range open.OnDay {
			ballot.OnDay[day] += vote * chance
		}
		ballot.Beyond += vote * open.Beyond
	}
}

// likeness is how much a past order resembles the one at hand, from 0 to 1.
func likeness(order Order, quoted *int, signal Signal) float64 {
	return likeSignal(order.Signal, signal) *
		likeQuote(quotedDays(order.Quoted, order.Signal), quotedDays(quoted, signal))
}

// likeSignal: a part in stock and one to order travel different ways.
func likeSignal(asked, seen Signal) float64 {
	switch {
	case asked == seen:
		return 1
	case asked == Unknown || seen == Unknown:
		return 0.5
	case asked == ToOrder || seen == ToOrder:
		return 0.125
	}
	return 0.5 // in stock and low
}

// likeQuote: a day late on a quote of one day says little about a quote of
// twenty. One day is added to both, or nothing would be like "the same day".
func likeQuote(asked, seen int) float64 {
	ratio := float64(asked+1) / float64(seen+1)
	switch {
	case ratio > 4 || ratio < 0.25:
		return 0.25
	case ratio > 2 || ratio < 0.5:
		return 0.5
	}
	return 1
}
