package note

import "strings"

// said reads what is said of a part at item i.
func (w *walk) said(i int) int {
	s := w.items[i].s
	switch {
	case s.role == play:
		return w.playWord(i)
	case w.tickedOff(i):
		return i + 1
	case s.action != "" && (s.reading == "" || w.prefixes(i+1)):
		return w.act(i)
	case len(s.facts) > 0 && !s.bend && s.reading == "":
		if next, done := w.notOfIt(i); done {
			return next
		}
	case s.role == void && ofAllElse(w.items[i].text):
		w.newUnit().says = []*predicate{{spans: []span{{i, i + 1}}, void: true, segment: len(w.segments) - 1}}
		return i + 1
	}
	if text := w.items[i].text; s.reading == "leaking" && strings.Contains(text, "stanchion") && w.family != "fork" {
		w.part(&nounPhrase{head: w.l.phrase("fork").head, spans: []span{{i, i + 1}}}, i) // "oil on the stanchions"
	}
	if s.reading == "gears_hold" && w.family != "hub-internals" {
		w.part(&nounPhrase{head: w.l.phrase("hub gear").head, spans: []span{{i, i + 1}}}, i) // "third gear slips"
	}
	pr := w.predicateAt(i)
	next := w.inIt(pr, i+1)
	// "a snapped spoke": said before its part
	if n, after := w.partAfter(next); n != nil && w.describes(i) && !w.goesOnWith(pr, after) {
		w.part(n, i)
		next = after
	}
	w.say(pr)
	return next
}

// goesOnWith reports that what follows "and" goes on about the part before it, for the one after it has its own word:
// "gear cable frayed and stiff brake cable fine".
func (w *walk) goesOnWith(pr *predicate, next int) bool {
	u := w.cur
	if w.join != and || w.sep != noSep || u == nil || len(u.says) == 0 || len(u.says[len(u.says)-1].readings) == 0 || len(u.parts) == 0 || !u.canAll(pr) {
		return false
	}
	s := w.itemAt(next).s
	return next < w.end && s != nil && (s.reading != "" || s.bend || s.form&after != 0 || s.is(not) || s.is(no) || s.is(copula) || s.is(want))
}

// notOfIt leaves a fact of a part that follows, "tubeless tyre", and one that the part at hand cannot have.
func (w *walk) notOfIt(i int) (next int, done bool) {
	s := w.items[i].s
	if w.headSoon(i) && !(w.seg().part && w.sep == noSep && w.join == noRole) {
		if next := w.noun(i); next > i {
			return next, true
		}
	}
	switch {
	case w.family == "" || len(w.ownFacts(s.facts)) > 0:
		return i, false
	case s.role != noRole || s.mod != 0:
		return i, true
	}
	if u := w.cur; u != nil && u.pronoun && len(u.parts) == 0 {
		w.seg().dirty = true // "it's a threaded one": of what goes on no other part was named
		return i + 1, true
	}
	w.strange(i)
	return i + 1, true
}

// predicateAt is what the word at item i says, with the degree before it.
func (w *walk) predicateAt(i int) *predicate {
	s := w.items[i].s
	pr := &predicate{spans: []span{{i, i + 1}}}
	switch {
	case s.bend:
		pr.bend = true
	case s.reading == "runs_out":
		pr.straight = true
	case s.reading != "":
		pr.readings = []fact{{s.reading, s.value}}
	case len(s.facts) > 0:
		pr.facts = w.ownFacts(s.facts)
		pr.void = w.colouredBy(i)
	case s.role == void:
		pr.void = true
	}
	if w.degree != noRole {
		pr.spans = append([]span{w.degSpan}, pr.spans...)
	}
	if w.itemAt(i-1).text == "for" && len(pr.readings) > 0 {
		pr.void = true // "checked for cracks"
	}
	return pr
}

// ownFacts are those of a word's facts that the part at hand can have; all where none is.
func (w *walk) ownFacts(facts []fact) (out []fact) {
	for _, f := range facts {
		if w.family == "" || w.possible(w.family, measured{facts: []fact{f}}) {
			out = append(out, f)
		}
	}
	return out
}

// colouredBy reports a colour that comes of use: "grey with wear", "gone brown".
func (w *walk) colouredBy(i int) bool {
	if w.items[i].s.facts[0].name != "colour" {
		return false
	}
	switch w.itemAt(i + 1).text {
	case "with", "from", "of":
		return true
	}
	before := w.itemAt(i - 1).text
	return strings.HasPrefix(before, "gone") || strings.HasPrefix(before, "turned") || strings.HasSuffix(before, "gone")
}

// inIt takes the end of "a split in it" to what is said.
func (w *walk) inIt(pr *predicate, next int) int {
	switch w.itemAt(next).text {
	case "in it", "in them", "on it", "on them":
		if len(pr.readings) > 0 && w.endsHere(next+1) {
			next++
			pr.spans[len(pr.spans)-1].last = next
		}
	}
	return next
}

// wheelHas reports that a wheel or an end "has" what follows: "rear wheel has two broken spokes".
func (w *walk) wheelHas(i int) bool {
	u := w.cur
	if w.sep != noSep || w.join != noRole || u == nil || len(u.parts) != 1 || len(u.says) > 0 || u.verb != nil || u.parts[0].head != nil || u.parts[0].noPlace || u.parts[0].mod&ends == 0 {
		return false
	}
	for w.class(i-1) != noNumber || w.itemAt(i-1).figure || determiner(w.itemAt(i-1).text) {
		i--
	}
	switch w.itemAt(i - 1).text {
	case "has", "have", "with", "got", "has got", "have got", "'s got":
		return true
	}
	return false
}

// describes reports that a word at item i stands before the part it is said of.
func (w *walk) describes(i int) bool {
	if determiner(w.itemAt(i-1).text) && w.itemAt(i-1).text != "that" && w.itemAt(i-1).text != "this" {
		return true
	}
	if u := w.cur; w.itemAt(i-1).s.is(no) && u != nil && len(u.parts) == 1 && u.parts[0].wheel && u.parts[0].head == nil {
		return true // "front wheel: no broken spokes"
	}
	if w.wheelHas(i) {
		return true
	}
	if s := w.itemAt(i - 1).s; w.cur != nil && w.cur.pronoun && len(w.cur.says) == 0 && (s.is(copula) || s.is(it)) {
		return false // "it's rough bottom bracket …"
	}
	return !w.seg().said && (!w.seg().part || w.cur == nil) || w.sep != noSep || w.join != noRole
}
