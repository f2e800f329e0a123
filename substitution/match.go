package substitution

import (
	"slices"
)

// Match asks that a dimension of the part equal one of its neighbour. Where a bike's side of the joint has no name in
// the vocabulary (the seat of a bearing), or was not recorded, the old part alone vouches for it.
type Match struct {
	Mine     string
	Theirs   []Ref                 // the first of these that the bike has
	Each     bool                  // all of these that the bike has, not the first alone: a nipple and the spokes on both sides
	Any      bool                  // one of these is enough: a bell sits beside the grips or beside the stem
	Within   float64               // how far two numbers may differ, in their unit
	Free     string                // a word on either side that goes with any other
	Alike    []string              // words that go with one another
	Usual    string                // the word that is meant where a part says nothing
	Fill     *Fill                 // what bridges a difference
	Else     Answer                // the answer for what differs, if not Breaks
	Doubt    float64               // two numbers that differ by no more than this may go together: asked then
	Ask      string                // what to see to then
	Doubtful func(a, b Value) bool // two words that do not say it all and may go together: asked then, unless they did before
	Why      string                // the words for what differs
	Optional bool                  // the bike may have no such neighbour
	Rare     bool                  // where no part says anything of it, the usual one is meant and the rule is silent
}

func (t Match) scope(at Place) []Place { return scopeOf(at, t.Theirs...) }

func (t Match) equal(a, b Value) bool {
	if a.form == Number || a.form == Int {
		return near(a.number, b.number, t.Within)
	}
	return a.Equal(b) || t.Mine == "thread" && sameThread(a.word, b.word) || t.Free != "" && (a.word == t.Free || b.word == t.Free) ||
		slices.Contains(t.Alike, a.word) && slices.Contains(t.Alike, b.word)
}

func (t Match) judge(s Scene, at Place) Judgement {
	if t.Any {
		return t.besideAny(s, at)
	}
	if !t.Each || len(t.Theirs) < 2 {
		return t.beside(s.side(mine(t.Mine), at), s.first(t.Theirs, at))
	}
	var worst Judgement
	for _, ref := range t.Theirs {
		you := s.side(ref, at)
		if !you.recorded {
			continue
		}
		if j := t.beside(s.side(mine(t.Mine), at), you); j.Answer > worst.Answer {
			worst = j
		}
	}
	if worst.Answer == 0 {
		return t.beside(s.side(mine(t.Mine), at), s.side(t.Theirs[0], at))
	}
	return worst
}

// besideAny is the kindest of the judgements against each.
func (t Match) besideAny(s Scene, at Place) Judgement {
	var best Judgement
	for _, ref := range t.Theirs {
		if j := t.beside(s.side(mine(t.Mine), at), s.side(ref, at)); best.Answer == 0 || j.Answer != 0 && j.Answer < best.Answer {
			best = j
		}
	}
	return best
}

// beside judges the part against one neighbour.
func (t Match) beside(me, you side) Judgement {
	if me.known && you.known {
		return t.compare(me, you)
	}
	for _, d := range []side{me, you} {
		if t.Free != "" && d.known && d.now.word == t.Free {
			return Judgement{Answer: Holds, Found: d.dimension().Show(d.now), Words: d.words() + ", which goes with any"}
		}
	}
	if changed, ok := evidence(me, you); ok {
		return t.likeOld(changed, changed.place == you.place && changed.place != me.place)
	}
	if t.goesWithoutSaying(me, you) {
		return Judgement{}
	}
	if t.Usual != "" {
		if j, ok := t.asUsual(me, you); ok {
			return j
		}
	}
	if len(t.Theirs) == 0 || me.known && !you.recorded {
		return untoldOld(me)
	}
	return untold(me, you)
}

// goesWithoutSaying reports whether what is not known need not be: the bike may have no such neighbour, or the
// dimension is one that only the rare part says.
func (t Match) goesWithoutSaying(me, you side) bool {
	return t.Optional && (!you.recorded || !me.recorded) && !me.saysNoMore() ||
		t.Rare && !me.known && !me.wasKnown && !you.known && !you.wasKnown
}

// asUsual judges where at most one of the two says something by the usual; false where that one says something else.
func (t Match) asUsual(me, you side) (Judgement, bool) {
	d := me
	switch {
	case !me.known && !you.known:
		return t.usuallyAs(me), true
	case !me.known:
		d = you
	}
	if !t.equal(d.now, t.usual(me)) {
		return Judgement{}, false
	}
	return Judgement{Answer: Holds, Found: d.dimension().Show(d.now), Words: d.words() + ", as usual"}, true
}

// doubts tells whether two words may go together and do not say so.
func (t Match) doubts(a, b Value) bool { return t.Doubtful != nil && t.Doubtful(a, b) }

// usuallyAs judges a part that says nothing beside neighbours that say nothing: the usual one, unless the old one was not.
func (t Match) usuallyAs(me side) Judgement {
	if me.changed && me.wasKnown && !t.equal(me.was, t.usual(me)) {
		return untold(me)
	}
	return Judgement{}
}

