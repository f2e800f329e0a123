package substitution

import (
	"slices"
)

// Share asks that two lists have a member in common: the speeds of a chain and of a cassette.
type Share struct {
	Mine     string
	Theirs   []Ref
	Optional bool
}

func (t Share) scope(at Place) []Place { return scopeOf(at, t.Theirs...) }

func (t Share) judge(s Scene, at Place) Judgement {
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if me.known && you.known {
		j := Judgement{Answer: Holds, Words: me.words() + " with " + you.words(), Wanted: you.dimension().Show(you.now), Found: me.dimension().Show(me.now)}
		if !share(me.now.ints, you.now.ints) {
			j.Answer = Breaks
			j.Words = me.words() + " does not go with " + you.words()
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
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if you.place == choosing {
		me, you = you, me
	}
	if me.place != choosing || !you.known {
		return nil
	}
	return []Condition{SharesAny{me.dim, you.now.ints}}
}
