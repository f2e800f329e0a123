package substitution

// Match asks that a dimension of the part equal one of its neighbour.
type Match struct {
	Mine     string
	Theirs   []Ref   // the first of these that the bike has
	Within   float64 // how far two numbers may differ, in their unit
	Optional bool    // the bike may have no such neighbour
}

func (t Match) scope(at Place) []Place { return scopeOf(at, t.Theirs...) }

func (t Match) equal(a, b Value) bool {
	if a.form == Number || a.form == Int {
		return near(a.number, b.number, t.Within)
	}
	return a.Equal(b)
}

func (t Match) judge(s Scene, at Place) Judgement {
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if me.known && you.known {
		if t.equal(me.now, you.now) {
			return Judgement{Answer: Holds, Words: me.words() + " on " + you.words(), Wanted: you.dimension().Show(you.now), Found: me.dimension().Show(me.now)}
		}
		return Judgement{Answer: Breaks, Words: me.words() + " does not go with " + you.words(), Wanted: you.dimension().Show(you.now), Found: me.dimension().Show(me.now)}
	}
	if changed, ok := evidence(me, you); ok {
		d := changed.dimension()
		j := Judgement{Answer: Holds, Before: true, Wanted: d.Show(changed.was), Found: d.Show(changed.now),
			Words: changed.words() + ", as on the old part"}
		if !t.equal(changed.now, changed.was) {
			j.Answer, j.Before = Breaks, false
			j.Words = changed.words() + "; the old part had " + d.Show(changed.was)
		}
		return j
	}
	if t.Optional && (!you.recorded || !me.recorded) {
		return Judgement{}
	}
	return untold(me, you)
}

// evidence tells whether the old part vouches for a neighbour that was never measured: one side is known and new, its
// old value is known, and the unknown side stays on the bike. It returns the known side.
func evidence(a, b side) (side, bool) {
	for _, pair := range [][2]side{{a, b}, {b, a}} {
		known, unknown := pair[0], pair[1]
		if known.known && known.changed && known.wasKnown && !unknown.known && !unknown.changed {
			return known, true
		}
	}
	return side{}, false
}

func (t Match) narrow(s Scene, at, choosing Place) []Condition {
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if you.place == choosing {
		me, you = you, me
	}
	if me.place != choosing || me.place == you.place {
		return nil
	}
	want, dim := you.now, me.dim
	switch {
	case you.known:
	case !you.changed && me.wasKnown && me.known == false:
		want = me.was
	default:
		return nil
	}
	switch want.form {
	case Number, Int:
		return []Condition{Between{dim, want.number - t.Within - rounding, want.number + t.Within + rounding}}
	case Word:
		return []Condition{OneOf{dim, []string{want.word}}}
	}
	return nil
}
