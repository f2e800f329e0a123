package choose

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// visit is a partial choice that was gone into.
type visit struct {
	cost, deviation int64
	suppliers       uint64
	fresh           bool
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
	set := s.usedSet()
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
	me := visit{cost, deviation, set, fresh}
	list := s.visited[string(key)] // the cheapest first, so that those that may better it come before it and the others after
	at := 0
	for ; at < len(list) && list[at].cost <= cost; at++ {
		if list[at].asGood(s, me) {
			return true
		}
	}
	if s.visits < maxVisits {
		for at > 0 && list[at-1].cost == cost {
			at--
		}
		kept := slices.DeleteFunc(list[at:], func(v visit) bool { return me.asGood(s, v) })
		s.visits += 1 + at + len(kept) - len(list)
		s.visited[string(key)] = slices.Insert(list[:at+len(kept)], at, me)
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
