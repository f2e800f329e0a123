package choose

import "math"

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
	var best []int
	least := math.Inf(1)
	for start := range n {
		if in.ended() {
			return best
		}
		g := in.greedy(start, tight, sight)
		if best == nil || g.work < least {
			best, least = g.order, g.work
		}
	}
	return best
}

// greedy grows an order from one need.
type greedy struct {
	order  []int
	placed []bool
	ahead  []float64 // by need: the logarithm of how many groups the needs not placed yet tell apart in it
	work   float64   // states of the borders times classes
}

func (in *instance) greedy(start int, tight, sight [][]float64) greedy {
	n := len(in.needs)
	g := greedy{placed: make([]bool, n), ahead: make([]float64, n)}
	for i := range n {
		for j := range n {
			g.ahead[i] += sight[i][j]
		}
	}
	// width is the logarithm of the states of the border once a need more is placed.
	width := func(more int) float64 {
		w := 0.0
		for i := range n {
			if g.placed[i] || i == more {
				w += min(g.ahead[i]-sight[i][more], math.Log(float64(in.needs[i].classes)))
			}
		}
		return w
	}
	for next := start; next >= 0; {
		border := width(next)
		g.order, g.placed[next] = append(g.order, next), true
		for i := range n {
			g.ahead[i] -= sight[i][next]
		}
		next = -1
		low := math.Inf(1)
		for i := range n {
			if g.placed[i] {
				continue
			}
			score := width(i)
			for _, j := range g.order {
				score -= boundWeight * tight[i][j]
			}
			if next < 0 || score < low {
				next, low = i, score
			}
		}
		if next >= 0 {
			g.work += math.Exp(border) * float64(in.needs[next].classes)
		}
	}
	return g
}

// square is a matrix of noughts.
func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}
