package reorder

import "math"

// tempos are how much the whole shop sells in each week of the books, over what its
// parts usually sell: one figure for all parts, so that a season or a slow winter, which
// each part alone is too seldom sold to show, is seen from all of them together. The
// one after the last is what is expected now. Each is foretold from the weeks before,
// that fade with the half-life.
func (m *memory) tempos(records []*record, weeks int, halfLife float64) []float64 {
	tempo := make([]float64, weeks+1)
	keep := math.Exp2(-1 / halfLife)
	born := make([][]int, weeks)
	for i, r := range records {
		born[r.first] = append(born[r.first], i)
	}
	var known []int
	states, likes := make([]state, len(records)), make([]float64, len(records))
	const doubt = 30 // sales that a tempo of 1 is worth
	sold, expected := 0.0, 0.0
	for week := range weeks {
		for _, i := range born[week] {
			states[i], likes[i] = m.begin(records[i]), m.like(records[i])
			known = append(known, i)
		}
		tempo[week] = (doubt + sold) / (doubt + expected)
		sold *= keep
		expected *= keep
		for _, i := range known {
			r, s := records[i], &states[i]
			k := week - r.first
			g := m.rate(*s, likes[i])
			sold += r.asked[k]
			expected += g.shape / g.rate * r.open[k]
		}
		now := (doubt + sold) / (doubt + expected)
		for _, i := range known {
			r := records[i]
			k := week - r.first
			m.add(&states[i], r.asked[k], r.open[k]*now)
		}
		tempo[week] = now
	}
	tempo[weeks] = (doubt + sold) / (doubt + expected)
	return tempo
}
