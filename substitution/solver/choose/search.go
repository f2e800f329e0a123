package choose

import (
	"cmp"
	"context"
	"encoding/binary"
	"math"
	"slices"
)

// search walks depth first through partial choices. See the package comment for what keeps it short.
type search struct {
	ctx     context.Context
	in      *instance
	front   *frontier
	goal    goal
	found   Front
	bound   int64
	nodes   int64
	budget  int64 // nodes after which a scouting search ends; zero: none
	stopped bool  // by the context: nothing is proven
	over    bool  // enough was found, or the budget is used up

	// What holds for the day of the search.
	day           int
	mostDeviation int64
	limit         stair      // what a new point must beat: the points found that are here by the day
	active        [][]option // by position: the options that are here by the day
	start         [][]int    // by position and class: the first of its options in active
	order         [][]int    // by position: the classes, those with the cheapest options first
	least         [][]corner // by position and class: the least deviation and the least price of its options
	reach         [][]int64  // by position k and supplier: the most goods that needs from k on can add
	own           [][]rest
	mix           rest
	plain, shared [][]rest // what deciding the needs from k on costs at least: without and with shares of carriage
	spread        spread
	cheapest      [][]taken
	relaxed       [][]taken
	taken         []int
	visited       map[string][]visit
	visits        int

	// The partial choice.
	live    [][]bitset // by depth and position: the classes that still go with all that is decided
	class   []int
	chosen  []*option
	marks   [][]int // by wide rule: the marks of decided needs, others -1
	count   []int   // by supplier: the needs that it serves
	used    []int   // suppliers that serve any, in the order in which they came in
	goods   []int64 // by supplier: of options that are not shared
	pieces  []int   // by shared offer
	brought []int   // by extra
	canon   [][][]int32
	key     []byte
}

// visit is a partial choice that was gone into.
type visit struct {
	cost, deviation int64
	fresh           bool
}

func newSearch(ctx context.Context, in *instance, g goal) *search {
	n := len(in.needs)
	s := &search{ctx: ctx, in: in, goal: g, mostDeviation: math.MaxInt64}
	if in.p.MostDeviation != nil {
		s.mostDeviation = *in.p.MostDeviation
	}
	if n == 0 {
		return s
	}
	s.front = in.see()
	s.active, s.start, s.order, s.least = make([][]option, n), make([][]int, n), make([][]int, n), make([][]corner, n)
	s.own, s.cheapest, s.relaxed = make([][]rest, n), make([][]taken, n), make([][]taken, n)
	s.plain, s.shared = make([][]rest, n+1), make([][]rest, n+1)
	s.live, s.reach = make([][]bitset, n+1), make([][]int64, n+1)
	s.class, s.chosen, s.taken = make([]int, n), make([]*option, n), make([]int, n)
	for k := range n {
		classes, states := in.needs[k].classes, len(s.front.levels[k].steps)
		s.start[k], s.order[k], s.least[k] = make([]int, classes+1), make([]int, classes), make([]corner, classes)
		s.own[k], s.cheapest[k] = make([]rest, classes), make([]taken, classes)
		s.relaxed[k], s.plain[k], s.shared[k] = make([]taken, states), make([]rest, states), make([]rest, states)
	}
	s.plain[n], s.shared[n] = make([]rest, 1), make([]rest, 1)
	for d := range s.live {
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
	s.startShares()
	return s
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
		s.index(k)
	}
	s.reachable()
	s.setLimit()
	s.suffix(false, s.plain)
	if !s.rootSurvives(s.plain, fresh) {
		return false
	}
	s.improveShares(rounds)
	s.suffix(true, s.shared)
	return s.rootSurvives(s.shared, fresh)
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
		low := corner{none, none}
		for ; at < len(s.active[k]) && s.active[k][at].class == c; at++ {
			low.deviation, low.cost = min(low.deviation, s.active[k][at].deviation), min(low.cost, s.active[k][at].price)
		}
		s.least[k][c], s.order[k][c] = low, c
	}
	s.start[k][len(s.least[k])] = at
	slices.SortStableFunc(s.order[k], func(a, b int) int { return cmp.Compare(s.least[k][a].cost, s.least[k][b].cost) })
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

// setLimit draws the staircase that a new point must get under.
func (s *search) setLimit() {
	s.limit = s.limit[:0]
	if s.in.p.MostCost != nil {
		s.limit = s.limit.step(corner{0, *s.in.p.MostCost + 1})
	}
	for _, p := range s.found {
		if p.Day <= s.day {
			s.tighten(p)
		}
	}
}

func (s *search) tighten(p Point) {
	c := corner{p.Deviation, p.Cost}
	if s.goal != everything {
		c.deviation = 0
	}
	s.limit = s.limit.step(c)
}

// step is put without a bound on the length: the limit is exact.
func (s stair) step(c corner) stair {
	i, _ := slices.BinarySearchFunc(s, c, func(a, b corner) int { return cmp.Compare(a.deviation, b.deviation) })
	if i > 0 && s[i-1].cost <= c.cost || i < len(s) && s[i].deviation == c.deviation && s[i].cost <= c.cost {
		return s
	}
	j := i
	for j < len(s) && s[j].cost >= c.cost {
		j++
	}
	return slices.Replace(s, i, j, c)
}

