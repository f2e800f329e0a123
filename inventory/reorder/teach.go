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
	sold         int     // sales of the part by then
	silent       float64 // weeks since the last of them
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
	return judgedBy(records, season, over, 0, 1+weeks/mostTold)
}

// judgedBy are records to be foretold in one of so many weeks, from a week of the books on. Which these are goes by the
// number of the part, so that no week of the shop is left out of all.
func judgedBy(records []*record, season []float64, over horizon, since, every int) *teaching {
	t := &teaching{records: records, season: season, told: make([][]told, len(records)), every: float64(every)}
	for k, r := range records {
		silent, sold := 0.5, 1.0
		for i, asked := range r.asked {
			week := r.first + i
			from := i + after(week, over.wait)
			if to := min(from+over.weeks, len(r.asked)); from < to && week >= since && (week+k)%every == 0 {
				f := told{week: i, span: to - from, sold: int(sold), silent: silent}
				for j := from; j < to; j++ {
					f.sales += r.asked[j]
					f.weeks += r.open[j] * season[r.first+j]
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

// scores are the mean log chances that memories would have given to what then came.
func (t *teaching) scores(by ...memory) []float64 {
	each, out := t.foretold(by), make([]float64, len(by))
	for j := range by {
		for _, log := range each[j] {
			out[j] += log
		}
		out[j] /= float64(max(1, t.n))
	}
	return out
}

// foretold is the log chance that each of some memories would have given to what then came of each part. They go through a
// part's weeks side by side: what one knows of a week waits for what it knew of the week before, and no other for it.
func (t *teaching) foretold(by []memory) [][]float64 {
	each := make([][]float64, len(by))
	for j := range each {
		each[j] = make([]float64, len(t.records))
	}
	states, likes := make([]state, len(by)), make([]float64, len(by))
	for k, r := range t.records {
		all := t.told[k]
		if len(all) == 0 {
			continue
		}
		for j := range by {
			states[j], likes[j] = by[j].begin(r), by[j].like(r)
		}
		for i, asked := range r.asked {
			for ; len(all) > 0 && all[0].week == i; all = all[1:] {
				for j := range by {
					each[j][k] += by[j].rhythm.logChance(all[0].sales, by[j].rate(states[j], likes[j]), all[0].weeks, all[0].span)
				}
			}
			if len(all) == 0 {
				break
			}
			weeks := r.open[i] * t.season[r.first+i]
			for j := range by {
				by[j].add(&states[j], likes[j], asked, weeks)
			}
		}
	}
	return each
}

// foreseen are the rates at which a memory expects what is told of each part.
func (t *teaching) foreseen(m *memory) [][]gamma {
	all := make([][]gamma, len(t.records))
	for k, r := range t.records {
		s, like, rates := m.begin(r), m.like(r), make([]gamma, 0, len(t.told[k]))
		for i := 0; len(rates) < len(t.told[k]); i++ {
			for len(rates) < len(t.told[k]) && t.told[k][len(rates)].week == i {
				rates = append(rates, m.rate(s, like))
			}
			m.add(&s, like, r.asked[i], r.open[i]*t.season[r.first+i])
		}
		all[k] = rates
	}
	return all
}

// under is the mean log chance of what then came at foreseen rates, under the paces that were known by week; nil are none.
func (t *teaching) under(paces []pace, foreseen [][]gamma, y rhythm) float64 {
	sum := 0.0
	for k, rates := range foreseen {
		log := 0.0
		for i, rate := range rates {
			f := &t.told[k][i]
			weeks := f.weeks
			if paces != nil {
				weeks *= paces[t.records[k].first+f.week].at(f.silent, f.sold)
			}
			log += y.logChance(f.sales, rate, weeks, f.span)
		}
		sum += log
	}
	return sum / float64(max(1, t.n))
}

// values are, for each of some memories, the log chance of each of the records, and of all together beside what was believed
// before.
func (t *teaching) values(by ...memory) (each [][]float64, all []float64) {
	each, all = t.foretold(by), make([]float64, len(by))
	for j := range by {
		for k := range each[j] {
			each[j][k] *= t.every
			all[j] += each[j][k]
		}
		for k := range figures {
			away := figures[k].away(&by[j])
			all[j] -= away * away / 2
		}
	}
	return each, all
}

// value is that of one memory.
func (t *teaching) value(m memory) (each []float64, all float64) {
	eachOf, allOf := t.values(m)
	return eachOf[0], allOf[0]
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
	each, most := t.value(best)
	damp := 0.0
	for range steps {
		toward, curve := t.slope(&best, each)
		before := most
		for most == before && damp < 1e4 {
			step := capped(solved(damped(curve, damp), slices.Clone(toward)))
			for { // as often as it leads up
				next := best.moved(step)
				e, v := t.value(next)
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
	toward, curve = make([]float64, len(figures)), make([][]float64, len(figures))
	nudged, nudges := m.nudged()
	slopes, _ := t.values(nudged...)
	for k := range figures {
		f := &figures[k]
		toward[k] = -f.away(m) / f.spread
		for r := range slopes[k] {
			slopes[k][r] = (slopes[k][r] - each[r]) / nudges[k]
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

// nudged are the memories that differ in one figure each, and by how much.
func (m *memory) nudged() (all []memory, nudges []float64) {
	for k := range figures {
		by := make([]float64, len(figures))
		by[k] = nudge
		if figures[k].full(m, nudge) {
			by[k] = -nudge
		}
		all, nudges = append(all, m.moved(by)), append(nudges, by[k])
	}
	return all, nudges
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
