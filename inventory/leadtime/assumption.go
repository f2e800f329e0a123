package leadtime

import "math"

// Assumption is what is taken for granted of a supplier from whom nothing has
// come yet: how often it is late, and by how much.
//
// The figures are the project's own, set wide on purpose; they have no
// published source. They count as a single supplier and give way to receipts.
type Assumption struct {
	QuotedDays   int     // working days
	QuoteAssumed bool    // the supplier gave no lead time; QuotedDays is ours
	LateChance   float64 // chance of arriving after the quote
	MeanDaysLate float64 // working days, of those that are late
}

// assume is the assumption for a quote (absent if none was given) and a signal.
func assume(quoted *int, signal Signal) Assumption {
	a := Assumption{QuotedDays: quotedDays(quoted, signal), QuoteAssumed: quoted == nil}
	switch signal {
	case InStock:
		a.LateChance = 0.25
	case Low:
		a.LateChance = 0.35
	case ToOrder:
		a.LateChance = 0.5
	default:
		a.LateChance = 0.4
	}
	// The longer the wait that is quoted, the longer the wait on top.
	a.MeanDaysLate = math.Max(2, float64(a.QuotedDays)/2)
	return a
}

// quotedDays is the quote, or what stands in for one.
func quotedDays(quoted *int, signal Signal) int {
	if quoted != nil {
		return *quoted
	}
	switch signal {
	case InStock, Low:
		return 2
	case ToOrder:
		return 10
	}
	return 5
}

// neverOfLate is how many of the parcels that are late never come. It is so small
// that it says nothing until a parcel is very late, and then grows with the wait.
const neverOfLate = 1.0 / 2000

// distribution is on time with chance 1-LateChance, else late with a tail.
func (a Assumption) distribution() Distribution {
	d := newDistribution()
	d.mixIn(a.laterThan(0), a.LateChance*(1-neverOfLate))
	d.add(a.QuotedDays, 1-a.LateChance)
	d.Beyond += 1 - d.total()
	return d
}

// laterThan is what is later than so many days after the quote, with the usual tail.
func (a Assumption) laterThan(late int) Distribution {
	d, tail := newDistribution(), usualTail(a.MeanDaysLate)
	before := 1.0 // later than the day before
	for day := a.QuotedDays + late + 1; day <= horizonDays; day++ {
		after := tail.longer(math.Max(0, float64(late)), float64(day-a.QuotedDays))
		d.add(day, before-after)
		before = after
	}
	d.Beyond += 1 - d.total()
	return d
}
