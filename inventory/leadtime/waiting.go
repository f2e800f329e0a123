package leadtime

import (
	"maps"
	"slices"

	"stead/inventory/calendar"
)

// waits are those of what came late or is overdue, as far as it is like an order.
type waits struct {
	own    []wait
	others [][]wait // a supplier each
	worth  float64  // of the others, in receipts of the supplier's own
}

// wait is how many working days past its quote something came, or has not come by now.
type wait struct {
	late   int
	open   bool
	weight float64
}

func (e *Experience) waits(order Order) waits {
	w := waits{worth: e.worthOfBase}
	for _, supplier := range slices.Sorted(maps.Keys(e.suppliers)) {
		seen := e.suppliers[supplier].waits(order)
		if supplier == order.Supplier {
			w.own = seen
		} else {
			w.others = append(w.others, seen)
		}
	}
	return w
}

func (r *record) waits(order Order) []wait {
	quoted := quotedDays(order.Quoted, order.Signal)
	var seen []wait
	for _, v := range r.alike {
		if v.late > 0 {
			seen = append(seen, wait{late: v.late, weight: v.weight * likeness(order.Signal, quoted, v.signal, v.quoted)})
		}
	}
	for _, o := range r.overdue {
		like := likeness(order.Signal, quoted, o.Signal, quotedDays(o.Quoted, o.Signal))
		seen = append(seen, wait{late: o.DaysOverdue(), open: true, weight: like * freshness(o)})
	}
	return seen
}

// longerThan are the waits of more than so many days, each times a share.
func longerThan(seen []wait, days int, share float64) (longer []wait) {
	for _, w := range seen {
		if w.late > days {
			w.weight *= share
			longer = append(longer, w)
		}
	}
	return longer
}

// cameAfter is how much came that was later than by so many working days, in receipts just like the order and of today.
func (w waits) cameAfter(late int) (came float64) {
	add := func(seen []wait) {
		for _, s := range seen {
			if s.late > late && !s.open {
				came += s.weight
			}
		}
	}
	add(w.own)
	for _, seen := range w.others {
		add(seen)
	}
	return came
}

// asReceipts is the share of a receipt for which each wait of another supplier counts: those of one supplier are alike,
// and n of them tell no more than n(a+1)/(n+a) of different suppliers would, where a is the worth of the others in own
// receipts (the design effect of a sample in clusters: L. Kish, "Survey Sampling", 1965; the likeness within a cluster
// is 1/(1+a)).
func (w waits) asReceipts(seen []wait) float64 {
	n := 0.0
	for _, s := range seen {
		n += s.weight
	}
	return (w.worth + 1) / (w.worth + n)
}

// ends are, by the day after a wait of so many, the waits that ended on it and those that had not ended before.
type ends struct{ ended, open []float64 }

func countEnds(seen []wait, from, days int) ends {
	e := ends{ended: make([]float64, days), open: make([]float64, days)}
	for _, w := range seen {
		last := w.late - from // the day on which it ended or is still open
		for day := range min(last, days) {
			e.open[day] += w.weight
		}
		if !w.open && last <= days {
			e.ended[last-1] += w.weight
		}
	}
	return e
}

// tailWorth is how many waits the tail counts for beside those seen: one for what is longer than any of them, of which
// order statistics want 1 in n+1 (see TestOrderStatistics), and a half because suppliers are not all alike, in the
// project's own judgement.
const tailWorth = 1.5

// coming are the chances that what is late by so many days comes on each of the days after, if it has not come before.
// On each of them the tail is mended by what others did that had waited as long, and that by what the supplier did (a
// beta-Stacy process in two steps: S. Walker, P. Muliere, "Beta-Stacy processes and a generalization of the Pólya-urn
// scheme", Annals of Statistics 25, 1997). Only those that waited as long are asked: how many parcels come as quoted says
// nothing of one that did not. A supplier that is often late has more of them, as it has more of what is overdue.
func (w waits) coming(t tail, late, days int) []float64 {
	own := longerThan(w.own, late, 1)
	var others []wait
	for _, seen := range w.others {
		seen = longerThan(seen, late, 1)
		others = append(others, longerThan(seen, late, w.asReceipts(seen))...)
	}
	t = t.fitted(others, late).fitted(own, late)
	fromOthers, fromOwn := countEnds(others, late, days), countEnds(own, late, days)
	chances := make([]float64, days)
	before := 1.0
	for day := range chances {
		after := t.longer(float64(late), float64(late+day+1))
		known := tailWorth + fromOthers.open[day]
		chance := (tailWorth*(1-after/before) + fromOthers.ended[day]) / known
		// The others say how this supplier is as far as suppliers are alike, and as far as enough of them were seen.
		worth := 1 / (1/w.worth + 1/known)
		chances[day] = (worth*chance + fromOwn.ended[day]) / (worth + fromOwn.open[day])
		before = after
	}
	return chances
}

// circumstance is one answer to what an order is under: that of no strain, or that of one that makes it so many days
// later.
type circumstance struct {
	chance  float64
	later   int // working days
	without Distribution
	waits   waits
}

// stillWaiting is the forecast, without the strain, of what has not come within n working days.
func (c circumstance) stillWaiting(a Assumption, n int) Distribution {
	late := n - a.QuotedDays
	if late <= 0 || n >= horizonDays {
		return c.without.StillWaiting(n)
	}
	t := overdueTail(a.MeanDaysLate)
	lost := neverOfLate / (neverOfLate + t.longer(0, float64(late)))
	d, left := newDistribution(), 1-lost
	for day, chance := range c.waits.coming(t, late, horizonDays-n) {
		d.OnDay[n+1+day] = left * chance
		left *= 1 - chance
	}
	d.Beyond = lost + left
	return d
}

// due is the day on which an order was due that has been waited for so many working days.
func (f Forecast) due(waited int) calendar.Day {
	if f.strain == nil {
		return 0
	}
	return f.strain.now - inCalendar(waited-f.Assumption.QuotedDays)
}

// StillWaiting is the forecast for a shipment that has not come within n working days of its order. The longer it is
// overdue, the likelier there is a strain by which everything is late.
//
// A new shop can't be right in every world: a parcel that is a day late comes within a few days more, 9 times in 10, where
// late parcels are only on their way, and within weeks where a part is either there or on back order. Where it has seen
// nothing that waited as long, the date is one that does for back orders, and late for the rest.
func (f Forecast) StillWaiting(n int) Distribution {
	if n <= f.Assumption.QuotedDays || n >= horizonDays {
		return f.Distribution.StillWaiting(n)
	}
	d, total := newDistribution(), 0.0
	for _, c := range f.under(f.due(n)) {
		open := c.chance * (1 - c.without.By(n-c.later))
		total += open
		waiting := base{Distribution: c.stillWaiting(f.Assumption, n-c.later)}
		d.mixIn(waiting.moved([]shift{{days: c.later, chance: 1}}), open)
	}
	for day := range d.OnDay {
		d.OnDay[day] /= total
	}
	d.Beyond /= total
	return d
}

// seenEnough is the worth of what waited as long and came, in receipts, from which a date rests on it: one receipt of the
// same kind of a year ago. Below that the tail counts for three times as much, and the date is its own.
const seenEnough = 0.5

// Unseen reports whether StillWaiting rests on nothing seen: of what came in the last year for orders like this one, from
// its supplier or another, nothing was later than it is by now.
func (f Forecast) Unseen(n int) bool {
	late := n - f.Assumption.QuotedDays
	return late > 0 && f.usual.waits.cameAfter(late) < seenEnough
}
