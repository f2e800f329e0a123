package choose

import (
	"cmp"
	"math"
	"slices"

	"stead/substitution/supply"
)

// opened is what holds for the day of the search; open prepares it.
type opened struct {
	day           int
	anchor        int // the source of what must arrive on the day; its carriage is certain. Shelf: none is
	mostDeviation int64
	limit         stair      // what a new point must beat: the points found that are here by the day
	active        [][]option // by position: the options that are here by the day
	start         [][]int    // by position and class: the first of its options in active
	order         [][]int    // by position: the classes, those with the cheapest options first
	least         [][]lowest // by position and class
	reach         [][]int64  // by position k and supplier: the most goods that needs from k on can add
	head          []int64    // by position: what the needs before it cost at least
	spreads       []spread
	taken         []int  // by position: the supplier that the relaxed problem takes
	version       uint32 // of the limit and the rests
	rooms         []remembered
	roomShift     int

	// Used anew in each preparation.
	own          [][]rest
	gathered     []rest // by set of classes
	anyOf, newOf sums
	cheapest     [][]taken
	cheapestOf   []taken
}

func newOpened(in *instance, g goal) opened {
	n, bits := len(in.needs), fewRooms
	if g == everything {
		bits = manyRooms
	}
	o := opened{
		mostDeviation: math.MaxInt64,
		active:        make([][]option, n), start: make([][]int, n), order: make([][]int, n), least: make([][]lowest, n),
		reach: make([][]int64, n+1), head: make([]int64, n+1), taken: make([]int, n),
		rooms: make([]remembered, 1<<bits), roomShift: 64 - bits,
		own: make([][]rest, n), anyOf: newSums(), newOf: newSums(), cheapest: make([][]taken, n),
	}
	if in.p.MostDeviation != nil {
		o.mostDeviation = *in.p.MostDeviation
	}
	for k := range n {
		classes := in.needs[k].classes
		o.active[k] = make([]option, 0, len(in.needs[k].options))
		o.start[k], o.order[k], o.least[k] = make([]int, classes+1), make([]int, classes), make([]lowest, classes)
		o.own[k], o.cheapest[k] = make([]rest, classes), make([]taken, classes)
	}
	for k := range o.reach {
		o.reach[k] = make([]int64, len(in.suppliers))
	}
	return o
}

// sight is a frontier with the bounds of its states.
type sight struct {
	*frontier
	plain   [][]rest   // by position and state: what the needs from there on cost at least, carriage left out
	shared  [][][]rest // the same with shares of carriage, by spread
	relaxed [][]taken
}

func (s *search) newSight(most size) *sight {
	n := len(s.in.needs)
	v := &sight{s.in.see(most), make([][]rest, n+1), make([][][]rest, s.ways()), make([][]taken, n)}
	if s.passed {
		return v
	}
	for i := range v.shared {
		v.shared[i] = make([][]rest, n+1)
	}
	for k := range v.plain {
		states := 1
		if k < n {
			states = len(v.levels[k].steps)
			v.relaxed[k] = make([]taken, states)
		}
		v.plain[k] = make([]rest, states)
		for i := range v.shared {
			v.shared[i][k] = make([]rest, states)
		}
	}
	return v
}

// open prepares the search for a day, and reports whether anything can be complete on it that is worth having.
func (s *search) open(day, anchor, rounds int, fresh bool) bool {
	s.day, s.anchor, s.head[0] = day, anchor, 0
	if anchor != supply.Shelf {
		s.head[0] = s.in.suppliers[anchor].certain
	}
	for k := range s.in.needs {
		s.active[k] = s.active[k][:0]
		for _, o := range s.in.needs[k].options {
			// With what arrives from an anchor before this one, a choice was looked at for that one.
			if o.day < day || o.day == day && o.supplier >= anchor {
				o.new = o.day == day && o.supplier == anchor
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
	if s.passed || !s.rootSurvives(s.plain, fresh) {
		return false
	}
	s.priceDeviation()
	for i := range s.spreads {
		s.improveShares(&s.spreads[i], rounds)
		s.suffix(&s.spreads[i], s.shared[i])
		if s.passed || !s.rootSurvives(s.shared[i], fresh) {
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
	return maxWays
}

const maxWays = 3

// priceDeviation sets what deviation costs while shares are sought: nothing for the first, and for the others what
// it saves at the least and on the whole.
func (s *search) priceDeviation() {
	r := s.plain[0][0].any
	low, high := r[0], r[len(r)-1]
	if high.deviation == low.deviation || s.ways() == 1 {
		return
	}
	s.spreads[1].price = (low.cost - high.cost) / (high.deviation - low.deviation)
	for i := range s.spreads[2:] {
		if c := r[(i+1)*len(r)/maxWays]; c.deviation > low.deviation {
			s.spreads[i+2].price = (low.cost - c.cost) / (c.deviation - low.deviation)
		}
	}
}

func (s *search) rootSurvives(rests [][]rest, fresh bool) bool {
	if r := &rests[0][0]; !fresh {
		return s.survives(s.head[0], 0, r.new)
	}
	return s.survives(s.head[0], 0, rests[0][0].any)
}

// index finds each class's options among the active ones.
func (s *search) index(k int) {
	at := 0
	for c := range s.least[k] {
		s.start[k][c] = at
		low := lowest{price: none, lean: none, deviation: none, shelf: none, plain: none, from: s.least[k][c].from[:0]}
		for ; at < len(s.active[k]) && s.active[k][at].class == c; at++ {
			o := &s.active[k][at]
			low.new = low.new || o.new
			low.deviation, low.price, low.lean = min(low.deviation, o.deviation), min(low.price, o.price), min(low.lean, o.price-o.discount)
			if o.supplier == supply.Shelf {
				low.shelf = min(low.shelf, o.price)
				continue
			}
			certain := s.in.suppliers[o.supplier].certain
			i := slices.IndexFunc(low.from, func(f lowestFrom) bool { return f.supplier == o.supplier })
			if i < 0 {
				i = len(low.from)
				low.from = append(low.from, lowestFrom{o.supplier, none, none})
			}
			low.from[i].price, low.from[i].reduced = min(low.from[i].price, o.price), min(low.from[i].reduced, o.price-o.discount)
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
					dearest = max(dearest, o.goods)
				}
			}
			s.reach[k][v] += dearest
		}
	}
}
