package reorder

import (
	"math"
	"slices"
)

// horizon is what forecasts are for: demand over so many weeks, beginning up to so many
// weeks after the advice.
type horizon struct{ weeks, wait int }

// score is the mean log chance that the memory would have given to what then came, at
// each week of the books from one on and over the horizon for which forecasts are made. The season is by week; the paces,
// by week as they were then known, may be nil.
func (m *memory) score(records []*record, season []float64, paces []pace, over horizon, since int) float64 {
	sum, n := 0.0, 0.0
	for _, r := range records {
		s, like, silent, sold := m.begin(r), m.like(r), 0.5, 1.0
		for i, asked := range r.asked {
			from := i + after(r.first+i, over.wait)
			if to := min(from+over.weeks, len(r.asked)); from < to && r.first+i >= since {
				sales, weeks := 0.0, 0.0
				for k := from; k < to; k++ {
					sales += r.asked[k]
					weeks += r.open[k] * season[r.first+k]
				}
				if paces != nil {
					weeks *= paces[r.first+i].at(silent, int(sold))
				}
				sum += m.rhythm.logChance(sales, m.rate(s, like), weeks, to-from)
				n++
			}
			m.add(&s, asked, r.open[i]*season[r.first+i])
			sold += asked
			if silent++; asked > 0 {
				silent = 0.5
			}
		}
	}
	return sum / max(1, n)
}

// after is how many weeks after the advice of a week a forecast is judged: any of those for which levels stand, in no order,
// so that a part which sells in every other week is not judged by the weeks in which it does.
func after(week, wait int) int {
	return int(uint32(week)*2654435761>>16) % (wait + 1)
}

// mostTaught is from how many parts the figures common to all are learnt: more would
// hardly change them. mostJudged is by how many it is judged which paces to reckon with.
const (
	mostTaught = 300
	mostJudged = 1500
)

// teach finds the memory that foretells the records best.
func teach(records []*record, season []float64, paces []pace, over horizon, from memory, rounds int) memory {
	cells := 0.0
	for _, r := range records {
		cells += float64(len(r.asked))
	}
	if cells == 0 {
		return from
	}
	// What is believed without books counts as a few dozen weeks of a part.
	value := func(m memory) float64 {
		doubt := 0.0
		for _, f := range []struct{ is, was, spread float64 }{
			{m.shape, untaught.shape, 1}, {m.weeks, untaught.weeks, 1.5}, {m.slow, untaught.slow, 1.5}, {m.fast, untaught.fast, 1.5},
			{m.worth, untaught.worth, 1.5}, {m.evenness, untaught.evenness, 1.5}, {m.drift, untaught.drift, 1.5},
		} {
			away := math.Log(f.is/f.was) / f.spread
			doubt += away * away / 2
		}
		doubt += m.dearness * m.dearness / (2 * 0.5 * 0.5)
		return m.score(records, season, paces, over, 0) - doubt/cells
	}
	best := from
	most := value(best)
	figures := []func(*memory) *float64{
		func(m *memory) *float64 { return &m.weeks }, func(m *memory) *float64 { return &m.slow },
		func(m *memory) *float64 { return &m.worth }, func(m *memory) *float64 { return &m.evenness },
		func(m *memory) *float64 { return &m.fast }, func(m *memory) *float64 { return &m.drift }, func(m *memory) *float64 { return &m.shape },
	}
	steps := slices.Repeat([]float64{2}, len(figures))
	for range rounds {
		for k, figure := range figures {
			moved := false
			for _, by := range []float64{steps[k], 1 / steps[k]} {
				for next := best; ; {
					*figure(&next) *= by
					if !next.sensible() {
						break
					}
					v := value(next.ready())
					if v <= most {
						break
					}
					best, most, moved = next.ready(), v, true
				}
				if moved {
					break
				}
			}
			if !moved {
				steps[k] = math.Sqrt(steps[k])
			}
		}
		for _, slope := range []float64{-0.1, 0.1} {
			next := best
			next.dearness = min(1, max(-1, next.dearness+slope))
			if v := value(next); v > most {
				best, most = next, v
			}
		}
		for _, before := range []float64{best.before - 0.15, best.before + 0.15} {
			next := best
			next.before = min(1, max(0, before))
			if v := value(next); v > most {
				best, most = next, v
			}
		}
	}
	return best
}

// sensible keeps figures from growing without end where nothing speaks against it.
func (m *memory) sensible() bool {
	return m.shape >= 0.05 && m.shape <= 20 && m.weeks >= 0.02 && m.weeks <= 500 && m.slow >= 4 && m.slow <= 400 &&
		m.fast >= 0.5 && m.fast <= m.slow && m.worth >= 0.1 && m.worth <= 100 && m.evenness >= 0.05 && m.evenness <= 20 && m.drift >= 0.001 && m.drift <= 3
}
