package choose

import (
	"math"
	"slices"
)

// A good order of the needs keeps two things small: the border, because bounds that see all of it are exact, and the
// number of partial choices that rules leave, because those are what a search goes through. Both are products over
// links, so that their logarithms are added up and traded for each other.

// boundWeight is what a unit of tightness weighs against one of width.
const boundWeight = 4

// order is the best of the greedy orders, one for each need to begin with, by the states and classes of its borders.
func (in *instance) order(links []*link) []int {
	n := len(in.needs)
	tight := square(n)
	sight := square(n) // by need and other need: the logarithm of how many groups the rules of the two tell apart
	for _, l := range links {
		l.pair.tight = in.tightness(l)
		tight[l.a][l.b], tight[l.b][l.a] = l.pair.tight, l.pair.tight
		sight[l.a][l.b], sight[l.b][l.a] = math.Log(float64(len(l.pair.cells))), math.Log(float64(len(l.pair.cells[0])))
	}
	for _, w := range in.wides {
		for _, i := range w.rule.Needs {
			for _, j := range w.rule.Needs {
				if i != j {
					tight[i][j] += 0.01
				}
			}
		}
	}
	// width is the logarithm of the states of the border when some needs are placed and the others are not.
	width := func(placed []int) float64 {
		w := 0.0
		for _, i := range placed {
			groups := 0.0
			for j := range n {
				if !slices.Contains(placed, j) {
					groups += sight[i][j]
				}
			}
			w += min(groups, math.Log(float64(in.needs[i].classes)))
		}
		return w
	}
	var best []int
	least := math.Inf(1)
	for start := range n {
		order, work := []int{start}, 0.0
		for len(order) < n {
			next, low := -1, math.Inf(1)
			for i := range n {
				if slices.Contains(order, i) {
					continue
				}
				score := width(append(order, i))
				for _, j := range order {
					score -= boundWeight * tight[i][j]
				}
				if score < low {
					next, low = i, score
				}
			}
			work += math.Exp(width(order)) * float64(in.needs[next].classes)
			order = append(order, next)
		}
		if best == nil || work < least {
			best, least = order, work
		}
	}
	return best
}

// square is a matrix of noughts.
func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}
