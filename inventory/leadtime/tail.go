package leadtime

import "math"

// tail is how much longer something takes that is late already. Waits of this
// kind have no usual length: what is k days late is late by about as much again
// (a Pareto tail with an exponent of about 2, whose mean residual life grows with
// the wait).
//
// How heavy the tail is, its exponent, is not known but learnt: it has a gamma
// distribution, with events and exposure as its shape and rate, to which every
// late receipt adds one event and the logarithm by which it outlasted the
// threshold (the conjugate prior of Hill's estimator: B. M. Hill, "A simple
// general approach to inference about the tail of a distribution", Annals of
// Statistics 3, 1975). The chances below are averaged over what the exponent may
// be, so little evidence gives a heavier tail than much.
type tail struct {
	events, exposure float64
	scale            float64 // working days: below it lateness counts as being on its way
}

// usualTail has the exponent 2 and the weight of eight late receipts. The weight
// is the project's own judgement.
func usualTail(scale float64) tail { return tail{events: 8, exposure: 4, scale: scale} }

// overdueTail is that of what is overdue already, of which little else is known. It may be on its way or wait for its
// maker, for weeks whatever was quoted, and is the likelier to be a parcel that waits: six working days more than the
// usual scale, in the project's own judgement, but with an exponent of 2.5 instead.
func overdueTail(scale float64) tail { return tail{events: 8, exposure: 3.2, scale: scale + 6} }

// longer is the chance that what is later than from days is later than to days.
func (t tail) longer(from, to float64) float64 {
	if to <= from {
		return 1
	}
	reach := math.Log((t.scale + to) / (t.scale + from))
	return math.Pow(t.exposure/(t.exposure+reach), t.events)
}

// fitted is the tail of what is later than so many days, after what has been seen: waits that were longer. Those that were
// not tell nothing of how much longer it takes; nor do those that are not really late, by no more than the scale, which
// belong to the body and not to the tail.
func (t tail) fitted(seen []wait, days int) tail {
	from := math.Max(float64(days), t.scale)
	least := math.Log(t.scale + from)
	for _, w := range seen {
		if late := float64(w.late); !w.open && late > from {
			t.events += w.weight
			t.exposure += w.weight * (math.Log(t.scale+late) - least)
		}
	}
	return t
}
