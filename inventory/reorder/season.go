package reorder

import (
	"math"
	"time"
)

// Season is how much is asked for in each month, January first, over the mean of the year. One index stands for the whole
// shop: each part alone sells too seldom to show it, and pooled indices err less (Withycombe, "Forecasting with combined
// seasonal indices", International Journal of Forecasting 5, 1989).
type Season [12]float64

// Riding is the season of riding: rentals a day of a city's hire bikes in 2011 and 2012, the mean of both years (computed
// from Fanaee-T and Gama, "Event labeling combining ensemble detectors and background knowledge", Progress in Artificial
// Intelligence 2, 2013). It stands in for a workshop's own until a year of books is there.
var Riding = Season{0.46, 0.575, 0.78, 0.985, 1.21, 1.31, 1.255, 1.27, 1.275, 1.16, 0.955, 0.77}

// SeasonOf is the season that twelve numbers tell, in any measure: how many bikes come in, or what is taken.
func SeasonOf(months [12]float64) (out Season) {
	sum := 0.0
	for _, n := range months {
		sum += n
	}
	for m, n := range months {
		out[m] = 12 * n / sum
	}
	return out
}

// Turned is the season of the other half of the earth.
func (s Season) Turned() (out Season) {
	for m := range s {
		out[m] = s[(m+6)%12]
	}
	return out
}

// at is the index of a working day, from the middle of one month to that of the next in a straight line.
func (s *Season) at(workingDay int) float64 {
	date := time.Unix(int64(DaysSince1970(workingDay))*24*3600, 0).UTC()
	month := float64(date.Month()) - 1 + (float64(date.Day())-0.5)/30.4 - 0.5
	whole := math.Floor(month)
	part := month - whole
	from := (int(whole) + 12) % 12
	return s[from]*(1-part) + s[(from+1)%12]*part
}

// of is the index of a week.
func (s *Season) of(week int) float64 { return s.at(week*daysPerPeriod + daysPerPeriod/2) }

// ahead is the index over the coming weeks for which levels stand. It moves on day by day, so that the advice of two
// neighbouring days differs by next to nothing.
func (s *Season) ahead(now, weeks int) float64 {
	sum := 0.0
	for k := range weeks {
		sum += s.at(now + k*daysPerPeriod + daysPerPeriod/2)
	}
	return sum / float64(weeks)
}

// seasonDoubt is how many sales of the shop in a month the season believed before is worth.
const seasonDoubt = 30

// season is the shop's season by its books: what it sold in each month over what its parts usually sell, shrunk to the
// season believed before.
func (m *memory) season(b *books, firstWeek int, before *Season) *Season {
	var sold, expected [12]float64
	for _, r := range b.records() {
		total, open := 0.0, 0.0
		for k, asked := range r.asked {
			total += asked
			open += r.open[k] * before.of(firstWeek+r.first+k)
		}
		g := gamma{m.shape + total, m.weeks + open}
		for k, asked := range r.asked {
			week := firstWeek + r.first + k
			month := time.Unix(int64(DaysSince1970(week*daysPerPeriod+2))*24*3600, 0).UTC().Month() - 1
			sold[month] += asked
			expected[month] += g.shape / g.rate * r.open[k]
		}
	}
	var out Season
	mean := 0.0
	for month := range out {
		out[month] = (seasonDoubt*before[month] + sold[month]) / (seasonDoubt + expected[month])
		mean += out[month] / 12
	}
	for month := range out {
		out[month] /= mean
	}
	return &out
}
