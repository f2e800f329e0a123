package reorder

import "slices"

// Sale is what one customer took at once.
type Sale struct {
	Day    int // working day, counted from any day: five a week
	Pieces int
	Share  float64 // how much of a sale it counts for: less than 1 for one that was only asked for; 0 is a whole one
}

// counts is how much of a sale it is.
func (s Sale) counts() float64 {
	if s.Share > 0 {
		return s.Share
	}
	return 1
}

// Stretch is working days, up to the last and without it, of which a share of the demand could not be seen.
type Stretch struct {
	From, To int
	Share    float64
}

// LeadTime is how long an order takes: the chance of each number of working days from
// the order, adding up to 1.
type LeadTime struct{ OnDay []float64 }

// Mean and variance of the working days.
func (l *LeadTime) Moments() (mean, variance float64) {
	square := 0.0
	for day, chance := range l.OnDay {
		mean += float64(day) * chance
		square += float64(day) * float64(day) * chance
	}
	return mean, square - mean*mean
}

// LeadTimeOf is the lead time with the chances given, of which those for later than
// the last day, or never, are left out: an order that does not come is not waited for
// but asked after and placed elsewhere. It is nil where nothing is left.
func LeadTimeOf(onDay []float64) *LeadTime {
	sum := 0.0
	last := 0
	for day, chance := range onDay {
		sum += chance
		if chance > 1e-6 {
			last = day
		}
	}
	if sum <= 0 {
		return nil
	}
	l := &LeadTime{OnDay: make([]float64, last+1)}
	for day := range l.OnDay {
		l.OnDay[day] = onDay[day] / sum
	}
	return l
}

// SortSales puts sales in the order of their days.
func SortSales(sales []Sale) {
	slices.SortStableFunc(sales, func(a, b Sale) int { return a.Day - b.Day })
}
