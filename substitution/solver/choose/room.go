package choose

import (
	"cmp"
	"slices"

	"stead/substitution/supply"
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

// remembered are the rooms by each bound that were worked out. They stay right until the limit changes.
type remembered struct {
	key     uint64
	version uint32
	known   uint8 // bounds whose room was worked out
	room    [maxWays + 1]int64
}

// roomsOf is the slot for the rest from position k on in a state of the frontier.
func (s *search) roomsOf(k int, state int32, fresh bool, deviation int64) *remembered {
	key := uint64(deviation)<<28 | uint64(state)<<12 | uint64(k)<<1
	if fresh {
		key |= 1
	}
	slot := &s.rooms[key*0x9E3779B97F4A7C15>>s.roomShift]
	if slot.key != key || slot.version != s.version {
		slot.key, slot.version, slot.known = key, s.version, 0
	}
	return slot
}

// roomBy is the room by one bound: 0 is without carriage, i+1 with the shares of spread i.
func (s *search) roomBy(bound int, slot *remembered, k int, state int32, fresh bool, deviation int64) int64 {
	if slot.known>>bound&1 == 0 {
		rests := s.plain
		if bound > 0 {
			rests = s.shared[bound-1]
		}
		list := rests[k][state].any
		if !fresh {
			list = rests[k][state].new
		}
		slot.known |= 1 << bound
		slot.room[bound] = s.room(deviation, list)
	}
	return slot.room[bound]
}

// The slots for rooms are two to the power of this many: a search for one point needs few.
const (
	manyRooms = 15
	fewRooms  = 11
)

// worthwhile reports whether any option of a class may lead to a point worth having, by the least that they cost, and
// what an option must cost less than to do so, the more that carriage and its deviation take left out.
func (s *search) worthwhile(k int, low *lowest, next int32, fresh bool, cost, soft, deviation int64) (below int64, yes bool) {
	known := min(low.shelf, low.plain)
	for _, from := range low.from {
		if s.count[from.supplier] > 0 {
			known = min(known, from.price)
		}
	}
	fresh = fresh || low.new
	deviation += low.deviation
	slot := s.roomsOf(k+1, next, fresh, deviation)
	below = s.roomBy(0, slot, k+1, next, fresh, deviation) - cost
	if known >= below {
		return below, false
	}
	for b, extra := range s.onward[k].extra {
		shared := low.shelf + extra[len(s.in.suppliers)]
		for _, from := range low.from {
			price := from.reduced
			if s.settled[k][from.supplier] {
				price = from.price
			}
			shared = min(shared, price+extra[from.supplier])
		}
		if cost+soft+shared >= s.roomBy(b+1, slot, k+1, next, fresh, deviation) {
			return below, false
		}
	}
	return below, true
}

// fits reports whether an option leaves room by every bound. Its cost is that of all that is decided, its carriage
// left out; fee is the certain carriage that it adds.
func (s *search) fits(k int, o *option, next int32, fresh bool, deviation, cost, fee, soft int64) bool {
	slot := s.roomsOf(k+1, next, fresh, deviation)
	if cost+fee >= s.roomBy(0, slot, k+1, next, fresh, deviation) {
		return false
	}
	if o.discount > 0 && (s.count[o.supplier] == 0 || !s.settled[k][o.supplier]) {
		soft -= o.discount
	}
	source := o.supplier
	if source == supply.Shelf {
		source = len(s.in.suppliers)
	}
	for b, extra := range s.onward[k].extra {
		if cost+soft+extra[source] >= s.roomBy(b+1, slot, k+1, next, fresh, deviation) {
			return false
		}
	}
	return true
}

// late is the carriage that has become certain because a supplier's goods can no longer reach its level. Soft is what
// bounds with shares count for the carriages that may still turn out free: all of each, less the discounts. It reports
// false when an order can no longer reach its minimum.
func (s *search) late(k int) (late, soft int64, ok bool) {
	clear(s.settled[k])
	for _, v := range s.used {
		src := &s.in.suppliers[v]
		if !src.soft && src.MinimumOrder == 0 {
			continue
		}
		most := s.goods[v] + s.reach[k][v]
		switch {
		case most < src.MinimumOrder && !src.pooled:
			return 0, 0, false
		case src.soft && most < src.PaidAt && !src.pooled:
			late += src.Carriage
			s.settled[k][v] = true
		case src.spread > src.certain:
			soft += src.spread - s.discounts[v]
		}
	}
	return late, soft, true
}
