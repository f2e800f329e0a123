package reorder

import "slices"

// daysPerPeriod is a week: demand is counted by calendar weeks, so that advice does not
// depend on the day on which it is asked for.
const daysPerPeriod = 5

// record is how often a part was asked for, by week, from its first sale on. The first
// sale itself is apart: a part is in the books because somebody once asked for it,
// which says little of how soon the next one will.
type record struct {
	first int       // week of the first sale
	lag   float64   // weeks from the start of the books to the first sale
	asked []float64 // sales in each week from the first on, without the very first sale
	open  []float64 // how much of each of these weeks the part was watched: the first from its first sale, the last up to today
	sizes []Sale
	dear  float64 // log of its price over the usual one
	lead  int     // weeks that an order of it takes
	bend  *Weekly // how the season of its kind differs from the shop's; nil: not known to
}

// count counts the sales up to the day, which is not over yet and not counted; false where there are none.
func (r *record) count(start, now int) bool {
	sales := r.sizes[:countBefore(r.sizes, now)]
	if len(sales) == 0 {
		return false
	}
	firstDay := sales[0].Day
	r.first, r.lag, r.sizes = weekOf(firstDay), float64(firstDay-start)/daysPerPeriod, sales
	weeks := weekOf(now-1) - r.first + 1
	r.asked, r.open = slices.Grow(r.asked[:0], weeks)[:weeks], slices.Grow(r.open[:0], weeks)[:weeks]
	clear(r.asked)
	for i := range r.open {
		r.open[i] = 1
	}
	r.open[0] -= (float64(firstDay-r.first*daysPerPeriod) + 0.5) / daysPerPeriod
	r.open[weeks-1] -= float64((r.first+weeks)*daysPerPeriod-now) / daysPerPeriod
	for _, s := range sales[1:] {
		r.asked[weekOf(s.Day)-r.first] += s.counts()
	}
	return true
}

// leastSeen is how much of a week counts at least, however much of it could not be seen.
const leastSeen = 0.1

// unsee takes off the weeks what could not be seen of them.
func (r *record) unsee(stretches []Stretch) {
	for i := range r.open {
		monday := (r.first + i) * daysPerPeriod
		hidden := 0.0
		for _, s := range stretches {
			hidden += s.Share * float64(max(0, min(s.To, monday+daysPerPeriod)-max(s.From, monday))) / daysPerPeriod
		}
		r.open[i] *= max(leastSeen, 1-hidden)
	}
}

// countBefore is how many sales were before the day.
func countBefore(sales []Sale, day int) int {
	n := len(sales)
	for n > 0 && sales[n-1].Day >= day {
		n--
	}
	return n
}

// weekOf is the week of a day, also of days before day 0.
func weekOf(day int) int {
	if day < 0 {
		return -((-day + daysPerPeriod - 1) / daysPerPeriod)
	}
	return day / daysPerPeriod
}
