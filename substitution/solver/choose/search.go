package choose

import (
	"cmp"
	"context"
	"encoding/binary"
	"math"
	"math/bits"
	"slices"
)

// search walks depth first through partial choices. See the package comment for what keeps it short.
type search struct {
	ctx     context.Context
	in      *instance
	front   *frontier
	sight   size
	goal    goal
	found   Front
	bound   int64
	nodes   int64
	budget  int64 // nodes after which a scouting search ends; zero: none
	stopped bool  // by the context: nothing is proven
	over    bool  // enough was found, or the budget is used up
	spent   bool  // the budget is used up

	// What holds for the day of the search.
	day           int
	mostDeviation int64
	limit         stair      // what a new point must beat: the points found that are here by the day
	active        [][]option // by position: the options that are here by the day
	start         [][]int    // by position and class: the first of its options in active
	order         [][]int    // by position: the classes, those with the cheapest options first
	least         [][]lowest // by position and class
	reach         [][]int64  // by position k and supplier: the most goods that needs from k on can add
	own           [][]rest
	gathered      []rest     // by set of classes
	head          []int64    // by position: what the needs before it cost at least
	plain         [][]rest   // by position and state: what the needs from there on cost at least, carriage left out
	shared        [][][]rest // the same with shares of carriage, by spread
	spreads       []spread
	cheapest      [][]taken
	cheapestOf    []taken
	relaxed       [][]taken
	taken         []int
	rooms         []remembered
	version       uint32 // of the limit and the rests
	visited       map[string][]visit
	visits        int

	// The partial choice.
	live    [][]bitset // by depth and position: the classes that still go with all that is decided
	class   []int
	chosen  []*option
	marks   [][]int     // by wide rule: the marks of decided needs, others -1
	count   []int       // by supplier: the needs that it serves
	used    []int       // suppliers that serve any, in the order in which they came in
	top     [][][]int64 // by spread, depth and position: the largest share of a used supplier's carriage
	fee     [][]int64   // by depth and supplier: the certain carriage that using it adds
	rebate  [][][]int64 // by spread, depth and supplier, last for none: what the rest's shares may give back if it is used now
	goods   []int64     // by supplier: of options that are not shared
	pieces  []int       // by shared offer
	brought []int       // by extra
	canon   [][][]int32
	key     []byte
}

// lowest is what the options of a class come to at least.
type lowest struct {
	price, deviation int64
	shelf            int64   // from the shelf
	from             []int64 // by supplier
	plain            int64   // from a supplier that is not used yet, with its certain carriage
}

