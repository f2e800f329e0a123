package choose

import (
	"cmp"
	"context"
	"math"
	"slices"
)

func newSearch(ctx context.Context, in *instance, g goal) *search {
	n := len(in.needs)
	s := &search{ctx: ctx, in: in, goal: g, mostDeviation: math.MaxInt64}
	if in.p.MostDeviation != nil {
		s.mostDeviation = *in.p.MostDeviation
	}
	if n == 0 {
		return s
	}
	s.active, s.start, s.order, s.least = make([][]option, n), make([][]int, n), make([][]int, n), make([][]lowest, n)
	s.own, s.cheapest, s.relaxed = make([][]rest, n), make([][]taken, n), make([][]taken, n)
	s.plain, s.spreads, s.shared, s.head = make([][]rest, n+1), make([]spread, s.ways()), make([][][]rest, s.ways()), make([]int64, n+1)
	s.live, s.reach = make([][]bitset, n+1), make([][]int64, n+1)
	s.turn, s.settled, s.discounts = make([][]int64, n+1), make([][]bool, n+1), make([]int64, len(in.suppliers))
	s.top, s.fee, s.rebate = make([][][]int64, s.ways()), make([][]int64, n+1), make([][][]int64, s.ways())
	s.class, s.chosen, s.taken = make([]int, n), make([]*option, n), make([]int, n)
	for k := range n {
		classes := in.needs[k].classes
		s.start[k], s.order[k], s.least[k] = make([]int, classes+1), make([]int, classes), make([]lowest, classes)
		s.own[k], s.cheapest[k] = make([]rest, classes), make([]taken, classes)
	}
	for k := range n {
		for c := range s.least[k] {
			s.least[k][c].from, s.least[k][c].reduced = make([]int64, len(in.suppliers)), make([]int64, len(in.suppliers))
		}
	}
	for i := range s.shared {
		s.shared[i] = make([][]rest, n+1)
		s.startShares(&s.spreads[i])
	}
	s.see(small)
	for d := range s.live {
		s.fee[d], s.turn[d], s.settled[d] = make([]int64, len(in.suppliers)), make([]int64, len(in.suppliers)), make([]bool, len(in.suppliers))
		for b := range s.top {
			s.top[b] = append(s.top[b], make([]int64, n))
			s.rebate[b] = append(s.rebate[b], make([]int64, len(in.suppliers)+1))
		}
		s.live[d], s.reach[d] = make([]bitset, n), make([]int64, len(in.suppliers))
		for k := range n {
			s.live[d][k] = newBitset(in.needs[k].classes)
		}
	}
	s.count, s.goods = make([]int, len(in.suppliers)), make([]int64, len(in.suppliers))
	s.pieces, s.brought = make([]int, len(in.shared)), make([]int, len(in.p.Extras))
	for _, w := range in.wides {
		marks := make([]int, len(w.at))
		for i := range marks {
			marks[i] = -1
		}
		s.marks = append(s.marks, marks)
	}
	all := make([][]bool, n)
	for i := range all {
		all[i] = make([]bool, n)
		for j := range all[i] {
			all[i][j] = in.pairs[i][j] != nil
		}
	}
	s.canon = make([][][]int32, n)
	for i := range n {
		s.canon[i] = make([][]int32, n+1)
		for k := i + 1; k < n; k++ {
			if slices.Contains(all[i][k:], true) {
				s.canon[i][k] = in.canon(all, i, k)
			}
		}
	}
	s.rooms = make([]remembered, 1<<roomBits)
	return s
}

// see takes frontiers of a size, and makes room for the bounds of their states.
func (s *search) see(most size) {
	s.front, s.sight = s.in.see(most), most
	for k := range s.plain {
		states := 1
		if k < len(s.in.needs) {
			states = len(s.front.levels[k].steps)
			s.relaxed[k] = make([]taken, states)
		}
		s.plain[k] = make([]rest, states)
		for i := range s.shared {
			s.shared[i][k] = make([]rest, states)
		}
	}
}

