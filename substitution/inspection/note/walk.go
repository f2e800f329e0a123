package note

import (
	"slices"

	"stead/substitution"
	"stead/substitution/inspection"
)

// predicate is one thing said of a part: what is to be done, what was read, a size. A void one is understood and says
// nothing that is kept.
type predicate struct {
	spans    []span
	action   inspection.Action
	readings []fact
	facts    []fact
	bend     bool // bent or out of true: what that is depends on the part
	straight bool // and its opposite
	balls    bool // of the balls inside
	listed   bool // an action said of a list after a colon
	but      bool // "but" stands before it
	negated  bool
	void     bool
	segment  int
	glued    bool // said right after another, without a mark or "and" between
}

// unit is a part, or a list of them, with what is said of it.
type unit struct {
	parts    []*nounPhrase
	verb     *predicate // said before the list: "renew"
	says     []*predicate
	wanted   bool // what is named is wanted, not fitted
	same     bool // "the same" as what was said before
	sameAt   span
	sameSize bool        // "the same size": nothing else of it
	sameAs   *nounPhrase // as what
	correct  bool        // it corrects what was said before
	scratch  bool
	marks    []span // words that bind it to what was said before
	but      bool
	pronoun  bool
	many     bool // they
	pending  bool // the verb may belong to the part before it instead
	setter   bool
	segment  int
}

// segment is a stretch between marks, or between one statement and the next.
type segment struct {
	first, last int
	kinds       [otherBike + 2]bool // the ways of not saying so that were met, by role
	dirty       bool                // it has a word that was not understood
	part, said  bool
	known       bool // the part is one of ours, or a bare end
	action      bool
	wish        bool // it says what is wanted
}

// walk goes through one sentence and groups it into units.
type walk struct {
	*parser
	units    []*unit
	segments []segment
	cur      *unit
	sep      separator // the mark before the item at hand
	join     role      // "and", "but" before it
	negated  bool
	negSpan  span
	keepNeg  bool // "not cut or cracked"
	at       bool
	degree   role
	degSpan  span
	lastSaid *predicate
	family   substitution.Family
	stray    bool // the last word was not understood
	maybe    bool // the last word was a hedge
	same     bool
	sameAt   span
	sameSize bool
	sameAs   *nounPhrase
	correct  bool
	marks    []span
	wished   int  // where in the sentence something is wanted: sizes and colours after it are of that
	want     span // "needs", still to be followed
	wanting  bool
	end      int
}

func (w *walk) seg() *segment { return &w.segments[len(w.segments)-1] }

// newSegment begins a segment at item i. A stray word or a hedge that no mark parts from it belongs to both.
func (w *walk) newSegment(i int, parted bool) {
	if len(w.segments) > 0 {
		w.seg().last = i
	}
	s := segment{first: i, last: w.end}
	if !parted {
		had := w.seg()
		s.dirty = w.stray || had.dirty && !had.said || w.at && had.first < i
		s.kinds[hedge] = w.maybe
	} else {
		w.lastSaid = nil
	}
	w.segments = append(w.segments, s)
	w.stray, w.maybe = false, false
	w.degree, w.at = noRole, false
}

func (w *walk) newUnit() *unit {
	u := &unit{segment: len(w.segments) - 1, same: w.same, sameAt: w.sameAt, sameSize: w.sameSize, sameAs: w.sameAs, correct: w.correct, marks: w.marks, but: w.join == but}
	w.same, w.correct, w.marks = false, false, nil
	w.sameSize, w.sameAs = false, nil
	w.units = append(w.units, u)
	w.cur = u
	return u
}

