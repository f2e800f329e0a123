package reorder

import (
	"math"
	"slices"
)

// horizon is what forecasts are for: demand over so many weeks, beginning up to so many
// weeks after the advice.
type horizon struct{ weeks, wait int }

// after is how many weeks after the advice of a week a forecast is judged: any of those for which levels stand, in no order,
// so that a part which sells in every other week is not judged by the weeks in which it does.
func after(week, wait int) int {
	return int(uint32(week)*2654435761>>16) % (wait + 1)
}

// mostTaught is from how many parts the figures common to all are learnt, and mostTold by about how many of their
// forecasts: parts differ more from one another than a part's weeks do, so many are asked, each now and then. mostJudged
// is by how many parts it is judged which paces to reckon with.
const (
	mostTaught = 800
	mostTold   = 16_000
	mostJudged = 1_500
)

// told is a forecast of a part that is held against what came.
type told struct {
	week         int     // of the record, before which it is made
	sales, weeks float64 // that came, and how long it was waited for them
	span         int     // weeks
}

// teaching is what a memory is taught from, and judged by.
type teaching struct {
	records []*record
	season  []float64 // by week of the books
	told    [][]told  // of each record, by week
	n       int       // of these
	every   float64   // of so many forecasts one is told
}

// taughtBy are records to teach from.
func taughtBy(records []*record, season []float64, over horizon) *teaching {
	weeks := 0
	for _, r := range records {
		weeks += len(r.asked)
	}
	return judgedBy(records, season, nil, over, 0, 1+weeks/mostTold)
}

// judgedBy are records to be foretold in one of so many weeks, from a week of the books on. Which these are goes by the
// number of the part, so that no week of the shop is left out of all. The paces, by week as they were then known, may be
// nil.
func judgedBy(records []*record, season []float64, paces []pace, over horizon, since, every int) *teaching {
	t := &teaching{records: records, season: season, told: make([][]told, len(records)), every: float64(every)}
	for k, r := range records {
		silent, sold := 0.5, 1.0
		for i, asked := range r.asked {
			week := r.first + i
			from := i + after(week, over.wait)
			if to := min(from+over.weeks, len(r.asked)); from < to && week >= since && (week+k)%every == 0 {
				f := told{week: i, span: to - from}
				for j := from; j < to; j++ {
					f.sales += r.asked[j]
					f.weeks += r.open[j] * season[r.first+j]
				}
				if paces != nil {
					f.weeks *= paces[week].at(silent, int(sold))
				}
				t.told[k] = append(t.told[k], f)
				t.n++
			}
			sold += asked
			if silent++; asked > 0 {
				silent = 0.5
			}
		}
	}
	return t
}

// score is the mean log chance that a memory would have given to what then came.
func (t *teaching) score(m *memory) float64 {
	sum := 0.0
	for k := range t.records {
		sum += t.foretold(m, k)
	}
	return sum / float64(max(1, t.n))
}

// foretold is the log chance that a memory would have given to what then came of a part.
func (t *teaching) foretold(m *memory, k int) (sum float64) {
	r, all := t.records[k], t.told[k]
	s, like := m.begin(r), m.like(r)
	for i, asked := range r.asked {
		for ; len(all) > 0 && all[0].week == i; all = all[1:] {
			sum += m.rhythm.logChance(all[0].sales, m.rate(s, like), all[0].weeks, all[0].span)
		}
		if len(all) == 0 {
			break
		}
		m.add(&s, like, asked, r.open[i]*t.season[r.first+i])
	}
	return sum
}

// value is the log chance of each of the records, and of all together beside what was believed before.
func (t *teaching) value(m *memory) (each []float64, all float64) {
	each = make([]float64, len(t.records))
	for k := range t.records {
		each[k] = t.foretold(m, k) * t.every
		all += each[k]
	}
	for k := range figures {
		away := figures[k].away(m)
		all -= away * away / 2
	}
	return each, all
}

const (
	mostSteps = 12   // by some of the records: mostly fewer are enough
	lastSteps = 5    // by all of them
	roughly   = 3    // of so many records one is some of them
	nudge     = 0.02 // by which a figure is moved to see what that does
	furthest  = 1.5  // a figure is moved at once: four times as high, or a quarter
	enough    = 1    // is so small a gain of log chance that no more is sought
)

// teach finds the memory that foretells the records best: roughly by some of them, and from there by all.
func (t *teaching) teach(from memory) memory {
	some := &teaching{season: t.season, every: t.every * roughly}
	for k := 0; k < len(t.records); k += roughly {
		some.records, some.told = append(some.records, t.records[k]), append(some.told, t.told[k])
	}
	return t.climbed(some.climbed(from, mostSteps), lastSteps)
}

// climbed is the memory after so many steps at most. Each goes up the slope of the log chance, as far as the slopes of
// the single parts agree, so that figures which do one another's work move together (Berndt, Hall, Hall and Hausman,
// "Estimation and inference in nonlinear structural models", Annals of Economic and Social Measurement 3, 1974); where
// it leads down it is made shorter and steeper (Marquardt, Journal of the Society for Industrial and Applied Mathematics
// 11, 1963).
func (t *teaching) climbed(from memory, steps int) memory {
	best := from.ready()
	each, most := t.value(&best)
	damp := 0.0
	for range steps {
		toward, curve := t.slope(&best, each)
		before := most
		for most == before && damp < 1e4 {
			step := capped(solved(damped(curve, damp), slices.Clone(toward)))
			for { // as often as it leads up
				next := best.moved(step)
				e, v := t.value(&next)
				if v <= most {
					break
				}
				best, each, most = next, e, v
			}
			if most == before {
				damp = max(0.3, 10*damp)
			}
		}
		if most-before < enough && damp < 1 {
			break
		}
		damp /= 10
	}
	return best
}

// capped is a step that moves no figure further than is to be believed of a slope.
func capped(step []float64) []float64 {
	longest := furthest
	for _, by := range step {
		longest = max(longest, math.Abs(by))
	}
	for k := range step {
		step[k] *= furthest / longest
	}
	return step
}

// slope is how the value changes with each figure, and how that is spread over the records. What is at its bound stays
// there.
func (t *teaching) slope(m *memory, each []float64) (toward []float64, curve [][]float64) {
	slopes := make([][]float64, len(figures))
	toward, curve = make([]float64, len(figures)), make([][]float64, len(figures))
	for k := range figures {
		f := &figures[k]
		by := make([]float64, len(figures))
		by[k] = nudge
		if f.full(m, nudge) {
			by[k] = -nudge
		}
		next := m.moved(by)
		slopes[k], _ = t.value(&next)
		toward[k] = -f.away(m) / f.spread
		for r := range slopes[k] {
			slopes[k][r] = (slopes[k][r] - each[r]) / by[k]
			toward[k] += slopes[k][r]
		}
		if f.full(m, math.Copysign(1e-9, toward[k])) {
			toward[k] = 0
			clear(slopes[k])
		}
	}
	for k := range figures {
		curve[k] = make([]float64, len(figures))
		curve[k][k] = 1 / (figures[k].spread * figures[k].spread)
		for j := range figures {
			for r := range each {
				curve[k][j] += slopes[k][r] * slopes[j][r]
			}
		}
	}
	return toward, curve
}

// damped is a matrix with its diagonal made so much greater.
func damped(matrix [][]float64, by float64) [][]float64 {
	out := make([][]float64, len(matrix))
	for k := range matrix {
		out[k] = slices.Clone(matrix[k])
		out[k][k] *= 1 + by
	}
	return out
}
