package choose

import (
	"math"

	"stead/substitution/supply"
)

// corner is a point of a staircase: with a deviation of so much or more, it costs at least so much.
type corner struct{ deviation, cost int64 }

// stair bounds what the rest of a choice costs by how much it may deviate: deviations rise, costs fall.
type stair []corner

// none stands for a cost that cannot be had. It is small enough to add to.
const none = math.MaxInt64 / 4

// maxCorners bounds a staircase's length. Beyond it, two corners become one that is no worse than either.
const maxCorners = 64

// put adds a corner unless one there is as good.
func (s stair) put(c corner) stair {
	i := len(s)
	for i > 0 && s[i-1].deviation > c.deviation {
		i--
	}
	if i > 0 && s[i-1].cost <= c.cost {
		return s
	}
	if i > 0 && s[i-1].deviation == c.deviation {
		i--
	}
	j := i
	for j < len(s) && s[j].cost >= c.cost {
		j++
	}
	if j > i {
		s[i] = c
		return append(s[:i+1], s[j:]...)
	}
	s = append(s, c)
	copy(s[i+1:], s[i:])
	s[i] = c
	if len(s) > maxCorners {
		s = s.shorten()
	}
	return s
}

// shorten joins the two neighbours between which the cost falls least.
func (s stair) shorten() stair {
	at := 0
	for i := 1; i+1 < len(s); i++ {
		if s[i].cost-s[i+1].cost < s[at].cost-s[at+1].cost {
			at = i
		}
	}
	s[at].cost = s[at+1].cost
	return append(s[:at+1], s[at+2:]...)
}

// sums gathers sums of corners and makes a staircase of them. Deviations are mostly small, so that the least cost of
// each is kept in an array; what is larger goes into a staircase at once.
type sums struct {
	least  [512]int64 // by deviation
	top    int64      // no deviation in least is larger; -1: there is none
	beyond stair
}

func newSums() sums {
	s := sums{top: -1}
	for d := range s.least {
		s.least[d] = none
	}
	return s
}

// add takes in every sum of a corner of a, one of b and a deviation, up to the most that it may come to.
func (s *sums) add(a, b stair, deviation, most int64) {
	if len(b) == 0 {
		return
	}
	for _, x := range a {
		first := x.deviation + deviation
		if last := first + b[len(b)-1].deviation; last <= most && last < int64(len(s.least)) {
			s.top = max(s.top, last)
			for _, y := range b {
				at := &s.least[(first+y.deviation)&511]
				*at = min(*at, x.cost+y.cost)
			}
			continue
		}
		for _, y := range b {
			d := first + y.deviation
			switch {
			case d > most:
			case d < int64(len(s.least)):
				s.top = max(s.top, d)
				s.least[d] = min(s.least[d], x.cost+y.cost)
			default:
				s.beyond = s.beyond.put(corner{d, x.cost + y.cost})
			}
		}
	}
}

// drain writes the staircase over another one, and leaves the sums empty.
func (s *sums) drain(over stair) stair {
	over = over[:0]
	low := int64(none)
	for d := range s.top + 1 {
		if s.least[d] < low {
			low = s.least[d]
			if over = append(over, corner{d, low}); len(over) > maxCorners {
				over = over.shorten()
			}
		}
		s.least[d] = none
	}
	for _, c := range s.beyond {
		over = over.put(c)
	}
	s.top, s.beyond = -1, s.beyond[:0]
	return over
}

// rest holds, for a state of the frontier, what deciding all further needs costs at least: whatever they choose, and
// if one of them at least takes an option that arrives on the very day of the search.
type rest struct {
	any, new stair
}

// suffix works the rests out from the last need to the first, with shares of carriage or without any. Either is a
// bound. The one with shares is higher before suppliers are chosen, the one without after.
func (s *search) suffix(sp *spread, out [][]rest) {
	n := len(s.in.needs)
	for st := range out[n] {
		out[n][st] = rest{any: append(out[n][st].any[:0], corner{}), new: out[n][st].new[:0]}
	}
	for k := n - 1; k >= 0; k-- {
		if s.ended() {
			return
		}
		own := s.own[k]
		for c := range own {
			own[c].any, own[c].new = own[c].any[:0], own[c].new[:0]
		}
		for i := range s.active[k] {
			o := &s.active[k][i]
			x := corner{o.deviation, o.price}
			if sp != nil && o.supplier != supply.Shelf {
				x.cost += sp.share[o.supplier][k] - o.discount
			}
			own[o.class].any = own[o.class].any.put(x)
			if o.new {
				own[o.class].new = own[o.class].new.put(x)
			}
		}
		lv := &s.levels[k]
		for len(s.gathered) < len(lv.sets) {
			s.gathered = append(s.gathered, rest{})
		}
		for i, set := range lv.sets {
			g := &s.gathered[i]
			g.any, g.new = g.any[:0], g.new[:0]
			for _, c := range set {
				for _, x := range own[c].any {
					g.any = g.any.put(x)
				}
				for _, x := range own[c].new {
					g.new = g.new.put(x)
				}
			}
		}
		for st, steps := range lv.steps {
			r := &out[k][st]
			for _, step := range steps {
				then, now := &out[k+1][step.next], &s.gathered[step.set]
				s.anyOf.add(now.any, then.any, step.deviation, s.mostDeviation)
				s.newOf.add(now.new, then.any, step.deviation, s.mostDeviation)
				s.newOf.add(now.any, then.new, step.deviation, s.mostDeviation)
			}
			r.any, r.new = s.anyOf.drain(r.any), s.newOf.drain(r.new)
			r.any, r.new = s.within(k, r.any), s.within(k, r.new)
		}
	}
}

// within takes off the corners that cannot lead to a point worth having even if all needs before position k are met at
// their least price.
func (s *search) within(k int, list stair) stair {
	kept, j := list[:0], -1
	for _, c := range list {
		for j+1 < len(s.limit) && s.limit[j+1].deviation <= c.deviation {
			j++
		}
		if j < 0 || s.head[k]+c.cost < s.limit[j].cost {
			kept = append(kept, c)
		}
	}
	return kept
}