// part takes a noun phrase into the list at hand, or begins a new unit with it.
func (w *walk) part(n *nounPhrase, i int) {
	parted := w.sep != noSep || w.join != noRole
	u := w.cur
	switch {
	case u == nil:
	case w.correct || w.same:
		u = nil
	case u.scratch || u.setter:
	case u.verb != nil && len(u.says) == 0 && (parted || len(u.parts) == 0 || n.head != nil && !u.pending):
	case u.verb == nil && len(u.says) == 0 && len(u.parts) > 0 && parted && w.sep != colon && !u.parts[len(u.parts)-1].bare() && !n.bare():
	default:
		u = nil
	}
	if u == nil {
		if w.seg().part || w.seg().said {
			w.newSegment(i, parted)
		}
		u = w.newUnit()
	} else if parted && w.seg().part {
		w.newSegment(i, true)
	}
	if w.wished > 0 {
		n.before = slices.DeleteFunc(n.before, func(pr *predicate) bool { return len(pr.readings) == 0 })
	}
	n.segment, n.joined, n.comma = len(w.segments)-1, w.join, w.sep == comma
	u.parts = append(u.parts, n)
	w.seg().part = true
	w.seg().known = true
	if n.head != nil {
		w.family = n.head.family
	} else if n.noPlace || n.wheel {
		w.family = ""
	}
	w.settled()
	w.lastSaid = nil
}

// settled forgets what stood between the last thing and this.
func (w *walk) settled() {
	w.sep, w.join, w.stray, w.maybe, w.at = noSep, noRole, false, false, false
}

// say adds a predicate to the unit at hand.
func (w *walk) say(pr *predicate) {
	if w.negated {
		pr.spans = append([]span{w.negSpan}, pr.spans...)
		pr.negate()
		w.negated = false
		w.keepNeg = true
	} else {
		w.keepNeg = false
	}
	u := w.cur
	parted := w.sep != noSep || w.join != noRole
	if u == nil || w.correct {
		u = w.newUnit()
	}
	if u.verb != nil && len(u.says) == 0 && !parted && len(u.parts) > 0 {
		last := u.parts[len(u.parts)-1]
		switch {
		case len(u.parts) > 1:
			// "replace chain, cassette fine": the last of the list has something said of itself
			u.parts = u.parts[:len(u.parts)-1]
			u = w.newUnit()
			u.parts = []*nounPhrase{last}
			u.segment = last.segment
		case u.pending:
			u.verb.void = true
		}
	}
	if w.wished > 0 && !w.saidToBe(pr) {
		pr.facts = nil
		pr.void = pr.void || pr.action == "" && len(pr.readings) == 0 && !pr.bend && !pr.straight
	}
	pr.segment = len(w.segments) - 1
	pr.glued = !parted && len(u.says) > 0
	pr.but = w.join == but
	pr.listed = w.sep == colon && len(u.says) == 0 && pr.action != ""
	u.says = append(u.says, pr)
	w.seg().said = true
	if pr.action != "" {
		w.seg().action = true
	}
	w.lastSaid = pr
	w.settled()
	w.degree = noRole
}

// saidToBe reports that "is" or "are" stands right before what is said.
func (w *walk) saidToBe(pr *predicate) bool {
	i := pr.spans[0].first - 1
	for determiner(w.itemAt(i).text) {
		i--
	}
	return w.itemAt(i).s.is(copula) && w.itemAt(i).text != "with"
}

// negate turns a reading and takes an action away: "not shot" is no action at all.
func (pr *predicate) negate() {
	pr.negated = true
	switch {
	case pr.bend:
		pr.bend, pr.straight = false, true
	case pr.straight:
		pr.bend, pr.straight = true, false
	}
	pr.action = ""
	for i, r := range pr.readings {
		if r.value.Form() != substitution.Flag {
			pr.void = true
			continue
		}
		pr.readings[i].value = substitution.Yes(!r.value.Equal(substitution.Yes(true)))
	}
	pr.facts = nil
	if len(pr.readings) == 0 && !pr.bend && !pr.straight {
		pr.void = true
	}
}

// sentence reads the items from i to end as one sentence.
func (p *parser) sentence(i, end int, asked bool) {
	w := &walk{parser: p, end: end, family: p.family()}
	w.newSegment(i, true)
	for i < end {
		next := w.step(i)
		if next <= i {
			panic("note: a step that does not move on")
		}
		i = next
	}
	w.leaveNegation()
	w.seg().last = end
	w.settle(asked)
}

// family is the family of the part that was named last.
func (p *parser) family() substitution.Family {
	if p.subject != nil && p.subject.head != nil {
		return p.subject.head.family
	}
	return ""
}