// survives reports whether a partial choice may still lead to a point worth having, by a bound on what is left.
func (s *search) survives(cost, deviation int64, rest stair) bool {
	j := -1
	for _, c := range rest {
		d := deviation + c.deviation
		if d > s.mostDeviation {
			return false
		}
		for j+1 < len(s.limit) && s.limit[j+1].deviation <= d {
			j++
		}
		if j < 0 || cost+c.cost < s.limit[j].cost {
			return true
		}
	}
	return false
}

// descend starts the walk. Fresh says that a choice need not take an option of the very day.
func (s *search) descend(fresh bool, budget int64) {
	s.visited, s.visits = map[string][]visit{}, 0
	s.budget, s.over = 0, false
	if budget > 0 {
		s.budget = s.nodes + budget
	}
	for k := range s.in.needs {
		b := s.live[0][k]
		clear(b)
		for i := range s.active[k] {
			b.set(s.active[k][i].class)
		}
	}
	s.decide(0, 0, 0, 0, 0, fresh)
}

// decide goes through the options of the need at position k. The costs are those of the decided needs, with the
// carriage that is certain, counted in full and by shares.
func (s *search) decide(k int, state int32, plain, spread, deviation int64, fresh bool) {
	if k == len(s.in.needs) {
		s.settle(deviation)
		return
	}
	late, ok := s.late(k)
	if !ok || s.seen(k, plain, deviation, fresh) {
		return
	}
	base := spread
	for _, v := range s.used {
		base += s.spread.share[k][v]
	}
	lv := &s.front.levels[k]
	for _, c := range s.order[k] {
		if s.over || s.stopped {
			return
		}
		next := lv.next[state][c]
		if next < 0 || !s.live[k][k].has(c) {
			continue
		}
		dev := deviation
		for i := range k {
			if p := s.in.pairs[i][k]; p != nil {
				dev += p.at(s.class[i], c).deviation
			}
		}
		low, p, q := s.least[k][c], &s.plain[k+1][next], &s.shared[k+1][next]
		if !s.survives(plain+late+low.cost, dev+low.deviation, p.any) || !s.survives(base+late+low.cost, dev+low.deviation, q.any) {
			continue
		}
		s.class[k] = c
		wide, brings, ok := s.widely(k, c)
		if ok && s.narrow(k, c) {
			for i := range k {
				if p := s.in.pairs[i][k]; p != nil {
					brings = append(brings, p.at(s.class[i], c).brings...)
				}
			}
			s.bring(brings, 1)
			s.options(k, c, next, plain+late, base+late, late, dev+wide, fresh)
			s.bring(brings, -1)
		}
		s.forget(k)
	}
}

// options goes through the options of one class.
func (s *search) options(k, c int, next int32, plain, base, late, deviation int64, fresh bool) {
	list := s.active[k][s.start[k][c]:s.start[k][c+1]]
	p, q := &s.plain[k+1][next], &s.shared[k+1][next]
	pieces := s.in.p.Needs[s.in.needs[k].index].Pieces
	for i := range list {
		o := &list[i]
		s.nodes++
		if s.nodes%1024 == 0 && s.ctx.Err() != nil {
			s.stopped = true
		}
		if s.budget > 0 && s.nodes > s.budget {
			s.over = true
		}
		if s.over || s.stopped {
			return
		}
		costs, shares, newcomer := plain+o.price, base+o.price, false
		if o.supplier != Shelf && s.count[o.supplier] == 0 {
			newcomer = true
			certain := s.in.suppliers[o.supplier].certain
			costs += certain
			shares += certain - s.spread.rest[k+1][o.supplier]
			if s.in.p.MostSuppliers > 0 && len(s.used) == s.in.p.MostSuppliers {
				continue
			}
		}
		now := fresh || o.day == s.day
		a, b := p.any, q.any
		if !now {
			a, b = p.new, q.new
		}
		dev := deviation + o.deviation
		if !s.survives(costs, dev, a) || !s.survives(shares, dev, b) {
			continue
		}
		if s.bettered(list, i, newcomer, fresh) {
			continue
		}
		s.chosen[k] = o
		s.take(o, pieces, newcomer)
		s.decide(k+1, next, costs-late, shares-late, dev, now)
		s.giveBack(o, pieces, newcomer)
	}
}

// bettered reports whether another option of the class, from a source that is used anyway, is at least as good.
func (s *search) bettered(list []option, i int, newcomer, fresh bool) bool {
	o := &list[i]
	if o.shared >= 0 {
		return false
	}
	if o.supplier != Shelf {
		if src := &s.in.suppliers[o.supplier]; src.soft || src.MinimumOrder > 0 {
			return false
		}
	}
	for j := range list {
		a := &list[j]
		if a.price > o.price {
			return false
		}
		if j == i || a.shared >= 0 || a.deviation > o.deviation || !fresh && o.day == s.day && a.day != s.day || a.supplier != Shelf && s.count[a.supplier] == 0 {
			continue
		}
		// Of two that are equal in everything, the used source stands for the newcomer, and the first for the second.
		if a.price < o.price || a.deviation < o.deviation || newcomer || j < i {
			return true
		}
	}
	return false
}

