package choose

import (
	"cmp"
	"slices"
)

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

// worthwhile reports whether any option of a class may lead to a point worth having, by the least that they cost.
func (s *search) worthwhile(k int, low *lowest, next int32, cost, soft, deviation int64) bool {
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
		shared := low.shelf - rebate[len(s.in.suppliers)]
		for v, price := range low.reduced {
			if s.settled[k][v] {
				price = low.from[v]
			}
			shared = min(shared, price+s.fee[k][v]+s.turn[k][v]-rebate[v])
		}
		if cost+soft+shared >= s.roomAt(k+1, next, b+1, true, deviation) {
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
		s.fee[k][v], s.turn[k][v] = 0, 0
		if src := &s.in.suppliers[v]; s.count[v] == 0 {
			s.fee[k][v], s.turn[k][v] = src.certain, src.spread-src.certain
			s.settled[k][v] = false
		}
	}
	for b := range s.rebate {
		top, rebate, sum := s.top[b][k], s.rebate[b][k], int64(0)
		for j := k + 1; j < n; j++ {
			sum += top[j]
		}
		for v := range s.in.suppliers {
			rebate[v] = sum
			if s.fee[k][v]+s.turn[k][v] <= 0 {
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
func (s *search) fits(c *classRooms, k int, next int32, fresh bool, deviation, cost, soft int64, source int) bool {
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
		if cost+soft-s.rebate[b][k-1][source] >= room[b+1] {
			return false
		}
	}
	return true
}

// late is the carriage that has become certain because a supplier's goods can no longer reach its level. Soft is what
// bounds with shares count for the carriages that may still turn out free: all of each, less the discounts. It reports
// false when an order can no longer reach its minimum.
func (s *search) late(k int) (late, soft int64, ok bool) {
	for _, v := range s.used {
		src := &s.in.suppliers[v]
		s.settled[k][v] = false
		if !src.soft && src.MinimumOrder == 0 || src.pooled {
			continue
		}
		most := s.goods[v] + s.reach[k][v]
		if most < src.MinimumOrder {
			return 0, 0, false
		}
		switch {
		case src.soft && most < src.PaidAt:
			late += src.Carriage
			s.settled[k][v] = true
		case src.spread > src.certain:
			soft += src.spread - s.discounts[v]
		}
	}
	return late, soft, true
}

// shift is what taking an option adds to soft.
func (s *search) shift(k int, o *option) int64 {
	if o.discount == 0 || s.count[o.supplier] > 0 && s.settled[k][o.supplier] {
		return 0
	}
	return s.turn[k][o.supplier] - o.discount
}
