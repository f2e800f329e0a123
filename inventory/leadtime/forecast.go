package leadtime

import (
	"maps"
	"slices"

	"stead/inventory/calendar"
)

// Forecast is the distribution of one order's lead time with what it rests on.
type Forecast struct {
	Distribution
	Order      Order
	Assumption Assumption
	// The shares of the forecast that rest on the supplier's own receipts, on
	// other suppliers' and on the assumption. They add up to 1.
	OwnShare, OthersShare, AssumedShare float64
	OwnReceipts, OtherSuppliers         int
	OwnOnTime                           int           // of OwnReceipts, those that came by the quote
	Change                              *Change       // absent if the supplier keeps to its habits
	Freaks                              []Receipt     // receipts far later than the supplier's others
	Overdue                             []Outstanding // orders that should have come by now
	Strain                              Strain        // common to all suppliers

	strain          *strain      // absent if none was looked for
	usual, ordinary circumstance // by all receipts, and by those alone that came under no strain
}

// base is what is expected of a supplier before its own receipts speak.
type base struct {
	Distribution
	suppliers int     // others that it rests on
	weight    float64 // of these, where the assumption weighs 1
}

const asOneSupplier = 1

// base is every other supplier, and the assumption as one more. A supplier with
// few receipts is less than one, by the same weight as in Forecast.
func (e *Experience) base(order Order) base {
	var b base
	others := newDistribution()
	for _, supplier := range slices.Sorted(maps.Keys(e.suppliers)) {
		other := e.suppliers[supplier]
		if n := count(other.alike, order); n > 0 && supplier != order.Supplier {
			cast(&others, other.alike, order, 1/(n+e.worthOfBase))
			b.suppliers++
		}
	}
	b.weight = others.total()
	b.Distribution = mix(assume(order.Quoted, order.Signal).distribution(), asOneSupplier, others)
	return b
}

// moved is the base of a supplier that is later than others by one of the shifts.
func (b base) moved(shifts []shift) Distribution {
	d := newDistribution()
	for _, s := range shifts {
		for day, chance := range b.OnDay {
			d.add(day+s.days, s.chance*chance)
		}
		d.Beyond += s.chance * b.Beyond
	}
	return d
}

// Forecast answers for an order, whether or not anything has ever come from its
// supplier. In a strain it is, as far as that is likely, what the supplier does at
// other times, later by the strain.
func (e *Experience) Forecast(order Order) Forecast {
	f := e.forecast(order)
	if e.strain == nil {
		return f
	}
	f.Strain, f.strain = e.strain.found, e.strain
	if e.strain.ordinary != e {
		ordinary := e.strain.ordinary.forecast(order)
		f.ordinary, f.Change, f.Freaks = ordinary.usual, ordinary.Change, ordinary.Freaks
	}
	f.Distribution = newDistribution()
	// When a strain begins is known to a step, and it is as well to be a step early.
	for _, c := range f.under(e.strain.now + inCalendar(f.Assumption.QuotedDays) + strainStep) {
		f.mixIn(base{Distribution: c.without}.moved([]shift{{days: c.later, chance: 1}}), c.chance)
	}
	return f
}

// under is what the order may be under if it is due on a day.
func (f Forecast) under(due calendar.Day) []circumstance {
	usual, ordinary := f.usual, f.ordinary
	if f.strain == nil {
		usual.chance = 1
		return []circumstance{usual}
	}
	levels, over := f.strain.levels(due)
	all := make([]circumstance, 2, 2+len(levels))
	left := 1 - over
	for days, chance := range levels {
		if chance > negligible {
			ordinary.chance, ordinary.later = chance*strainFollows, days
			all = append(all, ordinary)
			left -= ordinary.chance
		}
	}
	usual.chance, ordinary.chance, ordinary.later = left, over, 0
	all[0], all[1] = usual, ordinary
	return all
}

// forecast is Forecast without a strain.
func (e *Experience) forecast(order Order) Forecast {
	f := Forecast{Order: order, Assumption: assume(order.Quoted, order.Signal), Distribution: newDistribution()}
	own := e.suppliers[order.Supplier]
	if own == nil {
		own = newRecord()
	}
	base := e.base(order)
	overdue := own.overdueVotes(order, base.moved(own.shifts(func(memory) float64 { return 1 })))

	// One mix for each memory of the supplier, weighed by how likely it is.
	open := overdue.total()
	baseShare := func(m memory) float64 {
		return e.worthOfBase / (e.worthOfBase + count(own.votes[m.since:], order) + open + own.unseen(m))
	}
	f.Distribution.mixIn(base.moved(own.shifts(baseShare)), 1)
	unseen := make([]float64, horizonDays+1) // by how late the latest was of those that a memory counts
	for _, m := range own.memories {
		share := baseShare(m)
		vote := m.weight * share / e.worthOfBase
		cast(&f.Distribution, own.votes[m.since:], order, vote)
		f.Distribution.mixIn(overdue, vote)
		if m.since > 0 {
			unseen[own.latestOf(m)] += vote * own.unseen(m)
		}
		f.OwnShare += m.weight*(1-share) - vote*own.unseen(m)
	}

	rest := 1 - f.OwnShare
	for latest, share := range unseen {
		if share > 0 {
			f.Distribution.mixIn(f.Assumption.laterThan(latest), share)
			rest -= share
		}
	}

	f.OtherSuppliers = base.suppliers
	f.OthersShare = rest * base.weight / (base.weight + asOneSupplier)
	f.AssumedShare = 1 - f.OwnShare - f.OthersShare
	f.usual = circumstance{without: f.Distribution, waits: e.waits(order)}
	f.ordinary = f.usual
	f.OwnReceipts = len(own.receipts)
	for _, days := range own.daysLate() {
		if days <= 0 {
			f.OwnOnTime++
		}
	}
	f.Change = own.change
	f.Overdue = own.overdue
	f.Freaks = freaks(own.receipts)
	return f
}