// late is the carriage that has become certain because a supplier's goods can no longer reach its level. It reports
// false when an order can no longer reach its minimum.
func (s *search) late(k int) (int64, bool) {
	total := int64(0)
	for _, v := range s.used {
		src := &s.in.suppliers[v]
		if !src.soft && src.MinimumOrder == 0 || src.pooled {
			continue
		}
		most := s.goods[v] + s.reach[k][v]
		if most < src.MinimumOrder {
			return 0, false
		}
		if src.soft && most < src.PaidAt {
			total += src.Carriage
		}
	}
	return total, true
}

// narrow keeps the classes of later needs that go with a class, and reports whether every need has some left.
func (s *search) narrow(k, c int) bool {
	for j := k + 1; j < len(s.in.needs); j++ {
		if p := s.in.pairs[k][j]; p != nil {
			if !s.live[k+1][j].both(s.live[k][j], p.allow[p.row[c]]) {
				return false
			}
		} else {
			copy(s.live[k+1][j], s.live[k][j])
		}
	}
	return true
}

// widely puts a class into the wide rules, and reports what those say that are complete, or that one stops.
func (s *search) widely(k, c int) (deviation int64, brings []Bring, ok bool) {
	for w := range s.in.wides {
		rule := &s.in.wides[w]
		slot := slices.Index(rule.at, k)
		if slot < 0 {
			continue
		}
		marks := s.marks[w]
		marks[slot] = rule.marks[slot][c]
		if slices.Contains(marks, -1) {
			if !rule.hopeful(marks) {
				return 0, nil, false
			}
			continue
		}
		x := rule.judge(marks)
		if x.stops {
			return 0, nil, false
		}
		deviation += x.deviation
		brings = append(brings, x.brings...)
	}
	return deviation, brings, true
}

// forget takes the need at position k out of the wide rules.
func (s *search) forget(k int) {
	for w := range s.in.wides {
		if slot := slices.Index(s.in.wides[w].at, k); slot >= 0 {
			s.marks[w][slot] = -1
		}
	}
}

func (s *search) take(o *option, pieces int, newcomer bool) {
	if o.supplier != Shelf {
		s.count[o.supplier]++
		s.goods[o.supplier] += o.price
		if newcomer {
			s.used = append(s.used, o.supplier)
		}
	}
	if o.shared >= 0 {
		s.pieces[o.shared] += pieces
	}
	s.bring(o.brings, 1)
}

func (s *search) giveBack(o *option, pieces int, newcomer bool) {
	if o.supplier != Shelf {
		s.count[o.supplier]--
		s.goods[o.supplier] -= o.price
		if newcomer {
			s.used = s.used[:len(s.used)-1]
		}
	}
	if o.shared >= 0 {
		s.pieces[o.shared] -= pieces
	}
	s.bring(o.brings, -1)
}

func (s *search) bring(list []Bring, times int) {
	for _, b := range list {
		s.brought[b.Extra] += times * b.Pieces
	}
}

// maxVisits bounds the memory that seen takes.
const maxVisits = 1 << 18

// seen reports whether a partial choice that leaves the same ways to go on was gone into before and was no worse.
// Otherwise it remembers this one.
func (s *search) seen(k int, cost, deviation int64, fresh bool) bool {
	if k < 2 || len(s.in.suppliers) > 64 {
		return false
	}
	key := append(s.key[:0], byte(k))
	for i := range k {
		if canon := s.canon[i][k]; canon != nil {
			key = binary.AppendUvarint(key, uint64(canon[s.class[i]]))
		}
	}
	for w := range s.in.wides {
		if slices.Contains(s.marks[w], -1) {
			for _, m := range s.marks[w] {
				key = binary.AppendVarint(key, int64(m))
			}
		}
	}
	var set uint64
	for _, v := range s.used {
		set |= 1 << v
	}
	key = binary.AppendUvarint(key, set)
	for v := range s.in.suppliers {
		if src := &s.in.suppliers[v]; set>>v&1 == 1 && (src.soft || src.MinimumOrder > 0) {
			key = binary.AppendUvarint(key, uint64(s.goods[v]))
		}
	}
	for _, n := range s.pieces {
		key = binary.AppendUvarint(key, uint64(n))
	}
	for _, n := range s.brought {
		key = binary.AppendUvarint(key, uint64(n))
	}
	s.key = key
	list := s.visited[string(key)]
	for _, v := range list {
		if v.cost <= cost && v.deviation <= deviation && (v.fresh || !fresh) {
			return true
		}
	}
	if s.visits < maxVisits {
		s.visits++
		s.visited[string(key)] = append(list, visit{cost, deviation, fresh})
	}
	return false
}
