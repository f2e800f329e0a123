package reorder

import (
	"math"
	"slices"
)

// The shop's own season. One index stands for the whole shop: each part alone sells too seldom to show it, and pooled
// indices err less (Withycombe, "Forecasting with combined seasonal indices", International Journal of Forecasting 5,
// 1989). It is learnt in two steps. By the month it follows from the first year on, as much as the shop's sales outweigh
// what was believed before. By the week, a rush of two weeks in spring or the days before Christmas, only from the second
// year on, and as far as what one year shows is what another shows: a week of fine weather is no season.

// seasonDoubt is how many sales of the shop in a month the season believed before is worth, if they come by chance alone.
const seasonDoubt = 30

// yearsForWeeks is from how many years of books on weeks have indices of their own, and growth is told from season.
const yearsForWeeks = 2

// shopWeeks are what the shop sold in each week of its books, and what was to be expected of its parts if each sold alike
// all the year.
type shopWeeks struct {
	first          int // week
	sold, expected []float64
}

// shopWeeks adds up the records, with what the season believed before is in each week of the books.
func (m *memory) shopWeeks(b *books, weekly []float64) shopWeeks {
	out := shopWeeks{weekOf(b.start), make([]float64, len(weekly)-1), make([]float64, len(weekly)-1)}
	for _, r := range b.records() {
		rate := m.flatRate(r, weekly)
		for k, asked := range r.asked {
			out.sold[r.first+k] += asked
			out.expected[r.first+k] += rate * r.open[k]
		}
	}
	return out
}

// monthsOf are those of so many weeks, from 0 on.
func monthsOf(first, weeks int) []int {
	month := make([]int, weeks)
	for week := range month {
		month[week] = monthOf(first + week)
	}
	return month
}

// season is the shop's own by its books, from what was believed before.
func (b shopWeeks) season(before *Season) *Weekly {
	month := monthsOf(b.first, len(b.sold))
	years := len(b.sold) / 52
	months, growth := indices(b.sold, b.expected, month, before[:], seasonDoubt, years >= yearsForWeeks)
	expected := grown(b.expected, growth)
	for week := range expected {
		expected[week] *= months[month[week]]
	}
	uneven := unevenness(b.sold, expected)
	months, growth = indices(b.sold, b.expected, month, before[:], seasonDoubt*uneven, years >= yearsForWeeks)
	season := (*Season)(months).byWeek()
	if years >= yearsForWeeks {
		shopWeeks{b.first, b.sold, grown(b.expected, growth)}.bend(season, uneven)
	}
	return season.over(nil)
}

// bend bends the season by what the weeks of one year show of another's.
func (b shopWeeks) bend(season *Weekly, unevenness float64) {
	seen, last := newYears(len(b.sold)/52, len(season)), len(b.sold)-1
	for week, sold := range b.sold {
		stretch := weekOfYear(b.first + week)
		seen.add(last-week, stretch, sold, b.expected[week]*season[stretch])
	}
	seen.level()
	worth := repeated([]*years{seen}, unevenness)
	if worth == 0 {
		return
	}
	for week, bend := range seen.bend(1 / worth) {
		season[week] *= bend
	}
}

// indices are those of the stretches of a year, by what was sold over what was expected in each period, of which it is
// told which stretch it belongs to, and by what is believed before, which is worth so many sales. The shop may also have
// grown, by so much a period in its logarithm, which is no season. Without doubt this is the Poisson regression on the
// stretch and the time.
func indices(sold, expected []float64, of []int, before []float64, doubt float64, grows bool) (index []float64, growth float64) {
	const steps, most, close = 50, 0.02, 1e-12 // so that no step leaps
	rise := sum(aboutMiddle(sold, of, len(before))[1])
	for range steps {
		s, e := aboutMiddle(sold, of, len(before)), aboutMiddle(grown(expected, growth), of, len(before))
		index = make([]float64, len(before))
		slope, curve := rise, 0.0
		for k := range index {
			index[k] = (doubt*before[k] + s[0][k]) / (doubt + e[0][k])
			slope -= index[k] * e[1][k]
			curve += index[k] * (e[2][k] - e[1][k]*e[1][k]/(doubt+e[0][k]))
		}
		if !grows || curve <= 0 || math.Abs(slope/curve) < close {
			break
		}
		growth += max(-most, min(most, slope/curve))
	}
	return index, growth
}

// aboutMiddle are the sums of a series by stretch, and those of it times the time from its middle, and its square.
func aboutMiddle(series []float64, of []int, stretches int) (m [3][]float64) {
	for power := range m {
		m[power] = make([]float64, stretches)
	}
	for t, x := range series {
		away := float64(t) - float64(len(series)-1)/2
		m[0][of[t]] += x
		m[1][of[t]] += x * away
		m[2][of[t]] += x * away * away
	}
	return m
}

// grown is a series with a growth a period about its middle.
func grown(series []float64, growth float64) []float64 {
	out := make([]float64, len(series))
	for t, x := range series {
		out[t] = x * math.Exp(growth*(float64(t)-float64(len(series)-1)/2))
	}
	return out
}

// unevenness is how many times the variance of a Poisson's the weeks of a shop have about what was expected of them: fine
// weather is had by all parts at once. It goes by the week in the middle (of a chi-squared with one degree of freedom), so
// that a few weeks of a rush are no unevenness.
func unevenness(sold, expected []float64) float64 {
	var off []float64
	for t, e := range expected {
		if e > 0 {
			off = append(off, (sold[t]-e)*(sold[t]-e)/e)
		}
	}
	if len(off) == 0 {
		return 1
	}
	const middle = 0.4549 // of chi-squared: Abramowitz and Stegun, table 26.8, by 0.6745 squared
	slices.Sort(off)
	return max(1, off[len(off)/2]/middle)
}