// open prepares the search for a day, and reports whether anything can be complete on it that is worth having.
func (s *search) open(day, rounds int, fresh bool) bool {
	s.day = day
	for k := range s.in.needs {
		s.active[k] = s.active[k][:0]
		for _, o := range s.in.needs[k].options {
			if o.day <= day {
				s.active[k] = append(s.active[k], o)
			}
		}
		if len(s.active[k]) == 0 {
			return false
		}
	}
	s.reachable()
	s.setLimit()
	for k := range s.in.needs {
		s.index(k)
		low := int64(none)
		for c := range s.least[k] {
			low = min(low, s.least[k][c].lean)
		}
		s.head[k+1] = s.head[k] + low
	}
	s.suffix(nil, s.plain)
	if !s.rootSurvives(s.plain, fresh) {
		return false
	}
	s.priceDeviation()
	for i := range s.spreads {
		s.improveShares(&s.spreads[i], rounds)
		s.suffix(&s.spreads[i], s.shared[i])
		if !s.rootSurvives(s.shared[i], fresh) {
			return false
		}
	}
	s.version++
	return true
}

// ways is how many ways to share carriage out are kept: one where only the cost counts.
func (s *search) ways() int {
	if s.goal != everything {
		return 1
	}
	return 3
}

// priceDeviation sets what deviation costs while shares are sought: nothing for the first, and for the others what
// it saves at the least and on the whole.
func (s *search) priceDeviation() {
	r := s.plain[0][0].any
	low, high := r[0], r[len(r)-1]
	if high.deviation == low.deviation || s.ways() == 1 {
		return
	}
	middle := r[len(r)/3]
	s.spreads[1].price = (low.cost - high.cost) / (high.deviation - low.deviation)
	if middle.deviation > low.deviation {
		s.spreads[2].price = (low.cost - middle.cost) / (middle.deviation - low.deviation)
	}
}

func (s *search) rootSurvives(rests [][]rest, fresh bool) bool {
	if r := &rests[0][0]; !fresh {
		return s.survives(0, 0, r.new)
	}
	return s.survives(0, 0, rests[0][0].any)
}

// index finds each class's options among the active ones.
func (s *search) index(k int) {
	at := 0
	for c := range s.least[k] {
		s.start[k][c] = at
		low := lowest{price: none, lean: none, deviation: none, shelf: none, plain: none, from: s.least[k][c].from, reduced: s.least[k][c].reduced}
		for v := range low.from {
			low.from[v], low.reduced[v] = none, none
		}
		for ; at < len(s.active[k]) && s.active[k][at].class == c; at++ {
			o := &s.active[k][at]
			low.deviation, low.price, low.lean = min(low.deviation, o.deviation), min(low.price, o.price), min(low.lean, o.price-o.discount)
			if o.supplier == Shelf {
				low.shelf = min(low.shelf, o.price)
				continue
			}
			certain := s.in.suppliers[o.supplier].certain
			low.from[o.supplier] = min(low.from[o.supplier], o.price)
			low.reduced[o.supplier] = min(low.reduced[o.supplier], o.price-o.discount)
			low.plain = min(low.plain, o.price+certain)
		}
		s.least[k][c], s.order[k][c] = low, c
	}
	s.start[k][len(s.least[k])] = at
	slices.SortStableFunc(s.order[k], func(a, b int) int { return cmp.Compare(s.least[k][a].price, s.least[k][b].price) })
}

// reachable works out how much a supplier's goods can still grow.
func (s *search) reachable() {
	for k := len(s.in.needs) - 1; k >= 0; k-- {
		copy(s.reach[k], s.reach[k+1])
		for v, src := range s.in.suppliers {
			if src.MinimumOrder == 0 && !src.soft {
				continue
			}
			dearest := int64(0)
			for _, o := range s.active[k] {
				if o.supplier == v {
					dearest = max(dearest, o.price)
				}
			}
			s.reach[k][v] += dearest
		}
	}
}