// leaveNegation marks a "not" that found nothing to deny.
func (w *walk) leaveNegation() {
	if w.negated {
		w.seg().dirty = true
		w.negated = false
	}
	if w.wanting {
		w.seg().dirty = true
		w.wanting = false
	}
}

// step reads the item at i, and gives the next.
func (w *walk) step(i int) int {
	it := w.items[i]
	s := it.s
	switch {
	case it.sep == joint:
		return i + 1
	case it.sep != noSep:
		return w.mark(i)
	case w.startsNumber(i) && !(it.text == "one" && w.oneIsAPart(i)):
		return w.number(i)
	case s == nil:
		return w.strange(i)
	case s.label != "" && w.family != "":
		if m, next := w.measure(w.family, i); next > i+1 {
			w.say(&predicate{spans: []span{{i, next}}, readings: m.readings, facts: m.facts})
			return next
		}
	}
	if s.head != nil || s.mod != 0 || s.noPlace || s.role == quant || s.role == eachSide || s.role == every || s.role == wheel || s.role == otherSide {
		if next := w.noun(i); next > i {
			return next
		}
	}
	if s.action != "" || s.reading != "" || s.bend || s.role == play || s.role == void || len(s.facts) > 0 {
		if next := w.said(i); next > i {
			return next
		}
	}
	return w.manner(i)
}

// oneIsAPart reports whether "one" stands for a part: "the rear one".
func (w *walk) oneIsAPart(i int) bool {
	return w.class(i+1) == noNumber && !w.unitAt(i+1) && !w.isVoidUnit(i+1) && w.items[i].s.role == onePronoun && (w.itemAt(i-1).text == "the" || w.modAt(i-1))
}

// unitAt tells whether a unit of measure stands there.
func (w *walk) unitAt(i int) bool {
	s := w.parser.at(i).s
	return s != nil && s.unit != ""
}

// itemAt is what stands there, nothing beyond the ends.
func (w *walk) itemAt(i int) item { return w.parser.at(i) }

// strange marks a word that is not understood.
func (w *walk) strange(i int) int {
	s := w.seg()
	s.dirty = true
	if !s.part && !s.said || w.itemAt(i).s == nil && s.said {
		// it may be a part that is not known: nothing that follows is said of the one before
		u := w.newUnit()
		u.parts = []*nounPhrase{{noPlace: true, spans: []span{{i, i + 1}}, segment: len(w.segments) - 1}}
		s.part = true
		w.family = ""
	}
	w.stray = true
	w.lastSaid = nil
	w.negated = false
	w.sep, w.join, w.at = noSep, noRole, false
	return i + 1
}

// mark takes a mark between words.
func (w *walk) mark(i int) int {
	w.leaveNegation()
	w.sep = w.items[i].sep
	if s := w.seg(); w.sep == colon && !s.part && !s.said {
		s.kinds[question] = false // "to do:" asks nothing
	}
	if u := w.cur; w.sep == colon && u != nil && len(u.parts) == 0 && len(u.says) == 1 && u.verb == nil && !u.pronoun && !w.seg().part && !u.says[0].void {
		u.verb, u.says = u.says[0], nil // "fine: chain, cassette"
		w.seg().said = false
	}
	w.keepNeg = false
	if w.seg().part || w.seg().said || w.seg().hasKind() || w.seg().dirty {
		w.newSegment(i+1, true)
	}
	w.stray, w.maybe, w.at = false, false, false
	return i + 1
}

func (s *segment) hasKind() bool {
	for _, k := range s.kinds {
		if k {
			return true
		}
	}
	return false
}

func (w *walk) conjunction(i int) int {
	s := w.items[i].s
	keep := w.keepNeg && (s.role == or)
	saidNegated := w.keepNeg
	w.leaveNegation()
	w.join = s.role
	if s.role == or {
		if keep {
			w.negated, w.negSpan = true, span{i, i + 1}
		} else {
			w.seg().dirty = true
		}
		w.join = and
	}
	_ = saidNegated
	if w.seg().said || w.seg().part && (w.seg().dirty || w.seg().hasKind()) || w.seg().hasKind() {
		or := s.role == or && !keep
		w.newSegment(i+1, true)
		w.seg().dirty = or
	}
	w.keepNeg = false
	w.stray, w.maybe, w.at = false, false, false
	return i + 1
}
