package choose

import "stead/substitution/supply"

// Carriage binds all needs: a supplier's is paid once, however many needs it serves. A bound that goes need by need
// must therefore spread it. Give each need a share of each supplier's carriage, the shares of one supplier together
// at most its carriage; then charging every choice the share instead of the carriage never charges too much. The
// shares that make the bound highest are found by fictitious play: solve the relaxed problem, move each supplier's
// carriage towards the needs that used it, repeat with ever smaller steps (Brown 1951; it is the subgradient method
// on the Lagrangian dual with averaged steps).

// laterRounds are for each further search, from the shares of the one before.
const laterRounds = 12

// spread is one way to share carriage out. Which shares are best depends on how much a choice may deviate: the
// cheapest choices use other suppliers than the closest ones. So there are several, each the best for its price of
// deviation, and a partial choice must pass them all.
type spread struct {
	price int64       // pence that a unit of deviation is charged while the shares are sought
	kept  [][]float64 // from day to day: by position and supplier
	exact [][]float64 // of the day
	share [][]int64   // exact rounded down, by supplier and position
}

func (s *search) startShares(sp *spread) {
	in := s.in
	n := len(in.needs)
	sp.exact, sp.share = make([][]float64, n), make([][]int64, len(in.suppliers))
	for v := range sp.share {
		sp.share[v] = make([]int64, n)
	}
	takers := make([]float64, len(in.suppliers))
	uses := make([][]bool, n)
	for k := range in.needs {
		sp.exact[k] = make([]float64, len(in.suppliers))
		uses[k] = make([]bool, len(in.suppliers))
		for _, o := range in.needs[k].options {
			if o.supplier != supply.Shelf && !uses[k][o.supplier] {
				uses[k][o.supplier] = true
				takers[o.supplier]++
			}
		}
	}
	for k := range uses {
		for v, yes := range uses[k] {
			if yes {
				sp.exact[k][v] = float64(in.suppliers[v].spread) / takers[v]
			}
		}
	}
	sp.kept = clone(sp.exact)
	sp.round()
}

// round makes whole pence of the shares, never too many of them.
func (sp *spread) round() {
	for k := len(sp.exact) - 1; k >= 0; k-- {
		for v, x := range sp.exact[k] {
			sp.share[v][k] = int64(x)
		}
	}
}

// improveShares looks for shares with a higher bound on the cost of options that are here in time. The carriage of the
// anchor is certain, so that nothing of it is shared out; it keeps its shares for other days.
func (s *search) improveShares(sp *spread, rounds int) {
	sp.exact = clone(sp.kept)
	if s.anchor != supply.Shelf {
		for k := range sp.exact {
			sp.exact[k][s.anchor] = 0
		}
	}
	sp.round()
	best, bestBound := clone(sp.exact), s.relax(sp)
	for t := range rounds {
		if s.ended() {
			break
		}
		served := make([]float64, len(s.in.suppliers))
		for _, v := range s.taken {
			if v != supply.Shelf {
				served[v]++
			}
		}
		tau := 2 / float64(t+4)
		for v, count := range served {
			if count == 0 || s.in.suppliers[v].spread == 0 || v == s.anchor {
				continue
			}
			for k := range sp.exact {
				x := sp.exact[k][v] * (1 - tau)
				if s.taken[k] == v {
					x += tau * float64(s.in.suppliers[v].spread) / count
				}
				sp.exact[k][v] = x
			}
		}
		sp.round()
		if bound := s.relax(sp); bound > bestBound {
			best, bestBound = clone(sp.exact), bound
		}
	}
	sp.exact = best
	sp.round()
	for k := range best {
		for v, x := range best[k] {
			if v != s.anchor {
				sp.kept[k][v] = x
			}
		}
	}
}

// relax solves the problem for cost and priced deviation with shares in place of carriage. It returns the bound, and
// leaves in taken the supplier that each need used.
func (s *search) relax(sp *spread) int64 {
	in := s.in
	n := len(in.needs)
	for k := n - 1; k >= 0; k-- {
		cheapest := s.cheapest[k]
		for c := range cheapest {
			cheapest[c].cost = none
		}
		for _, o := range s.active[k] {
			cost := o.price - o.discount + sp.price*o.deviation
			if o.supplier != supply.Shelf {
				cost += sp.share[o.supplier][k]
			}
			if cost < cheapest[o.class].cost {
				cheapest[o.class] = taken{cost, o.supplier, 0}
			}
		}
		lv := &s.levels[k]
		of := s.cheapestOf[:0]
		for _, set := range lv.sets {
			low := taken{none, supply.Shelf, 0}
			for _, c := range set {
				if cheapest[c].cost < low.cost {
					low = cheapest[c]
				}
			}
			of = append(of, low)
		}
		s.cheapestOf = of
		for st, steps := range lv.steps {
			best := taken{none, supply.Shelf, 0}
			for _, step := range steps {
				rest := int64(0)
				if k+1 < n {
					rest = s.relaxed[k+1][step.next].cost
				}
				if rest >= none {
					continue
				}
				rest += sp.price * step.deviation
				if x := of[step.set]; x.cost < none && x.cost+rest < best.cost {
					best = taken{x.cost + rest, x.supplier, step.next}
				}
			}
			s.relaxed[k][st] = best
		}
	}
	if s.relaxed[0][0].cost >= none {
		return none
	}
	for k, st := 0, int32(0); k < n; k++ {
		x := s.relaxed[k][st]
		s.taken[k], st = x.supplier, x.next
	}
	return s.relaxed[0][0].cost
}

// taken is the cheapest way on from a state: its cost, the supplier it takes now and the state that it leads to.
type taken struct {
	cost     int64
	supplier int
	next     int32
}

func clone(x [][]float64) [][]float64 {
	out := make([][]float64, len(x))
	for i := range x {
		out[i] = append([]float64(nil), x[i]...)
	}
	return out
}
