package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// walk goes through one sentence and groups it into units.
type walk struct {
	*parser
	units     []*unit
	segments  []segment
	cur       *unit
	sep       separator // the mark before the item at hand
	join      role      // "and", "but" before it
	negated   bool
	negSpan   span
	keepNeg   bool // "not cut or cracked"
	at        bool
	degree    role
	degSpan   span
	lastSaid  *predicate
	family    substitution.Family
	stray     bool // the last word was not understood
	maybe     bool // the last word was a hedge
	same      bool
	sameAt    span
	sameOf    []string
	sameAs    *nounPhrase
	correct   bool
	excepting bool // "except for" stands before a fault
	alone     bool // "Wrong side." stands before the sentence
	marks     []span
	wished    int  // where in the sentence something is wanted: sizes and colours after it are of that
	want      span // "needs", still to be followed
	wanting   bool
	header    *head // "cables:" stands before: "front brake" is one of them
	end       int
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
		s.governed = had.governed && !had.said
		if !had.part || s.governed || w.itemAt(i-1).text == "had" {
			s.kinds = had.kinds // "thinking about a new saddle", "front hub had nine balls a side"
		}
	} else {
		w.lastSaid = nil
	}
	w.segments = append(w.segments, s)
	w.stray, w.maybe = false, false
	w.degree, w.at = noRole, false
}

func (w *walk) newUnit() *unit {
	u := &unit{segment: len(w.segments) - 1, same: w.same, sameAt: w.sameAt, sameOf: w.sameOf, sameAs: w.sameAs, correct: w.correct, marks: w.marks, but: w.join == but, excepted: w.excepting}
	w.excepting = false
	w.same, w.correct, w.marks = false, false, nil
	w.sameOf, w.sameAs = nil, nil
	w.units = append(w.units, u)
	w.cur = u
	return u
}

// settled forgets what stood between the last thing and this.
func (w *walk) settled() {
	w.sep, w.join, w.stray, w.maybe, w.at = noSep, noRole, false, false, false
}

// sentence reads the items from i to end as one sentence.
func (p *parser) sentence(i, end int, asked bool) {
	w := &walk{parser: p, end: end, family: p.family()}
	w.alone, p.taken = p.taken, false
	w.newSegment(i, true)
	w.rightsAlone(i)
	for i < end {
		i = w.step(i)
	}
	w.elide(end)
	w.leaveNegation()
	w.seg().last = end
	p.taken = w.correct && len(w.units) == 0
	before := p.reach
	p.begunLast, p.begun = p.begun, len(p.statements)
	w.settle(asked)
	if w.aside() {
		p.reach = before
		p.far, p.told = true, w.onlyTold()
		if slices.ContainsFunc(w.segments, func(s segment) bool { return s.kinds[stock] }) {
			p.forget() // what is on the shelf is not on the bike
		}
	}
}

// aside reports that all of a sentence is another's words, a condition, another bike or what is in stock: where it was
// does not go on in the next, and what it names only a pronoun goes back to.
func (w *walk) aside() bool {
	for _, s := range w.segments {
		if !s.kinds[speech] && !s.kinds[person] && !s.kinds[stock] && !s.kinds[condition] && !s.kinds[otherBike] && (s.part || s.said) && !s.dirty {
			return false
		}
	}
	return slices.ContainsFunc(w.segments, func(s segment) bool {
		return s.kinds[speech] || s.kinds[person] || s.kinds[stock] || s.kinds[condition] || s.kinds[otherBike]
	})
}

// onlyTold reports that an aside is another's words and nothing else.
func (w *walk) onlyTold() bool {
	return !slices.ContainsFunc(w.segments, func(s segment) bool { return s.kinds[stock] || s.kinds[condition] || s.kinds[otherBike] })
}

// family is the family of the part that was named last.
func (p *parser) family() substitution.Family {
	if p.subject != nil && p.subject.head != nil {
		return p.subject.head.family
	}
	return ""
}

