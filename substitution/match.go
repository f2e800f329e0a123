package substitution

import (
	"slices"
)

// Match asks that a dimension of the part equal one of its neighbour. Where a bike's side of the joint has no name in
// the vocabulary (the seat of a bearing), or was not recorded, the old part alone vouches for it.
type Match struct {
	Mine     string
	Theirs   []Ref    // the first of these that the bike has
	Each     bool     // all of these that the bike has, not the first alone: a nipple and the spokes on both sides
	Within   float64  // how far two numbers may differ, in their unit
	Free     string   // a word on either side that goes with any other
	Alike    []string // words that go with one another
	Usual    string   // the word that is meant where a part says nothing
	Fill     *Fill    // what bridges a difference
	Else     Answer   // the answer for what differs, if not Breaks
	Doubt    float64  // two numbers that differ by no more than this may go together: asked then
	Ask      string   // what to see to then
	Why      string   // the words for what differs
	Optional bool     // the bike may have no such neighbour
	Rare     bool     // where no part says anything of it, the usual one is meant and the rule is silent
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
	if !t.Each || len(t.Theirs) < 2 {
		return t.beside(s, s.side(mine(t.Mine), at), s.first(t.Theirs, at))
	}
	var worst Judgement
	for _, ref := range t.Theirs {
		you := s.side(ref, at)
		if !you.recorded {
			continue
		}
		if j := t.beside(s, s.side(mine(t.Mine), at), you); j.Answer > worst.Answer {
			worst = j
		}
	}
	if worst.Answer == 0 {
		return t.beside(s, s.side(mine(t.Mine), at), s.side(t.Theirs[0], at))
	}
	return worst
}

// beside judges the part against one neighbour.
func (t Match) beside(s Scene, me, you side) Judgement {
	if me.known && you.known {
		return t.compare(me, you)
	}
	if changed, ok := evidence(me, you); ok {
		return t.likeOld(changed, changed.place == you.place && changed.place != me.place)
	}
	if t.Optional && (!you.recorded || !me.recorded) {
		return Judgement{}
	}
	if t.Rare && !me.known && !me.wasKnown && !you.known && !you.wasKnown {
		return Judgement{}
	}
	if t.Usual != "" {
		if !me.known && !you.known {
			return t.usuallyAs(me)
		}
		if usual := t.usual(me); me.known && t.equal(me.now, usual) || you.known && t.equal(you.now, usual) {
			d := me
			if !d.known {
				d = you
			}
			return Judgement{Answer: Holds, Found: d.dimension().Show(d.now), Words: d.words() + ", as usual"}
		}
	}
	if len(t.Theirs) == 0 || me.known && !you.recorded {
		return untoldOld(me)
	}
	return untold(me, you)
}

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
	if t.equal(me.now, you.now) {
		j.Words = me.words() + " on " + you.words()
		return j
	}
	j.Words = me.words() + " on " + you.words()
	t.differ(&j, me.now, you.now, me.changed || you.changed)
	return j
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
	if t.Fill != nil {
		if answer, ok := t.Fill.bridge(mine.number, theirs.number); ok {
			j.Answer, why = answer, t.Fill.Ask
			if answer == CantTell {
				j.Missing = nil
			}
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
	if !t.equal(changed.now, changed.was) || t.Free != "" && changed.was.word == t.Free && changed.now.word != t.Free {
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
	if t.Else == CantTell || t.Each && len(t.Theirs) > 1 {
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
		within := max(t.Within, t.Doubt)
		low, high := want.number-within-rounding, want.number+within+rounding
		if f := t.Fill; f != nil && f.Wider {
			high = want.number + f.Most + rounding
		} else if f != nil {
			low = want.number - f.Most - rounding
		}
		return []Condition{Between{dim, low, high}}
	case Word:
		if me.dimension().Words == nil || t.Free != "" && t.Free == want.word {
			return nil // an older record may spell it otherwise
		}
		words := []string{want.word}
		if t.Free != "" {
			words = append(words, t.Free)
		}
		if t.Usual != "" && t.Usual != want.word && !you.known {
			words = append(words, t.Usual)
		}
		if slices.Contains(t.Alike, want.word) {
			words = union(words, t.Alike)
		}
		return []Condition{OneOf{dim, words}}
	}
	return nil
}
