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
	for determiner(w.at_(i).text) {
		i--
	}
	return w.at_(i).s.is(copula) && w.at_(i).text != "with"
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
	return w.class(i+1) == noNumber && !w.at2(i+1) && !w.isVoidUnit(i+1) && w.items[i].s.role == onePronoun && (w.at_(i-1).text == "the" || w.modAt(i-1))
}

func (w *walk) at2(i int) bool {
	s := w.parser.at(i).s
	return s != nil && s.unit != ""
}

func (w *walk) at_(i int) item { return w.parser.at(i) }

// strange marks a word that is not understood.
func (w *walk) strange(i int) int {
	s := w.seg()
	s.dirty = true
	if !s.part && !s.said || w.at_(i).s == nil && s.said {
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

// manner takes the words that say how a thing is meant.
func (w *walk) manner(i int) int {
	s := w.items[i].s
	switch s.role {
	case filler, copula:
		if w.otherBikes(i) {
			w.seg().kinds[otherBike] = true
		}
		if s.role == copula && w.opensQuestion(i) {
			w.seg().kinds[question] = true
		}
		return i + 1
	case and, or, but:
		return w.conjunction(i)
	case not:
		w.negated, w.negSpan = true, span{i, i + 1}
		return i + 1
	case no:
		return w.noWord(i)
	case slight, marked:
		if w.playHas(i) {
			return i + 1
		}
		w.degree, w.degSpan = s.role, span{i, i + 1}
		return i + 1
	case at:
		w.at = true
		if w.movesTo(i) {
			w.seg().dirty = true
		}
		return i + 1
	case it:
		return w.pronoun(i)
	case onePronoun:
		return i + 1
	case same:
		return w.sameWord(i)
	case correction, scratch:
		return w.correcting(i, s.role)
	case bound:
		return w.boundWord(i)
	case want, toBe:
		return w.wants(i)
	case fresh:
		return w.newPart(i)
	case nothingWith:
		return w.prefix(i, i+1, inspection.Keep)
	case teeth:
		return i + 1
	case hedge, question, condition, plan, history, speech, otherBike, stock:
		if s.role == speech && w.seg().said && w.sep == noSep && w.join == noRole {
			w.newSegment(i, true) // "tyres are thirty-twos he wants …"
		} else if (w.join != noRole || w.sep != noSep) && (w.seg().part || w.seg().said) {
			w.newSegment(i, true) // "the chain and possibly the cassette"
		}
		w.seg().kinds[s.role] = true
		w.maybe = s.role == hedge
		if s.role == stock {
			w.wished = i + 1 // "order 44 cm bars, black tape"
		}
		w.negated = false
		return i + 1
	case inQuestion:
		if !w.seg().part && !w.seg().said {
			w.seg().kinds[question] = true
			return i + 1
		}
	case noRole:
		if s.label != "" || s.unit == "" && s.class == noNumber {
			break
		}
	}
	return w.strange(i)
}

// playHas gives a play that was named before its degree, "the play in the headset is slight".
func (w *walk) playHas(i int) bool {
	u := w.cur
	if u == nil || len(u.says) == 0 || !w.endsHere(i+1) || w.sep != noSep || w.join != noRole {
		return false
	}
	last := u.says[len(u.says)-1]
	if !last.void || w.items[last.spans[0].first].s == nil || w.items[last.spans[0].first].s.role != play || last.negated {
		return false
	}
	degree := "slight"
	if w.items[i].s.role == marked {
		degree = "marked"
	}
	last.void, last.readings = false, []fact{{"play", substitution.Text(degree)}}
	last.spans = append(last.spans, span{i, i + 1})
	return true
}

// movesTo reports that a verb takes its part somewhere: "swap the front tyre to the rear".
func (w *walk) movesTo(i int) bool {
	switch w.items[i].text {
	case "to", "from", "into", "onto":
		return w.cur != nil && w.cur.verb != nil && len(w.cur.parts) > 0 && len(w.cur.says) == 0
	}
	return false
}

// otherBikes reports "bike 3" and somebody's bike: of which bike it is said is then not sure.
func (w *walk) otherBikes(i int) bool {
	if w.items[i].text != "bike" {
		return false
	}
	return w.startsNumber(i+1) || w.at_(i-1).text == "'s" && w.at_(i-2).s == nil
}

// opensQuestion reports that "is" or "are" begins the sentence before its subject.
func (w *walk) opensQuestion(i int) bool {
	t := w.items[i].text
	if w.seg().part || w.seg().said || t != "is" && t != "are" {
		return false
	}
	j := i + 1
	for determiner(w.at_(j).text) {
		j++
	}
	s := w.at_(j).s
	return s != nil && (s.head != nil || s.mod != 0 || s.noPlace)
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

// noWord reads "no": not any, or a correction.
func (w *walk) noWord(i int) int {
	j := i + 1
	if w.at_(j).figure && i == w.seg().first {
		w.seg().kinds[otherBike] = true // "no 8: chain shot": which bike that is, is not sure
		return j
	}
	for j < w.end {
		s := w.items[j].s
		if s == nil || s.role != filler && s.role != slight && s.role != marked && s.role != teeth {
			break
		}
		j++
	}
	if s := w.at_(j).s; s != nil && (s.reading != "" || s.bend || s.role == play || s.role == void) {
		w.negated, w.negSpan = true, span{i, i + 1}
		return i + 1
	}
	if s := w.at_(j).s; s.is(fresh) || s.is(want) || i == w.seg().first && w.at_(i+1).sep == noSep && w.headSoon(j) {
		w.seg().dirty, w.stray = true, true // "no new chain"
		return i + 1
	}
	return w.correcting(i, correction)
}

func (w *walk) correcting(i int, r role) int {
	w.leaveNegation()
	if w.seg().part || w.seg().said || w.seg().dirty || w.seg().hasKind() {
		w.newSegment(i, true)
	}
	w.correct = true
	w.marks = append(w.marks, span{i, i + 1})
	w.sep, w.join = comma, noRole
	follows := i + 1
	for follows < w.end && w.items[follows].sep != noSep {
		follows++
	}
	if r == scratch && follows >= w.end {
		u := w.newUnit()
		u.scratch, u.correct = true, true
		w.correct, w.marks = true, []span{{i, i + 1}}
	}
	return i + 1
}

// pronoun reads "it" and "they": they name no part anew.
func (w *walk) pronoun(i int) int {
	text := w.items[i].text
	if determiner(text) && w.headSoon(i+1) {
		return i + 1
	}
	if w.cur != nil && w.cur.verb != nil && len(w.cur.parts) == 0 && !w.seg().part {
		// "replace it"
		pr := w.cur.verb
		w.cur.verb = nil
		w.cur.says = append(w.cur.says, pr)
		w.cur.pronoun = true
		w.seg().said = true
		return i + 1
	}
	if !w.seg().part && !w.seg().said && (w.cur == nil || w.sep != noSep || w.join != noRole || w.correct || w.same) {
		u := w.newUnit()
		u.pronoun = true
		switch text {
		case "they", "them", "these", "those", "theyre", "they're":
			u.many = true
		}
		u.marks = append(u.marks, span{i, i + 1})
	} else if w.seg().said && w.sep == noSep && w.join == noRole {
		// "chain fine it's at point nine": the same part goes on
		return i + 1
	}
	return i + 1
}

// sameWord reads "the same", "the same size" and "the same as the front in size".
func (w *walk) sameWord(i int) int {
	next, size, as := w.sameAfter(i)
	if w.seg().said {
		if w.partFollows(i+1) || w.modAt(i+1) {
			w.same, w.sameAt, w.join = true, span{i, i + 1}, and
		}
		return i + 1 // "hooked as well"
	}
	if w.cur != nil && len(w.cur.parts) > 0 && len(w.cur.says) == 0 && w.cur.verb == nil && w.seg().part {
		w.cur.same, w.cur.sameAt, w.cur.sameSize, w.cur.sameAs = true, span{i, next}, size, as
		w.seg().said = true
		w.sep, w.join = noSep, noRole
		return next
	}
	w.same, w.sameAt, w.sameSize, w.sameAs = true, span{i, next}, size, as
	return next
}

// sameAfter reads what the same is said of, "size", and as what, "as the front".
func (w *walk) sameAfter(i int) (next int, size bool, as *nounPhrase) {
	next = i + 1
	for j := next; j < w.end; j++ {
		switch text := w.items[j].text; {
		case ofSize(text):
			size, next = true, j+1
		case text == "as":
			n, end := w.nounPhraseAt(w.pastDeterminers(j + 1))
			if as != nil {
				return
			}
			if n == nil {
				return next, size, &nounPhrase{noPlace: true} // "as the old one"
			}
			as, next = n, end
			j = end - 1
		case text != "in" && text != "for":
			return
		}
	}
	return
}

func (w *walk) pastDeterminers(i int) int {
	for determiner(w.at_(i).text) {
		i++
	}
	return i
}

func ofSize(text string) bool {
	switch text {
	case "size", "sized", "width", "length", "diameter", "spoke length":
		return true
	}
	return false
}

// boundWord reads "under", "about": the figure after it is none, nor the one before.
func (w *walk) boundWord(i int) int {
	j := i + 1
	for {
		s := w.at_(j).s
		if s == nil || !s.is(filler) && !s.is(at) && !s.is(copula) && !s.is(bound) {
			break
		}
		j++
	}
	next := i + 1
	if w.startsNumber(j) {
		next = w.skipNumbers(j)
		if s := w.at_(next); s.text == "and" && w.startsNumber(next+1) {
			next = w.skipNumbers(next + 1)
		}
	} else if w.lastSaid != nil && len(w.lastSaid.readings)+len(w.lastSaid.facts) > 0 && w.sep == noSep {
		w.lastSaid.void = true
	}
	w.say(&predicate{spans: []span{{i, next}}, void: true})
	return next
}

// skipNumbers steps over figures and their units.
func (w *walk) skipNumbers(i int) int {
	for i < w.end {
		it := w.items[i]
		s := it.s
		if !it.figure && it.sep != joint && (s == nil || s.class == noNumber && s.unit == "" && s.role != voidUnit && it.text != "a") {
			break
		}
		i++
	}
	return i
}

// number reads the figure at item i.
func (w *walk) number(i int) int {
	if ws := w.wholes(i); len(ws) > 0 && ws[0].v <= 12 {
		if s := w.at_(ws[0].next).s; s != nil && s.reading != "" && ws[0].v > 1 && plural(w.at_(ws[0].next).text) {
			return ws[0].next // "two cuts"
		}
	}
	if next := w.noneOfOurs(i); next > i {
		if w.cur != nil && w.cur.verb != nil && w.cur.wanted && w.seg().part && w.sep == noSep && w.join == noRole {
			w.cur.verb.void = true // "a new cassette is forty quid"
		}
		w.say(&predicate{spans: []span{{i, next}}, void: true})
		return next
	}
	if next := w.sizeBefore(i); next > i {
		return next
	}
	if w.family != "" {
		if m, next := w.measure(w.family, i); next > i {
			w.say(&predicate{spans: []span{{i, next}}, readings: m.readings, facts: m.facts, balls: m.balls, void: w.negated})
			return next
		}
	}
	if n, next := w.bearingNamed(i); n != nil {
		return w.take(n, i, next)
	}
	s := w.items[i].s
	if s != nil && !w.items[i].figure {
		switch {
		case s.reading != "" || s.action != "" || len(s.facts) > 0:
			if next := w.said(i); next > i {
				return next
			}
		case s.role == onePronoun && !w.startsNumber(i+1) && !w.at2(i+1) && (w.modAt(i+1) || w.seg().said):
			return i + 1
		}
	}
	next := max(i+1, w.skipNumbers(i))
	w.strange(i)
	return next
}

// bearingNamed reads a bearing's number as the name of a bearing: "sixty-eight oh three on the drive side".
func (w *walk) bearingNamed(i int) (*nounPhrase, int) {
	m, next := bearingNumber(w.parser, i)
	if next == 0 || w.claimed(next) {
		return nil, i
	}
	bearing := w.l.phrase("bearing").head
	if plural(w.at_(next-1).text) || w.unit(next-1, "s") {
		bearing = w.l.phrase("bearings").head
	}
	said := span{i, next}
	n := &nounPhrase{head: bearing, spans: []span{said}, before: []*predicate{{spans: []span{said}, facts: m.facts}}}
	return n, w.afterHead(n, next)
}

// noneOfOurs steps over a price, a time, a torque or a pressure.
func (w *walk) noneOfOurs(i int) int {
	for _, n := range w.decimals(i) {
		if !w.isVoidUnit(n.next) {
			continue
		}
		if t := w.at_(n.next).text; t == "min" && (w.startsNumber(n.next+1) || w.family == "disc-rotor" && n.broken) {
			continue
		}
		if t := w.at_(n.next).text; (t == "nd" || t == "st" || t == "rd" || t == "th" || t == "k" || t == "p" || t == "n") && !w.at_(n.next).glued {
			continue
		}
		next := n.next + 1
		for w.isVoidUnit(next) {
			next++
		}
		for _, more := range w.decimals(next) {
			if !w.at_(i).figure || w.at_(next).figure {
				if w.isVoidUnit(more.next) {
					return more.next + 1
				}
			}
		}
		return next
	}
	return i
}

// sizeBefore reads figures that a part follows: "a 28 mm tyre", "fifty tooth big ring".
func (w *walk) sizeBefore(i int) int {
	j := i
	for j < i+14 && j < w.end {
		it := w.items[j]
		s := it.s
		if s != nil && (s.head != nil || s.mod != 0 || s.is(at) && j > i && (it.text == "on" || it.text == "for") || s.is(eachSide) || s.is(quant) || determiner(it.text) && j > i) && !it.figure {
			break
		}
		if !it.figure && it.sep != joint && it.text != "/" && !numberJoint(it.text) && (s == nil || s.class == noNumber && s.unit == "" && s.label == "" && len(s.facts) == 0) {
			return i
		}
		j++
	}
	if j == i || j >= w.end || j >= i+14 {
		return i
	}
	on := j
	if t := w.at_(j).text; (t == "on" || t == "for") && j > i {
		on++ // "point eight on the chain"
	}
	n, next := w.nounPhraseAt(on)
	if n == nil || n.head == nil || on > j && (w.seg().part || w.seg().said) {
		return i
	}
	if ws := w.wholes(i); len(ws) > 0 && ws[0].next == j && (n.head.many || n.head.set || ws[0].v == 1) && ws[0].v < 20 {
		if _, end := w.measure(n.head.family, i); end != j {
			if n.head.family == "loose-balls" && ws[0].v > 2 {
				n.before = append(n.before, &predicate{spans: []span{{i, j}}, readings: []fact{count("balls", ws[0].v)}})
				return w.take(n, i, next)
			}
			n.counted = true
			n.spans = append([]span{{i, j}}, n.spans...)
			return w.take(n, i, next)
		}
	}
	var before []*predicate
	for k := i; k < j; {
		if w.items[k].sep == joint {
			k++
			continue
		}
		if s := w.items[k].s; s != nil && len(s.facts) > 0 {
			before = append(before, &predicate{spans: []span{{k, k + 1}}, facts: s.facts})
			k++
			continue
		}
		m, end := w.measure(n.head.family, k)
		if end <= k || end > j {
			return i
		}
		before = append(before, &predicate{spans: []span{{k, end}}, readings: m.readings, facts: m.facts, balls: m.balls})
		k = end
	}
	// said right after another part that could have the figure: it is that part's
	if w.sep == noSep && w.join == noRole && w.seg().part && w.family != "" && !determiner(w.at_(i-1).text) {
		if _, end := w.measure(w.family, i); end > i && !w.seg().said {
			return i
		}
		if _, end := w.measure(w.family, i); end > i {
			return i
		}
	}
	n.before = append(before, n.before...)
	return w.take(n, i, next)
}

func numberJoint(text string) bool {
	switch text {
	case "x", "by", "to", "and", "a", "of", "×":
		return true
	}
	return false
}

// noun reads a part at item i.
func (w *walk) noun(i int) int {
	n, next := w.nounPhraseAt(i)
	if n == nil {
		return i
	}
	if i == w.seg().first && w.items[i].text == "right" && n.bare() && next == i+1 && (w.at_(next).sep == comma || w.headAt(next) != nil) {
		return next // "right, the chain"
	}
	return w.take(n, i, next)
}

// take puts a noun phrase where it belongs.
func (w *walk) take(n *nounPhrase, i, next int) int {
	s := w.seg()
	here := w.sep == noSep && w.join == noRole
	if n.wheel && n.head == nil && n.mod != 0 && (w.at || beginsAt(w.items[i].text)) && s.said && here {
		n.wheel = false // "on the drive side of the rear wheel"
	}
	atWord := w.at || w.items[i].s != nil && w.items[i].s.mod != 0 && beginsAt(w.items[i].text)
	switch {
	case n.noPlace && w.at && s.said && here:
		w.at = false
		return next // "frayed at the brake lever"
	case n.head != nil && atWord && s.said && here && w.cur != nil && len(w.cur.parts) == 0 && !w.cur.pronoun && !w.cur.same:
		// "no cracks in the rear rim"
		n.segment = len(w.segments) - 1
		w.cur.parts = append(w.cur.parts, n)
		s.part = true
		w.family = n.head.family
		w.settled()
		return next
	case n.bare() && n.mod == 0 && !n.other && s.part && !s.said && here && w.cur != nil && len(w.cur.parts) > 0:
		last := w.cur.parts[len(w.cur.parts)-1]
		last.sides, last.every = last.sides || n.sides, last.every || n.every
		last.spans = append(last.spans, n.spans...)
		return next
	case n.bare() && here && w.lastSaid != nil && w.lastSaid.balls && len(w.cur.parts) > 0 && n.mod&ends == 0:
		last := w.cur.parts[len(w.cur.parts)-1]
		last.balls, last.sides = last.balls|n.mod, last.sides || n.sides
		w.lastSaid.spans = append(w.lastSaid.spans, n.spans...)
		return next
	case n.head != nil && w.at && s.said && here && s.part:
		s.dirty = true
		w.stray = true
		w.part(n, i)
		w.stray = false
		return next
	case n.bare() && here && s.said && w.cur != nil && len(w.cur.parts) == 1 && w.cur.parts[0].head != nil && n.mod&ends != 0 && w.cur.parts[0].mod&ends == 0 &&
		(w.cur.parts[0].head.many || w.cur.parts[0].head.set) && !atWord && !w.endsHere(next) && !w.partFollows(next) && w.cur.parts[0].takes(n.mod):
		if !w.startsNumber(next) || len(w.cur.says) != 1 {
			s.dirty, w.stray = true, true // "pads shot rear fine": which is it?
			w.part(n, i)
			w.seg().dirty = true
			return next
		}
		// "tyres 32c front 35c rear"
		last := w.cur.parts[0]
		last.mod |= n.mod
		last.spans = append(last.spans, n.spans...)
		w.newSegment(next, true)
		w.settled()
		return next
	case n.bare() && here && s.said && w.cur != nil && len(w.cur.parts) == 1 && w.cur.parts[0].head != nil && (atWord || w.endsHere(next)) &&
		!sameKind(w.cur.parts[0].mod, n.mod) && w.cur.parts[0].takes(n.mod) && !w.partFollows(next):
		last := w.cur.parts[0]
		last.mod |= n.mod
		last.sides = last.sides || n.sides
		last.every = last.every || n.every
		last.spans = append(last.spans, n.spans...)
		w.settled()
		return next
	case n.bare() && n.mod == 0 && !n.other && s.said && here:
		if n.sides || n.every {
			if w.cur != nil && len(w.cur.parts) > 0 {
				last := w.cur.parts[len(w.cur.parts)-1]
				last.sides, last.every = last.sides || n.sides, last.every || n.every
				if w.lastSaid != nil {
					w.lastSaid.spans = append(w.lastSaid.spans, n.spans...)
				}
			} else if w.lastSaid != nil {
				w.lastSaid.spans = append(w.lastSaid.spans, n.spans...)
				w.cur.marks = append(w.cur.marks, n.spans...)
			}
			return next
		}
	}
	if u := w.cur; n.bare() && both(n.mod&ends) && (w.sep == comma || w.join == and) && u != nil && len(u.says) > 0 && len(u.parts) == 1 &&
		u.parts[0].mod&ends == 0 && u.parts[0].head != nil && w.endsHere(next) && u.parts[0].takes(n.mod) {
		// "tyres cut, front and rear"
		last := u.parts[0]
		last.mod |= n.mod
		last.either = n.either
		last.spans = append(last.spans, n.spans...)
		w.settled()
		return next
	}
	if u := w.cur; n.bare() && n.mod&ends != 0 && here && s.said && !s.part && u != nil && len(u.parts) == 1 && w.endsHere(next) && sameKind(u.parts[0].mod, n.mod) {
		w.sayOf(n) // "pads 1.4 front, 0.7 rear"
		return next
	}
	if u := w.cur; n.bare() && !both(n.mod&ends) && n.mod&ends != 0 && here && s.said && u != nil && len(u.parts) == 1 && w.endsHere(next) &&
		sameKind(u.parts[0].mod, n.mod) && len(u.says) > 1 && u.says[len(u.says)-1] == w.lastSaid && w.startsNumber(w.lastSaid.spans[0].first) {
		w.lastOf(n) // "quarter inch at the front, nine at the back"
		return next
	}
	if u := w.cur; n.bare() && n.mod == outer && w.join == and && u != nil && len(u.parts) > 0 && len(u.says) == 0 {
		if last := u.parts[len(u.parts)-1]; last.head != nil && last.head.family == "cable-inner" {
			n.head, n.mod = w.l.phrase("housing").head, 0 // "cable and outer"
		}
	}
	w.part(n, i)
	return next
}

// sayOf makes what was said in this segment be of the other end, which is named after it.
func (w *walk) sayOf(n *nounPhrase) {
	had, here := w.cur, len(w.segments)-1
	u := w.newUnit()
	n.segment = here
	u.parts = []*nounPhrase{n}
	for k, pr := range had.says {
		if pr.segment == here {
			u.says = append(u.says, had.says[k:]...)
			had.says = had.says[:k:k]
			break
		}
	}
	w.seg().part = true
	w.settled()
}

// lastOf makes the figure that was said last be of the other end, which is named after it.
func (w *walk) lastOf(n *nounPhrase) {
	had, last := w.cur, w.lastSaid
	had.says = had.says[:len(had.says)-1]
	w.newSegment(n.spans[0].first, true)
	w.newUnit().says = []*predicate{last}
	n.segment, n.sides = len(w.segments)-1, had.parts[0].sides
	last.segment = n.segment
	w.cur.parts = []*nounPhrase{n}
	w.seg().part, w.seg().said = true, true
	w.settled()
}

func beginsAt(text string) bool {
	for _, word := range []string{"at ", "on ", "in ", "out ", "up ", "of ", "for "} {
		if len(text) > len(word) && text[:len(word)] == word {
			return true
		}
	}
	return false
}

// endsHere reports that nothing more is said before the next mark.
func (w *walk) endsHere(i int) bool {
	it := w.at_(i)
	return i >= w.end || it.sep > joint || it.s.is(and) || it.s.is(but)
}

func (w *walk) partFollows(i int) bool { return i < w.end && (w.headAt(i) != nil || w.noPlaceAt(i)) }

// said reads what is said of a part at item i.
func (w *walk) said(i int) int {
	it := w.items[i]
	s := it.s
	pr := &predicate{spans: []span{{i, i + 1}}}
	next := i + 1
	switch {
	case s.role == play:
		return w.playWord(i)
	case s.action != "" && (s.reading == "" || w.prefixes(next)):
		return w.act(i)
	case s.bend:
		pr.bend = true
	case s.reading == "runs_out":
		pr.straight = true
	case s.reading != "":
		pr.readings = []fact{{s.reading, s.value}}
	case len(s.facts) > 0:
		if w.headSoon(i) && !(w.seg().part && w.sep == noSep && w.join == noRole) {
			if next := w.noun(i); next > i {
				return next
			}
		}
		pr.facts = s.facts
		if w.family != "" && !w.possible(w.family, measured{facts: s.facts}) {
			if s.role != noRole || s.mod != 0 {
				return i
			}
			w.strange(i)
			return next
		}
	case s.role == void:
		pr.void = true
	}
	if w.degree != noRole {
		pr.spans = append([]span{w.degSpan}, pr.spans...)
	}
	// "a snapped spoke": said before its part
	if n, after := w.partAfter(next); n != nil && w.describes(i) {
		w.part(n, i)
		w.say(pr)
		return after
	}
	w.say(pr)
	return next
}

// describes reports that a word at item i stands before the part it is said of.
func (w *walk) describes(i int) bool {
	if determiner(w.at_(i-1).text) && w.at_(i-1).text != "that" && w.at_(i-1).text != "this" {
		return true
	}
	return !w.seg().said && (!w.seg().part || w.cur == nil) || w.sep != noSep || w.join != noRole
}

// partAfter is the part that begins right at item i.
func (w *walk) partAfter(i int) (*nounPhrase, int) {
	it := w.at_(i)
	if i >= w.end || it.s == nil || it.s.head == nil && it.s.mod == 0 && !it.s.noPlace || beginsAt(it.text) {
		return nil, i
	}
	n, next := w.nounPhraseAt(i)
	if n == nil || n.bare() {
		return nil, i
	}
	return n, next
}

// playWord reads the play of a bearing: with its degree, none, or of no stated degree, which is nothing.
func (w *walk) playWord(i int) int {
	pr := &predicate{spans: []span{{i, i + 1}}}
	next := i + 1
	degree := w.degree
	if degree != noRole {
		pr.spans = []span{{w.degSpan.first, i + 1}}
	} else {
		j := next
		for w.at_(j).s.is(copula) || w.at_(j).sep == colon {
			j++
		}
		if s := w.at_(j).s; s.is(slight) || s.is(marked) {
			k := j + 1
			if w.endsHere(k) {
				degree, next = s.role, k
				pr.spans = []span{{i, k}}
			}
		}
	}
	switch {
	case w.negated && degree != noRole:
		pr.void = true
	case w.negated:
		pr.readings = []fact{{"play", substitution.Text("none")}}
		pr.spans = append([]span{w.negSpan}, pr.spans...)
		w.negated = false
		defer func() { w.keepNeg = true }()
	case degree == slight:
		pr.readings = []fact{{"play", substitution.Text("slight")}}
	case degree == marked:
		pr.readings = []fact{{"play", substitution.Text("marked")}}
	default:
		pr.void = true
	}
	if n, after := w.partAfter(next); n != nil && !w.seg().part && !w.seg().said && w.endsHere(after) {
		w.part(n, i) // "loads of play rear hub"
		w.say(pr)
		return after
	}
	w.say(pr)
	return next
}

// act reads a word of what is to be done.
func (w *walk) act(i int) int {
	s := w.items[i].s
	next := i + 1
	pr := &predicate{spans: []span{{i, next}}, action: s.action}
	if w.wanting {
		pr.spans = []span{{w.want.first, next}}
		if s.form&(noun|done|verb) == 0 {
			pr.void = true
		}
		w.wanting = false
		w.say(pr)
		if pr.action == inspection.Replace && !w.endsHere(next) {
			w.wished = next
		}
		return next
	}
	switch {
	case s.form == done || s.form == noun|done:
		w.seg().kinds[history] = true
		return next
	case s.form&verb != 0:
		if w.negated {
			w.negated = false
			pr.void, pr.action = true, ""
			pr.spans = []span{{w.negSpan.first, next}}
			w.say(pr)
			w.swallow(next)
			return next
		}
		if w.prefixes(next) {
			return w.prefix(i, next, s.action)
		}
		if w.at_(i-1).s.is(copula) && w.at_(i-1).text != "got" {
			pr.void, pr.action = true, ""
		}
	case s.form&after == 0:
		// "service" said alone
		if !w.seg().part && (w.cur == nil || len(w.cur.parts) == 0) {
			return w.strange(i)
		}
	case !w.seg().part && !w.seg().said && w.cur == nil && w.sep == noSep && s.action == inspection.Keep && w.partSoon(next):
		return next // "OK, the chain"
	}
	if s.action == inspection.Replace && s.form&verb != 0 && !w.endsHere(next) {
		w.wished = next // "swap for 80 mm"
	}
	if n, after := w.partAfter(next); n != nil && w.describes(i) && (determiner(w.at_(i - 1).text)) {
		w.part(n, i)
		w.say(pr)
		return after
	}
	w.say(pr)
	return next
}

// swallow voids the part that a denied verb would have had.
func (w *walk) swallow(i int) {}

// partSoon reports that a part is named next, so that a word before it was only said to begin.
func (w *walk) partSoon(i int) bool {
	for w.at_(i).sep == comma || w.at_(i).s.is(filler) {
		i++
	}
	s := w.at_(i).s
	return s != nil && (s.head != nil || s.mod != 0 || s.noPlace)
}

// prefixes reports that a part follows, past marks and small words, so that the verb before it takes it.
func (w *walk) prefixes(i int) bool {
	for j := i; j < i+4; j++ {
		it := w.at_(j)
		s := it.s
		switch {
		case j >= w.end:
			return false
		case it.sep == colon, it.sep == joint, it.sep == comma && it.text != ",":
		case it.sep != noSep || s == nil:
			return s == nil && it.sep == noSep && !it.figure || it.figure
		case s.head != nil, s.noPlace, s.mod != 0, s.role == quant, s.role == every, s.role == wheel, s.role == otherSide, s.role == fresh, len(s.facts) > 0, s.class != noNumber:
			return true
		case determiner(it.text), s.role == filler:
		default:
			return false
		}
	}
	return false
}

// prefix begins a list of parts under a verb.
func (w *walk) prefix(first, next int, action inspection.Action) int {
	u := w.cur
	pending := false
	parted := w.sep != noSep || w.join != noRole
	if u != nil && !parted && !w.correct && w.seg().part && len(u.says) == 0 && u.verb == nil && len(u.parts) > 0 && !u.parts[0].wheel && !u.parts[0].bare() && action != inspection.Replace {
		// "chain clean cassette fine"
		pending = true
	}
	if u != nil && len(u.says) > 0 && !parted && w.seg().part {
		pending = true
	}
	if w.seg().part || w.seg().said {
		w.newSegment(first, parted)
	}
	u = w.newUnit()
	u.verb = &predicate{spans: []span{{first, next}}, action: action, segment: len(w.segments) - 1}
	u.pending = pending
	u.wanted = action == inspection.Replace
	if u.wanted {
		w.wished, w.seg().wish = next, true
	}
	w.seg().action = true
	w.settled()
	return next
}

// wants reads "needs", "wants", "to be", and what they lead to.
func (w *walk) wants(i int) int {
	s := w.items[i].s
	j := i + 1
	for {
		t := w.at_(j).s
		if t.is(toBe) || t.is(want) || t.is(filler) && !determiner(w.at_(j).text) || determiner(w.at_(j).text) && w.at_(j+1).s != nil && w.at_(j+1).s.action != "" {
			j++
			continue
		}
		break
	}
	next := w.at_(j).s
	if j >= w.end {
		next = nil
	}
	switch {
	case next != nil && next.action != "" && next.form&(noun|done) != 0:
		w.want, w.wanting = span{i, j}, true
		return j
	case s.role == toBe:
		if next != nil && next.action != "" && next.form&verb != 0 {
			return j
		}
		return i + 1
	case next != nil && next.action != "" && next.form&verb != 0:
		w.want, w.wanting = span{i, j}, !w.prefixes(j+1)
		return j
	case next != nil && next.action != "" && next.form == after:
		w.say(&predicate{spans: []span{{i, j + 1}}, void: true})
		return j + 1
	}
	if w.items[i].text == "needed" || w.items[i].text == "required" {
		if w.cur != nil && w.cur.verb != nil {
			return i + 1
		}
		w.seg().dirty = true
		return i + 1
	}
	if w.negated {
		w.negated = false
		w.seg().dirty, w.stray = true, true
		return i + 1
	}
	begins := w.items[i].text == "wants" || w.items[i].text == "want"
	if begins && !w.seg().part && (w.cur == nil || len(w.cur.parts) == 0) {
		w.seg().dirty = true // who wants it?
	}
	k := i + 1
	for w.at_(k).s.is(filler) && !determiner(w.at_(k).text) || w.at_(k).sep == colon {
		k++
	}
	if determiner(w.at_(k).text) && w.at_(k+1).s.is(fresh) {
		k++
	}
	if w.at_(k).s.is(fresh) {
		k++
	}
	if w.prefixes(i+1) || k > i+1 && w.prefixes(k) {
		if k > i+1 {
			return w.prefix(i, k, inspection.Replace)
		}
		return w.prefix(i, i+1, inspection.Replace)
	}
	w.seg().dirty = true
	w.stray = true
	w.wished, w.seg().wish = i+1, true
	return i + 1
}

// newPart reads "new": a part follows that is wanted.
func (w *walk) newPart(i int) int {
	if w.cur != nil && w.cur.verb != nil && len(w.cur.says) == 0 && w.cur.verb.action == inspection.Replace && (len(w.cur.parts) == 0 || w.sep != noSep || w.join != noRole) {
		return i + 1 // "needs new chain and new tyres"
	}
	if w.prefixes(i + 1) {
		return w.prefix(i, i+1, inspection.Replace)
	}
	w.say(&predicate{spans: []span{{i, i + 1}}, void: true})
	return i + 1
}
