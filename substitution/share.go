package substitution

import (
	"cmp"
	"slices"
)

// Share asks that two lists have a member in common: the speeds of a chain and of a cassette.
type Share struct {
	Mine     string
	Theirs   []Ref
	Above    int    // a member of mine may also be this much above one of theirs: a chain one speed narrower
	Differs  string // what it means where they share none and the parts go together all the same
	Optional bool   // the bike may have no such neighbour
}

func (t Share) scope(at Place) []Place { return scopeOf(at, t.Theirs...) }

// widen adds to a list what else serves, by steps of one.
func widen(list []int, by int) []int {
	out := slices.Clone(list)
	for step := 1; step <= max(by, -by); step++ {
		for _, n := range list {
			out = append(out, n+step*by/max(by, -by))
		}
	}
	return out
}

func (t Share) judge(s Scene, at Place) Judgement {
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if me.known && you.known {
		j := Judgement{Answer: Holds, Words: me.words() + " with " + you.words(), Wanted: you.dimension().Show(you.now), Found: me.dimension().Show(me.now)}
		if !share(me.now.ints, widen(you.now.ints, t.Above)) {
			j.Answer = Breaks
			j.Words += ": " + cmp.Or(t.Differs, "they do not go together")
		}
		return j
	}
	if changed, ok := evidence(me, you); ok && covers(changed.now.ints, changed.was.ints) {
		d := changed.dimension()
		return Judgement{Answer: Holds, Before: true, Wanted: d.Show(changed.was), Found: d.Show(changed.now), Words: changed.words() + ", as the old part"}
	}
	if t.Optional && (!you.recorded || !me.recorded) {
		return Judgement{}
	}
	return untold(me, you)
}

func covers(a, b []int) bool {
	return !slices.ContainsFunc(b, func(n int) bool { return !slices.Contains(a, n) })
}

func (t Share) narrow(s Scene, at, choosing Place) []Condition {
	me, you, above := s.side(mine(t.Mine), at), s.first(t.Theirs, at), t.Above
	if you.place == choosing {
		me, you, above = you, me, -t.Above
	}
	if me.place != choosing || !you.known {
		return nil
	}
	return []Condition{SharesAny{me.dim, widen(you.now.ints, above)}}
}
