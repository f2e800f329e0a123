package substitution

// Match asks that a dimension of the part equal one of its neighbour. Where a bike's side of the joint has no name in
// the vocabulary (the seat of a bearing), Theirs is empty and the old part alone vouches for it.
type Match struct {
	Mine     string
	Theirs   []Ref   // the first of these that the bike has
	Within   float64 // how far two numbers may differ, in their unit
	Free     string  // a word on either side that goes with any other
	Optional bool    // the bike may have no such neighbour
	Rare     bool    // where no part says anything of it, the usual one is meant and the rule is silent
}

func (t Match) scope(at Place) []Place { return scopeOf(at, t.Theirs...) }

func (t Match) equal(a, b Value) bool {
	if a.form == Number || a.form == Int {
		return near(a.number, b.number, t.Within)
	}
	return a.Equal(b) || t.Mine == "thread" && sameThread(a.word, b.word) || t.Free != "" && (a.word == t.Free || b.word == t.Free)
}

func (t Match) judge(s Scene, at Place) Judgement {
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	if me.known && you.known {
		j := Judgement{Answer: Holds, Words: me.words() + " on " + you.words(), Wanted: you.dimension().Show(you.now), Found: me.dimension().Show(me.now)}
		if !t.equal(me.now, you.now) {
			j.Answer, j.Words = Breaks, me.words()+" does not go with "+you.words()
		}
		return j
	}
	if changed, ok := evidence(me, you); ok {
		return t.likeOld(changed)
	}
	if t.Optional && (!you.recorded || !me.recorded) {
		return Judgement{}
	}
	if t.Rare && !me.known && !me.wasKnown && !you.known && !you.wasKnown {
		return Judgement{}
	}
	if len(t.Theirs) == 0 {
		return untoldOld(me)
	}
	return untold(me, you)
}

// likeOld judges a known new side by its old value.
func (t Match) likeOld(changed side) Judgement {
	d := changed.dimension()
	j := Judgement{Answer: Holds, Before: true, Wanted: d.Show(changed.was), Found: d.Show(changed.now),
		Words: changed.words() + ", as on the old part"}
	if !t.equal(changed.now, changed.was) {
		j.Answer, j.Before = Breaks, false
		j.Words = changed.words() + "; the old part had " + d.Show(changed.was)
	}
	return j
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
	case !you.changed && me.wasKnown:
		want = me.was
	default:
		return nil
	}
	switch want.form {
	case Number, Int:
		return []Condition{Between{dim, want.number - t.Within - rounding, want.number + t.Within + rounding}}
	case Word:
		if me.dimension().Words == nil {
			return nil // an older record may spell it otherwise
		}
		if t.Free == "" {
			return []Condition{OneOf{dim, []string{want.word}}}
		}
		if t.Free != want.word {
			return []Condition{OneOf{dim, []string{want.word, t.Free}}}
		}
	}
	return nil
}