// visit is a partial choice that was gone into.
type visit struct {
	cost, deviation int64
	suppliers       uint64
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
	s.active, s.start, s.order, s.least = make([][]option, n), make([][]int, n), make([][]int, n), make([][]lowest, n)
	s.own, s.cheapest, s.relaxed = make([][]rest, n), make([][]taken, n), make([][]taken, n)
	s.plain, s.spreads, s.shared, s.head = make([][]rest, n+1), make([]spread, s.ways()), make([][][]rest, s.ways()), make([]int64, n+1)
	s.live, s.reach = make([][]bitset, n+1), make([][]int64, n+1)
	s.top, s.fee, s.rebate = make([][][]int64, s.ways()), make([][]int64, n+1), make([][][]int64, s.ways())
	s.class, s.chosen, s.taken = make([]int, n), make([]*option, n), make([]int, n)
	for k := range n {
		classes := in.needs[k].classes
		s.start[k], s.order[k], s.least[k] = make([]int, classes+1), make([]int, classes), make([]lowest, classes)
		s.own[k], s.cheapest[k] = make([]rest, classes), make([]taken, classes)
	}
	for k := range n {
		for c := range s.least[k] {
			s.least[k][c].from = make([]int64, len(in.suppliers))
		}
	}
	for i := range s.shared {
		s.shared[i] = make([][]rest, n+1)
		s.startShares(&s.spreads[i])
	}
	s.see(small)
	for d := range s.live {
		s.fee[d] = make([]int64, len(in.suppliers))
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
			low = min(low, s.least[k][c].price)
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
		low := lowest{none, none, none, s.least[k][c].from, none}
		for v := range low.from {
			low.from[v] = none
		}
		for ; at < len(s.active[k]) && s.active[k][at].class == c; at++ {
			o := &s.active[k][at]
			low.deviation, low.price = min(low.deviation, o.deviation), min(low.price, o.price)
			if o.supplier == Shelf {
				low.shelf = min(low.shelf, o.price)
				continue
			}
			certain := s.in.suppliers[o.supplier].certain
			low.from[o.supplier] = min(low.from[o.supplier], o.price)
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
	s.version++
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
	return cost < s.room(deviation, rest)
}

// room is the cost that a partial choice must stay below to lead to a point worth having.
func (s *search) room(deviation int64, rest stair) int64 {
	j, room := -1, int64(-none)
	for _, c := range rest {
		d := deviation + c.deviation
		if d > s.mostDeviation {
			break
		}
		for j+1 < len(s.limit) && s.limit[j+1].deviation <= d {
			j++
		}
		if j < 0 {
			return none
		}
		room = max(room, s.limit[j].cost-c.cost)
	}
	return room
}

// remembered is a room that was worked out. It stays right until the limit changes.
type remembered struct {
	key     uint64
	version uint32
	room    int64
}

// roomAt is room for the rest from position k on in a state of the frontier. Bound 0 is without carriage, bound i+1
// with the shares of spread i. It remembers.
func (s *search) roomAt(k int, state int32, bound int, fresh bool, deviation int64) int64 {
	key := uint64(deviation)<<28 | uint64(state)<<12 | uint64(k)<<4 | uint64(bound)<<1
	if fresh {
		key |= 1
	}
	slot := &s.rooms[key*0x9E3779B97F4A7C15>>(64-roomBits)]
	if slot.key == key && slot.version == s.version {
		return slot.room
	}
	rests := s.plain
	if bound > 0 {
		rests = s.shared[bound-1]
	}
	list := rests[k][state].any
	if !fresh {
		list = rests[k][state].new
	}
	*slot = remembered{key, s.version, s.room(deviation, list)}
	return slot.room
}

const roomBits = 15

// descend starts the walk. Fresh says that a choice need not take an option of the very day.
func (s *search) descend(fresh bool, budget int64) {
	s.visited, s.visits = map[string][]visit{}, 0
	s.budget, s.over, s.spent = 0, false, false
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
	s.decide(0, 0, 0, 0, fresh)
}

// decide goes through the options of the need at position k. The costs are those of the decided needs, with the
// carriage that is certain, counted in full and by shares.
func (s *search) decide(k int, state int32, plain, deviation int64, fresh bool) {
	if k == len(s.in.needs) {
		s.settle(deviation)
		return
	}
	late, ok := s.late(k)
	if !ok || s.seen(k, plain, deviation, fresh) {
		return
	}
	s.rebates(k)
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
		low := &s.least[k][c]
		if !s.worthwhile(k, low, next, plain+late, dev) {
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
			s.options(k, c, next, plain, late, dev+wide, fresh)
			s.bring(brings, -1)
		}
		s.forget(k)
	}
}

// worthwhile reports whether any option of a class may lead to a point worth having, by the least that they cost.
func (s *search) worthwhile(k int, low *lowest, next int32, cost, deviation int64) bool {
	known := low.shelf
	for _, v := range s.used {
		known = min(known, low.from[v])
	}
	deviation += low.deviation
	if cost+min(known, low.plain) >= s.roomAt(k+1, next, 0, true, deviation) {
		return false
	}
	for b := range s.rebate {
		rebate := s.rebate[b][k]
		shared := known - rebate[len(s.in.suppliers)]
		for v, price := range low.from {
			shared = min(shared, price+s.fee[k][v]-rebate[v])
		}
		if cost+shared >= s.roomAt(k+1, next, b+1, true, deviation) {
			return false
		}
	}
	return true
}

// rebates works out, for the need at position k, what the shares in the rest must give back. The carriage of a used
// supplier is counted in full, so a later need that goes to it again must not be charged a share as well. Each need
// goes to one supplier only: it is given back the largest of its shares of used suppliers, not their sum.
func (s *search) rebates(k int) {
	n := len(s.in.needs)
	for v := range s.in.suppliers {
		s.fee[k][v] = 0
		if s.count[v] == 0 {
			s.fee[k][v] = s.in.suppliers[v].certain
		}
	}
	for b := range s.rebate {
		top, rebate, sum := s.top[b][k], s.rebate[b][k], int64(0)
		for j := k + 1; j < n; j++ {
			sum += top[j]
		}
		for v := range s.in.suppliers {
			rebate[v] = sum
			if s.fee[k][v] == 0 {
				continue
			}
			for j := k + 1; j < n; j++ {
				if share := s.spreads[b].share[j][v]; share > top[j] {
					rebate[v] += share - top[j]
				}
			}
		}
		rebate[len(s.in.suppliers)] = sum
	}
}

// raise hands the largest shares of used suppliers on to the next position.
func (s *search) raise(k, supplier int, newcomer bool) {
	for b := range s.top {
		next := s.top[b][k+1]
		copy(next, s.top[b][k])
		if newcomer {
			for j := k + 1; j < len(s.in.needs); j++ {
				next[j] = max(next[j], s.spreads[b].share[j][supplier])
			}
		}
	}
}

// options goes through the options of one class.
func (s *search) options(k, c int, next int32, plain, late, deviation int64, fresh bool) {
	list := s.active[k][s.start[k][c]:s.start[k][c+1]]
	pieces := s.in.p.Needs[s.in.needs[k].index].Pieces
	var rooms classRooms
	for i := range list {
		o := &list[i]
		s.nodes++
		if s.nodes%1024 == 0 && s.ctx.Err() != nil {
			s.stopped = true
		}
		if s.budget > 0 && s.nodes > s.budget {
			s.over, s.spent = true, true
		}
		if s.over || s.stopped {
			return
		}
		if o.shared >= 0 {
			if most := s.in.p.Offers[o.offer].Most; most > 0 && s.pieces[o.shared]+pieces > most {
				continue
			}
		}
		cost, newcomer := plain+o.price, false
		source := len(s.in.suppliers)
		if o.supplier != Shelf && s.count[o.supplier] == 0 {
			newcomer = true
			cost += s.fee[k][o.supplier]
			source = o.supplier
			if s.in.p.MostSuppliers > 0 && len(s.used) == s.in.p.MostSuppliers {
				continue
			}
		}
		now := fresh || o.day == s.day
		dev := deviation + o.deviation
		if !s.fits(&rooms, k+1, next, now, dev, cost+late, source) {
			continue
		}
		if s.bettered(list, i, newcomer, fresh) {
			continue
		}
		s.chosen[k] = o
		s.take(o, pieces, newcomer)
		s.raise(k, o.supplier, newcomer)
		s.decide(k+1, next, cost, dev, now)
		s.giveBack(o, pieces, newcomer)
	}
}

// classRooms keeps the rooms of one class at one partial choice: its options have few different deviations.
type classRooms struct {
	known int
	list  [4]struct {
		deviation int64
		fresh     bool
		version   uint32
		room      [4]int64
	}
}

// fits reports whether an option leaves room by every bound: its cost with all that is decided, and less what the
// shares of each spread give back if its supplier is used.
func (s *search) fits(c *classRooms, k int, next int32, fresh bool, deviation, cost int64, source int) bool {
	at := 0
	for at < c.known && (c.list[at].deviation != deviation || c.list[at].fresh != fresh || c.list[at].version != s.version) {
		at++
	}
	if at == c.known {
		at = min(at, len(c.list)-1)
		c.known = at + 1
		slot := &c.list[at]
		slot.deviation, slot.fresh, slot.version = deviation, fresh, s.version
		for b := range len(s.rebate) + 1 {
			slot.room[b] = s.roomAt(k, next, b, fresh, deviation)
		}
	}
	room := &c.list[at].room
	if cost >= room[0] {
		return false
	}
	for b := range s.rebate {
		if cost-s.rebate[b][k-1][source] >= room[b+1] {
			return false
		}
	}
	return true
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
	for v := range s.in.suppliers {
		// What goods still do to carriage or to a minimum depends on how many there are already.
		if src := &s.in.suppliers[v]; src.soft || src.MinimumOrder > 0 {
			amount := int64(-1)
			if set>>v&1 == 1 {
				amount = s.goods[v]
			}
			key = binary.AppendVarint(key, amount)
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
		if v.asGood(s, visit{cost, deviation, set, fresh}) {
			return true
		}
	}
	if s.visits < maxVisits {
		me := visit{cost, deviation, set, fresh}
		kept := slices.DeleteFunc(list, func(v visit) bool { return me.asGood(s, v) })
		s.visits += 1 + len(kept) - len(list)
		s.visited[string(key)] = append(kept, me)
	}
	return false
}

// asGood reports whether every way to go on from w costs no more from v: at the worst, v must still begin to use the
// suppliers that w uses already.
func (v visit) asGood(s *search, w visit) bool {
	if v.cost > w.cost || v.deviation > w.deviation || w.fresh && !v.fresh || s.in.p.MostSuppliers > 0 && v.suppliers&^w.suppliers != 0 {
		return false
	}
	cost := v.cost
	for more := w.suppliers &^ v.suppliers; more != 0; more &= more - 1 {
		cost += s.in.suppliers[bits.TrailingZeros64(more)].certain
	}
	return cost <= w.cost
}
