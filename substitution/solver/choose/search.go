package choose

import (
	"slices"

	"stead/substitution/supply"
)

// search walks depth first through partial choices. See the package comment for what keeps it short.
type search struct {
	*deadline
	*sight    // the one in use: near or far
	in        *instance
	near, far *sight // by coarse frontiers and by fine ones; far is made when it is first needed
	hard      bool   // the last search took many nodes even with fine frontiers, or was given up with coarse ones
	goal      goal
	effort
	opened
	partial
	found  Front
	bound  int64
	nodes  int64
	budget int64 // nodes after which a search ends; zero: none
	over   bool  // enough was found, or the budget is used up
	spent  bool  // the budget is used up
}

func newSearch(in *instance, g goal) *search {
	s := &search{deadline: in.deadline, in: in, goal: g, effort: forPoint, opened: newOpened(in, g), partial: newPartial(in)}
	if g == everything {
		s.effort = forFront
	}
	s.spreads = make([]spread, s.ways())
	for i := range s.spreads {
		s.startShares(&s.spreads[i])
	}
	s.near = s.newSight(s.effort.coarse)
	s.sight = s.near
	return s
}

// lowest is what the options of a class come to at least.
type lowest struct {
	price, lean int64 // in full and less the discount
	deviation   int64
	shelf       int64 // price from the shelf
	plain       int64 // price from a supplier that is not used yet, with its certain carriage
	from        []lowestFrom
	new         bool // one is what the search of the day looks for
}

// descend starts the walk. Fresh says that a choice need not take an option of the very day.
func (s *search) descend(fresh bool, budget int64) {
	s.visited, s.visits = map[string][]visit{}, 0
	s.budget, s.over, s.spent = 0, false, false
	if budget > 0 {
		s.budget = s.nodes + budget
	}
	s.round++
	for k := range s.in.needs {
		b := s.live[0][k]
		clear(b)
		for i := range s.active[k] {
			b.set(s.active[k][i].class)
		}
	}
	if s.anchor != supply.Shelf {
		s.count[s.anchor], s.used = 1, append(s.used, s.anchor)
	}
	s.decide(0, 0, s.head[0], 0, fresh)
	if s.anchor != supply.Shelf {
		s.count[s.anchor], s.used = 0, s.used[:0]
	}
}

// decide goes through the options of the need at position k. The costs are those of the decided needs, with the
// carriage that is certain, counted in full and by shares.
func (s *search) decide(k int, state int32, plain, deviation int64, fresh bool) {
	if k == len(s.in.needs) {
		s.settle(deviation)
		return
	}
	late, soft, ok := s.late(k)
	if !ok || s.seen(k, plain, deviation, fresh) {
		return
	}
	s.lookOnward(k)
	next, live, list := s.levels[k].next[state], s.live[k][k], s.behind[k]
	for i := range list {
		list[i].line = list[i].cells[list[i].row[s.class[list[i].need]]]
	}
	for _, c := range s.order[k] {
		if s.over || s.passed {
			return
		}
		if next[c] < 0 || !live.has(c) {
			continue
		}
		dev := deviation
		for i := range list {
			dev += list[i].line[list[i].col[c]].deviation
		}
		low := &s.least[k][c]
		below, yes := s.worthwhile(k, low, next[c], fresh, plain+late, soft, dev)
		if !yes {
			continue
		}
		s.class[k] = c
		wide, brings, ok := s.widely(k, c)
		if ok && s.narrow(k, c) {
			for i := range list {
				brings = append(brings, list[i].line[list[i].col[c]].brings...)
			}
			if beside := s.in.besides(brings); beside < none {
				s.bring(brings, 1)
				s.options(k, c, next[c], plain+beside, late, soft, dev+wide, below-beside, fresh)
				s.bring(brings, -1)
			}
		}
		s.forget(k)
	}
}

// options goes through the options of one class that cost less than what makes them worth it.
func (s *search) options(k, c int, next int32, plain, late, soft, deviation, below int64, fresh bool) {
	list := s.active[k][s.start[k][c]:s.start[k][c+1]]
	for i := range list {
		o := &list[i]
		if o.price >= below {
			return // as are all that come after it
		}
		s.nodes++
		if s.nodes%1024 == 0 && s.ended() {
			return
		}
		if s.budget > 0 && s.nodes > s.budget {
			s.over, s.spent = true, true
		}
		if s.over || s.passed {
			return
		}
		if s.runsOut(o.shared, o.offer, o.pieces) || o.first != nil && s.runsOut(o.first.shared, o.first.Offer, o.first.Pieces) {
			continue
		}
		fee, newcomer := int64(0), o.supplier != supply.Shelf && s.count[o.supplier] == 0
		if newcomer {
			fee = s.onward[k].fee[o.supplier]
			if s.in.p.MostSuppliers > 0 && len(s.used) == s.in.p.MostSuppliers {
				continue
			}
		}
		now := fresh || o.new
		dev := deviation + o.deviation
		if !s.fits(k, o, next, now, dev, plain+o.price+late, fee, soft) {
			continue
		}
		if s.bettered(list, i, newcomer, fresh) {
			continue
		}
		s.chosen[k] = o
		s.take(o, newcomer)
		s.decide(k+1, next, plain+o.price+fee, dev, now)
		s.giveBack(o, newcomer)
	}
}

// runsOut reports whether a shared offer has not so many pieces left.
func (s *search) runsOut(shared, offer, pieces int) bool {
	if shared < 0 {
		return false
	}
	most := s.in.p.Offers[offer].Most
	return most > 0 && s.pieces[shared]+pieces > most
}

// bettered reports whether another option of the class, from a source that is used anyway, is at least as good.
func (s *search) bettered(list []option, i int, newcomer, fresh bool) bool {
	o := &list[i]
	if o.shared >= 0 {
		return false
	}
	if o.supplier != supply.Shelf {
		if src := &s.in.suppliers[o.supplier]; src.soft || src.MinimumOrder > 0 {
			return false
		}
	}
	for j := range list {
		a := &list[j]
		if a.price > o.price {
			return false
		}
		if j == i || a.shared >= 0 || a.deviation > o.deviation || !a.first.same(o.first) || !fresh && o.new && !a.new || a.supplier != supply.Shelf && s.count[a.supplier] == 0 {
			continue
		}
		// Of two that are equal in everything, the used source stands for the newcomer, and the first for the second.
		if a.price < o.price || a.deviation < o.deviation || newcomer || j < i {
			return true
		}
	}
	return false
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

// lowestFrom is what a supplier's options of a class cost at least, in full and less the discount.
type lowestFrom struct {
	supplier       int
	price, reduced int64
}

// behind is a link to an earlier need, with what it says of the class that was decided there.
type behind struct {
	*pair
	need int
	line []cell
}