// steps are the ways to go on from an item; the first that takes a word decides.
var steps = []func(*walk, int) int{
	(*walk).whereOnPart, (*walk).extent, (*walk).playThere, (*walk).markOrFigure, (*walk).unknown, (*walk).labelled, (*walk).partWord,
	(*walk).saidWord, (*walk).manner,
}

// step reads the item at i, and gives the next.
func (w *walk) step(i int) int {
	for _, read := range steps {
		if next := read(w, i); next > i {
			return next
		}
	}
	panic("note: a step that does not move on")
}

// markOrFigure reads a mark or a number.
func (w *walk) markOrFigure(i int) int {
	switch it := w.items[i]; {
	case it.sep == joint:
		return i + 1
	case it.sep != noSep:
		return w.mark(i)
	case w.startsNumber(i) && !(it.text == "one" && w.oneIsAPart(i)):
		return w.number(i)
	}
	return i
}

// unknown reads a word that stands in no table.
func (w *walk) unknown(i int) int {
	switch it := w.items[i]; {
	case it.s != nil:
		return i
	case adverb(it.text), w.harmless(i), w.hasNone(i):
		return i + 1
	}
	return w.strange(i)
}

// labelled reads a figure by the word before it: "stamped minimum of one point five".
func (w *walk) labelled(i int) int {
	if s := w.items[i].s; s.label == "" && len(s.measures) == 0 || w.family == "" && !w.rimOfWheel(i) {
		return i
	}
	m, next := w.measure(w.family, i)
	if next <= i+1 {
		return i
	}
	w.say(&predicate{spans: []span{{i, next}}, readings: m.readings, facts: m.facts})
	return next
}

// rimOfWheel makes a wheel of which a run-out is measured its rim: "front wheel: run-out 1.2 mm".
func (w *walk) rimOfWheel(i int) bool {
	u := w.cur
	if u == nil || len(u.parts) != 1 || !u.parts[0].wheel || u.parts[0].head != nil || len(u.says) > 0 || u.parts[0].mod&ends == 0 {
		return false
	}
	if _, next := w.measure("rim", i); next <= i || !strings.HasPrefix(w.items[i].text, "run") {
		return false
	}
	n := *u.parts[0]
	n.wheel, n.head = false, w.l.phrase("rim").head
	u.parts[0], w.family = &n, n.head.family
	return true
}

// partWord reads a part.
func (w *walk) partWord(i int) int {
	s := w.items[i].s
	switch s.role {
	case quant, eachSide, every, wheel, otherSide:
		return w.noun(i)
	}
	if s.head != nil || s.mod != 0 || s.noPlace {
		return w.noun(i)
	}
	return i
}

// saidWord reads what is said of a part.
func (w *walk) saidWord(i int) int {
	s := w.items[i].s
	if s.action != "" || s.reading != "" || s.bend || s.role == play || s.role == void || len(s.facts) > 0 {
		return w.said(i)
	}
	return i
}

// oneIsAPart reports whether "one" stands for a part: "the rear one".
func (w *walk) oneIsAPart(i int) bool {
	return w.class(w.skipJoint(i+1)) == noNumber && !w.unitAt(i+1) && !w.isVoidUnit(i+1) && w.items[i].s.role == onePronoun && (w.itemAt(i-1).text == "the" || w.modAt(i-1) || w.kindBefore(i))
}

// kindBefore reports that "one" is of a kind: "a threaded one".
func (w *walk) kindBefore(i int) bool {
	s := w.itemAt(i - 1).s
	return s != nil && len(s.facts) > 0 && determiner(w.itemAt(i-2).text)
}

// unitAt tells whether a unit of measure stands there.
func (w *walk) unitAt(i int) bool {
	s := w.parser.at(i).s
	return s != nil && s.unit != ""
}

// itemAt is what stands there, nothing beyond the ends.
func (w *walk) itemAt(i int) item { return w.parser.at(i) }