// usual is the value that is meant where a part says nothing: a word or a figure.
func (t Match) usual(me side) Value {
	if low, _, ok := between(t.Usual); ok {
		return Value{form: me.dimension().Form, number: low}
	}
	return Text(t.Usual)
}

func (t Match) compare(me, you side) Judgement {
	dim := me.dimension()
	j := Judgement{Answer: Holds, Wanted: you.dimension().Show(you.now), Found: dim.Show(me.now)}
	if t.equal(me.now, you.now) && !t.doubts(me.now, you.now) {
		j.Words = me.words() + " on " + you.words()
		return j
	}
	if changed, ok := unchangedPair(me, you); ok && t.doubts(me.now, you.now) {
		return t.likeOld(changed, changed.place == you.place)
	}
	j.Words = me.words() + " on " + you.words()
	t.differ(&j, me.now, you.now, me.changed || you.changed)
	if j.Answer == CantTell {
		j.Missing = []Missing{t.seeTo(me)}
	}
	return j
}

// seeTo is what settles two values that may go together.
func (t Match) seeTo(d side) Missing {
	m := d.missing()
	switch fill := t.Fill; {
	case t.Ask != "":
		m.Measure = t.Ask
	case fill != nil && fill.Ask != "":
		m.Measure = fill.Ask
	}
	return m
}

// differ is the answer for two values that are not equal.
func (t Match) differ(j *Judgement, mine, theirs Value, fresh bool) {
	j.Answer, j.Before = Breaks, false
	if t.Else != 0 {
		j.Answer = t.Else
	}
	why := t.Why
	if t.Doubt > 0 && near(mine.number, theirs.number, t.Doubt) {
		j.Answer, why = CantTell, t.Ask
	}
	if t.doubts(mine, theirs) {
		j.Answer, why = CantTell, t.Ask
	}
	if t.Fill != nil {
		if answer, ok := t.Fill.bridge(mine.number, theirs.number); ok {
			j.Answer, why = answer, t.Fill.Ask
			if answer == Holds {
				why = "with " + t.Fill.Brings.Words
				if fresh {
					j.Brings = []Bring{t.Fill.Brings}
				}
			}
		}
	}
	if why == "" && j.Answer == Breaks {
		why = "they do not go together"
	}
	if why != "" {
		j.Words += ": " + why
	}
}

// likeOld judges a known new side by its old value; turned says that it is the neighbour's side that is new.
func (t Match) likeOld(changed side, turned bool) Judgement {
	d := changed.dimension()
	j := Judgement{Answer: Holds, Before: true, Wanted: d.Show(changed.was), Found: d.Show(changed.now),
		Words: changed.words() + ", as on the old part"}
	if !t.equal(changed.now, changed.was) || t.doubts(changed.now, changed.was) || t.Free != "" && changed.was.word == t.Free && changed.now.word != t.Free {
		j.Words = changed.words() + "; the old part had " + d.Show(changed.was)
		if t.Free != "" && changed.was.word == t.Free {
			j.Answer, j.Before = CantTell, false
			j.Words += ", which goes with any: look what the neighbour wants"
			j.Missing = []Missing{changed.missing()}
			return j
		}
		if turned {
			t.differ(&j, changed.was, changed.now, true)
		} else {
			t.differ(&j, changed.now, changed.was, true)
		}
		j.Before = j.Answer == Holds
		if j.Answer == CantTell {
			j.Missing = []Missing{changed.missing()}
		}
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
	if t.Else == CantTell || t.Doubtful != nil || t.Any || t.Each && len(t.Theirs) > 1 {
		return nil
	}
	me, you := s.side(mine(t.Mine), at), s.first(t.Theirs, at)
	turned := you.place == choosing
	if turned {
		me, you = you, me
	}
	if me.place != choosing || me.place == you.place || turned && (t.Fill != nil || t.Usual != "") {
		return nil
	}
	want := you.now
	switch {
	case you.known:
	case !you.changed && me.wasKnown:
		want = me.was
	default:
		return nil
	}
	switch want.form {
	case Number, Int:
		return []Condition{t.figures(me.dim, want.number)}
	case Word:
		if me.dimension().Words == nil || t.Free != "" && t.Free == want.word {
			return nil // an older record may spell it otherwise
		}
		return []Condition{OneOf{me.dim, t.words(want.word, you.known)}}
	}
	return nil
}

// figures are those that go with a figure, or may.
func (t Match) figures(dim string, want float64) Condition {
	within := max(t.Within, t.Doubt)
	low, high := want-within-rounding, want+within+rounding
	if f := t.Fill; f != nil && f.Wider {
		high = want + f.Most + rounding
	} else if f != nil {
		low = want - f.Most - rounding
	}
	return Between{dim, low, high}
}

// words are those that go with a word; the usual one goes with that of an old part, of whose neighbour nothing is known.
func (t Match) words(want string, neighbourKnown bool) []string {
	words := []string{want}
	if t.Free != "" {
		words = append(words, t.Free)
	}
	if t.Usual != "" && t.Usual != want && !neighbourKnown {
		words = append(words, t.Usual)
	}
	if slices.Contains(t.Alike, want) {
		words = union(words, t.Alike)
	}
	return words
}
