package substitution

import (
	"cmp"
	"slices"
)

// Share asks that two lists have a member in common: the speeds of a chain and of a cassette.
type Share struct {
	Mine     string
	Theirs   []Ref
	Serves   Serving // what a member of mine goes with besides itself: a chain for fewer sprockets; nil: with itself alone
	Doubt    Serving // what it may go with: asked then
	Differs  string  // what it means where they share none and the parts go together all the same
	Only     Serving // asked only of lists that go together by this table
	Free     *Exempt // parts that are not asked
	Optional bool    // the bike may have no such neighbour
	AsOld    bool    // where it has none, a part made for others than the old one differs all the same
}

func (t Share) scope(at Place) []Place { return scopeOf(at, t.Theirs...) }

// Exempt are parts that go with any neighbour: a friction shifter has no clicks.
type Exempt struct{ Dimension, Word, Says string }

// Serving lists, by a member of one list, the members of another that it goes with.
type Serving map[int][]int

// of are all members that a list goes with; without a table, its own.
func (s Serving) of(list []int) []int {
	if s == nil {
		return list
	}
	var out []int
	for _, n := range list {
		out = append(out, s[n]...)
	}
	return out
}

// to are the members of the one list that go with any of another.
func (s Serving) to(list []int) []int {
	if s == nil {
		return list
	}
	var out []int
	for n, served := range s {
		if share(served, list) {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// serves answers for two lists: holds, breaks, or asks.
func (t Share) serves(mine, theirs []int) Answer {
	switch {
	case share(t.Serves.of(mine), theirs):
		return Holds
	case t.Doubt != nil && share(t.Doubt.of(mine), theirs):
		return CantTell
	}
	return Breaks
}

func (t Share) judge(s Scene, at Place) Judgement {
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if t.exempt(s, at) {
		return Judgement{Answer: Holds, Found: t.Free.Word, Words: t.Free.Says}
	}
	if me.known && you.known {
		if t.Only != nil && !share(t.Only.of(me.now.ints), you.now.ints) {
			return Judgement{}
		}
		j := Judgement{Answer: t.serves(me.now.ints, you.now.ints), Words: me.words() + " with " + you.words(), Wanted: you.dimension().Show(you.now), Found: me.dimension().Show(me.now)}
		switch j.Answer {
		case Breaks:
			j.Words += ": " + cmp.Or(t.Differs, "they do not go together")
		case CantTell:
			j.Words += ": it may run, and nobody who was read says so: the maker's word"
			j.Missing = []Missing{me.missing()}
		}
		return j
	}
	if changed, ok := evidence(me, you); ok {
		if j, told := t.likeOld(changed, changed.place == me.place && changed.dim == me.dim); told {
			return j
		}
	}
	if t.Optional && (!you.recorded || !me.recorded) {
		if me.changed && me.wasKnown && !me.known {
			return untold(me) // the old one said for how many it was made
		}
		return Judgement{}
	}
	return untold(me, you)
}

// likeOld judges by the old part: the neighbour that was never recorded went with it, for each thing that it may be.
func (t Share) likeOld(changed side, own bool) (Judgement, bool) {
	var possible []int // what the neighbour may be
	var answer Answer
	if own {
		possible = t.exact().of(changed.was.ints)
	} else {
		possible = t.exact().to(changed.was.ints)
	}
	breaks := 0
	for _, n := range possible {
		a := Answer(0)
		if own {
			a = t.serves(changed.now.ints, []int{n})
		} else {
			a = t.serves([]int{n}, changed.now.ints)
		}
		answer = max(answer, a)
		if a == Breaks {
			breaks++
		}
	}
	d := changed.dimension()
	j := Judgement{Answer: Holds, Before: true, Wanted: d.Show(changed.was), Found: d.Show(changed.now), Words: changed.words() + ", and " + d.Show(changed.was) + " was there"}
	switch {
	case len(possible) > 0 && answer == Holds:
		return j, true
	case breaks == len(possible) && len(possible) > 0 && (!t.Optional || t.AsOld) && (own || t.Free == nil):
		j.Answer, j.Before = Breaks, false
		j.Words += ": " + cmp.Or(t.Differs, "what went with the old one does not go with it")
		return j, true
	}
	return Judgement{}, false
}

// exact is what is made for one another: of a table that also has what merely runs, the groups that are sold as one.
func (t Share) exact() Serving {
	if t.Serves == nil {
		return nil
	}
	return sameChain
}

func covers(a, b []int) bool {
	return !slices.ContainsFunc(b, func(n int) bool { return !slices.Contains(a, n) })
}

// exempt tells whether the part is one that is not asked.
func (t Share) exempt(s Scene, at Place) bool {
	if t.Free == nil {
		return false
	}
	kind, known := s.Now[at].Get(t.Free.Dimension)
	return known && kind.word == t.Free.Word
}

func (t Share) narrow(s Scene, at, choosing Place) []Condition {
	if t.Free != nil && (at == choosing || t.exempt(s, at)) {
		return nil // it may be one that is not asked
	}
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if me.place == choosing && you.known {
		return []Condition{SharesAny{me.dim, t.Serves.to(you.now.ints)}}
	}
	if you.place == choosing && me.known && me.place != you.place {
		return []Condition{SharesAny{you.dim, t.Serves.of(me.now.ints)}}
	}
	return nil
}
