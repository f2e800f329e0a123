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
}

// record is what came from one supplier, oldest order first, and what should
// have come.
type record struct {
	receipts []Receipt
	votes    []vote // one a receipt, in the same order
	overdue  []Outstanding
	change   *Change
}

// vote is a receipt as it counts today, whatever is asked.
type vote struct {
	late   int // working days after its quote
	quoted int // working days
	signal Signal
	weight float64
}

// Learn takes in all receipts that had come by now, and the orders still out.
// Lines that came in one parcel count once, whether or not the caller joined
// them.
func Learn(receipts []Receipt, outstanding []Outstanding, now calendar.Day) *Experience {
	e := &Experience{suppliers: map[string]record{}}
	var late [][]int
	own := parcels(receipts, now)
	for _, supplier := range slices.Sorted(maps.Keys(own)) { // in order: sums of floats depend on it
		r := record{receipts: own[supplier], change: findChange(own[supplier])}
		days := make([]int, len(r.receipts))
		for i, receipt := range r.receipts {
			days[i] = receipt.DaysLate()
			r.votes = append(r.votes, vote{
				late: days[i], quoted: quotedDays(receipt.Quoted, receipt.Signal), signal: receipt.Signal,
				weight: weight(receipt, r.change, now),
			})
		}
		late = append(late, days)
		e.suppliers[supplier] = r
	}
	e.worthOfBase = worthOfBase(late)
	for _, o := range outstanding {
		if o.DaysOverdue() > 0 {
			r := e.suppliers[o.Supplier]
			r.overdue = append(r.overdue, o)
			e.suppliers[o.Supplier] = r
		}
	}
	return e
}

// DaysLate are how many working days after their quotes a supplier's receipts came, the oldest order first.
func (e *Experience) DaysLate(supplier string) []int {
	var days []int
	for _, r := range e.suppliers[supplier].receipts {
		days = append(days, r.DaysLate())
	}
	return days
}

// parcels sorts the receipts that had come by now by supplier and age, and leaves
// out all but one of the lines of a parcel.
func parcels(receipts []Receipt, now calendar.Day) map[string][]Receipt {
	type parcel struct {
		supplier         string
		ordered, arrived calendar.Day
		quoted           int
		signal           Signal
	}
	seen := map[parcel]bool{}
	own := map[string][]Receipt{}
	for _, r := range receipts {
		p := parcel{r.Supplier, r.Ordered, r.Arrived, quotedDays(r.Quoted, r.Signal), r.Signal}
		if r.Arrived <= now && !seen[p] {
			seen[p] = true
			own[r.Supplier] = append(own[r.Supplier], r)
		}
	}
	for _, r := range own {
		slices.SortStableFunc(r, func(a, b Receipt) int {
			return cmp.Or(cmp.Compare(a.Ordered, b.Ordered), cmp.Compare(a.Arrived, b.Arrived))
		})
	}
	return own
}

// How much a receipt counts. The figures are the project's own judgement: halving
// is as fine as such a judgement can be.
const (
	daysToHalf      = 365.0 // a receipt a year older counts half
	beforeTheChange = 0.1
)

// weight is what is left of a receipt's vote after time, and after a change.
func weight(r Receipt, change *Change, now calendar.Day) float64 {
	left := math.Exp2(-float64(now-r.Arrived) / daysToHalf)
	if change != nil && r.Ordered < change.Since {
		left *= beforeTheChange
	}
	return left
}

// Order is a shipment to be forecast.
type Order struct {
	Supplier string
	Quoted   *int // working days, absent if the supplier gives no lead time
	Signal   Signal
}

// count adds up a supplier's votes on the order.
func (r record) count(order Order) (votes float64) {
	quoted := quotedDays(order.Quoted, order.Signal)
	for _, v := range r.votes {
		votes += v.weight * likeness(order.Signal, quoted, v.signal, v.quoted)
	}
	return votes
}

// cast adds a supplier's votes on the order, each times worth, to the days that
// they speak for.
func (r record) cast(ballot *Distribution, order Order, worth float64) {
	quoted := quotedDays(order.Quoted, order.Signal)
	for _, v := range r.votes {
		ballot.add(quoted+v.late, worth*v.weight*likeness(order.Signal, quoted, v.signal, v.quoted))
	}
}

// castOverdue adds the votes of orders that are overdue. Each speaks for the
// days still open to it, in the proportions of the base (Susarla and Van Ryzin,
// "Nonparametric Bayesian estimation of survival curves from incomplete
// observations", JASA 71, 1976, spread such votes in this way).
func (r record) castOverdue(ballot *Distribution, order Order, base Distribution) {
	quoted := quotedDays(order.Quoted, order.Signal)
	for _, o := range r.overdue {
		open := base.StillWaiting(quoted + o.DaysOverdue())
		vote := likeness(order.Signal, quoted, o.Signal, quotedDays(o.Quoted, o.Signal))
		for day, chance := range open.OnDay {
			ballot.OnDay[day] += vote * chance
		}
		ballot.Beyond += vote * open.Beyond
	}
}

// likeness is how much a past order resembles the one asked about, from 0 to 1, by
// what was said of the stock and by the working days quoted. Its figures are the
// project's own judgement too.
func likeness(asked Signal, askedDays int, seen Signal, seenDays int) float64 {
	return likeSignal(asked, seen) * likeQuote(askedDays, seenDays)
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
