package reorder

import (
	"math"
	"time"
)

// Weekly is how much is asked for in each week of the year, a fifty-second of it, that of 1 January first, over the mean
// of the year.
type Weekly [52]float64

// byWeek is the season by the week, from the middle of one month to that of the next in a straight line.
func (s *Season) byWeek() *Weekly {
	var out Weekly
	for week := range out {
		out[week] = onTheYear(s[:], (float64(week)+0.5)/float64(len(out)))
	}
	return &out
}

// at is the index of a working day, from the middle of one week to that of the next in a straight line.
func (w *Weekly) at(workingDay int) float64 {
	return onTheYear(w[:], (float64(dateOf(workingDay).YearDay())-0.5)/daysOfYear)
}

// daysOfYear are those of a usual one and a quarter.
const daysOfYear = 365.25

// onTheYear is the figure at a point of the year, from 0 to 1: from the middle of one stretch to that of the next in a
// straight line.
func onTheYear(figures []float64, at float64) float64 {
	n := len(figures)
	at = at*float64(n) - 0.5
	whole := math.Floor(at)
	from := (int(whole) + n) % n
	return figures[from]*(1-at+whole) + figures[(from+1)%n]*(at-whole)
}

// of is the index of a week of the books.
func (w *Weekly) of(week int) float64 { return w.at(middleOf(week)) }

// ahead is the index over the coming weeks. It moves on day by day, so that the advice of two neighbouring days differs
// by next to nothing.
func (w *Weekly) ahead(now, weeks int) float64 {
	sum := 0.0
	for k := range weeks {
		sum += w.at(now + k*daysPerPeriod + daysPerPeriod/2)
	}
	return sum / float64(weeks)
}

// over puts the mean of the year, each week weighed by the other index, to 1.
func (w *Weekly) over(other *Weekly) *Weekly {
	mean := 0.0
	for week := range w {
		by := 1.0
		if other != nil {
			by = other[week]
		}
		mean += w[week] * by / float64(len(w))
	}
	for week := range w {
		w[week] /= mean
	}
	return w
}

// middleOf is the working day in the middle of a week of the books.
func middleOf(week int) int { return week*daysPerPeriod + daysPerPeriod/2 }

// monthOf is the month that the middle of a week of the books is in, from 0 on.
func monthOf(week int) int { return int(dateOf(middleOf(week)).Month()) - 1 }

// weekOfYear is the week of the year that the middle of a week of the books is in, from 0 on.
func weekOfYear(week int) int {
	return int(float64(dateOf(middleOf(week)).YearDay()-1) * float64(len(Weekly{})) / (daysOfYear + 1))
}

func dateOf(workingDay int) time.Time {
	return time.Unix(int64(DaysSince1970(workingDay))*24*3600, 0).UTC()
}
