package note

import (
	"slices"
	"strings"
)

// noWord reads "no": not any, or a correction.
func (w *walk) noWord(i int) int {
	if w.itemAt(i+1).figure && i == w.seg().first {
		w.seg().kinds[otherBike] = true // "no 8: chain shot": which bike that is, is not sure
		return i + 1
	}
	if next := w.notThereBut(i); next > i {
		w.correcting(i, correction)
		return next
	}
	j := w.pastDegrees(i + 1)
	s := w.itemAt(j).s
	switch {
	case s != nil && (s.reading != "" || s.bend || s.role == play || s.role == void):
		w.negated, w.negSpan = true, span{i, i + 1}
		return i + 1
	case s.is(fresh), s.is(want), i == w.seg().first && w.itemAt(i+1).sep == noSep && w.headSoon(j), w.sep == colon && !w.opens(j):
		w.seg().dirty, w.stray = true, true // "no new chain", "cassette: no wear to speak of"
		return i + 1
	}
	if s := w.itemAt(i - 1).s; w.sep == noSep && w.join == noRole && (s.is(copula) || s.is(not)) {
		return w.strange(i) // "there's no …": of what, is not known
	}
	return w.correcting(i, correction)
}

// notThereBut steps over "no, not rear" where another end or side follows, "front", which is what is meant; i where none does.
func (w *walk) notThereBut(i int) int {
	k := w.pastCommas(i + 1)
	if !w.itemAt(k).s.is(not) {
		return i
	}
	had, next := w.nounPhraseAt(w.pastDeterminers(k + 1))
	if had == nil || !had.bare() || had.mod == 0 {
		return i
	}
	next = w.pastCommas(next)
	n, _ := w.nounPhraseAt(w.pastDeterminers(next))
	if n == nil || n.mod&had.mod != 0 || !sameKind(n.mod, had.mod) {
		return i
	}
	return next
}

// pastCommas steps over commas.
func (w *walk) pastCommas(i int) int {
	for w.itemAt(i).sep == comma {
		i++
	}
	return i
}

// pastDegrees steps over "sign of any" and the like.
func (w *walk) pastDegrees(j int) int {
	for ; j < w.end; j++ {
		s := w.items[j].s
		if s == nil || s.role != filler && s.role != slight && s.role != marked && s.role != teeth {
			break
		}
	}
	return j
}

// opens reports that a part, a verb or a number stands at item j, so that a "no" before it may be a correction.
func (w *walk) opens(j int) bool {
	s := w.itemAt(j).s
	return s != nil && (s.head != nil || s.mod != 0 || s.action != "" || w.startsNumber(j))
}

// correcting reads "sorry", "scratch that" and a "no" that is one of them.
func (w *walk) correcting(i int, r role) int {
	w.leaveNegation()
	if w.shouldBe(i) {
		return i + 1
	}
	if w.seg().part || w.seg().said || w.seg().dirty || w.seg().hasKind() {
		w.newSegment(i, true)
	}
	last := w.endsSentence(i + 1)
	switch {
	case w.answers && len(w.units) == 0 && !w.seg().part && !w.seg().said:
		return i + 1 // "fork cracked? No, just scratched"
	case w.items[i].text == "rather" && w.itemAt(i+1).text == "than" && len(w.units) == 0:
		w.seg().kinds[plan] = true // "rather than replace it, wait"
		return i + 2
	case w.namedWrongly(i, r), last && r == correction && (w.afterUnsaid() || w.corrected(i)):
		return i + 1
	}
	w.correct = true
	w.marks = append(w.marks, span{i, i + 1})
	w.sep, w.join = comma, noRole
	if (r == scratch || w.noAtEnd(i)) && last {
		u := w.newUnit()
		u.scratch, u.correct = true, true
		w.correct, w.marks = true, []span{{i, i + 1}}
	}
	return i + 1
}

// noAtEnd reports a "no" after all else, which takes back what was said last: "replace chain, no".
func (w *walk) noAtEnd(i int) bool {
	text := w.items[i].text
	if text == "i mean" && w.itemAt(i-1).sep == comma {
		text = w.itemAt(i - 2).text // in French it is one word for both
	}
	return len(w.units) > 0 && (text == "no" || text == "nope" || strings.HasSuffix(text, " no") || owns(text))
}

// owns reports a correction that says outright that what stands before it is false, and not only "sorry".
func owns(text string) bool {
	return slices.ContainsFunc([]string{"wrong", "misread", "mistake", "not right", "isn't right", "upside down", "backwards", "i lie", "tell a lie", "my bad", "my error"},
		func(said string) bool { return strings.Contains(text, said) })
}

// shouldBe reads "should be replaced", a hedge; "that should be 42" is a correction.
func (w *walk) shouldBe(i int) bool {
	if !strings.HasSuffix(w.items[i].text, "should be") || w.startsNumber(i+1) {
		return false
	}
	if (w.join != noRole || w.sep != noSep) && (w.seg().part || w.seg().said) {
		w.newSegment(i, true)
	}
	w.seg().kinds[hedge], w.maybe = true, true
	return true
}

// asksBack reports "did I say rear?", which takes back what was said before.
func (p *parser) asksBack(i int) bool {
	text := p.at(i + 2).text
	return (p.at(i).text == "did" || p.at(i).text == "have") && p.at(i+1).text == "i" && (strings.HasPrefix(text, "sa") || text == "just say")
}

// rightsAlone puts right what was said last where only a bare end or figure stands after a sentence that took it back:
// "Rear tyre cut. Wrong end. Front."
func (w *walk) rightsAlone(i int) {
	for w.itemAt(i).s.is(filler) && w.itemAt(i).s.mod == 0 && i < w.end {
		i++
	}
	if !w.alone || w.last == nil || i >= w.end {
		return
	}
	n, next := w.nounPhraseAt(i)
	if n != nil && n.bare() && n.mod != 0 && w.endsHere(next) || n == nil && w.startsNumber(i) {
		w.correct = true
	}
}

// afterUnsaid reports that this segment, or the one before it, is a hedge, a plan or the like, which takes nothing back.
func (w *walk) afterUnsaid() bool {
	k := len(w.segments)
	return w.seg().hasKind() || k > 1 && w.segments[k-2].hasKind()
}

// namedWrongly reads "bar tape, sorry, stem shot": of the part that is corrected nothing was said, so nothing is taken back.
// What was said with a "maybe" or an "instead" takes nothing back either.
func (w *walk) namedWrongly(i int, r role) bool {
	u := w.cur
	if r != correction || u == nil || len(u.parts) == 0 || len(u.says)+len(u.parts[len(u.parts)-1].before) > 0 || u.verb != nil || u.correct || u.same || u.parts[0].bare() || w.endsSentence(i+1) {
		return false
	}
	w.cur, w.sep, w.join = nil, comma, noRole
	return true
}

// endsSentence reports that nothing but marks follows.
func (w *walk) endsSentence(i int) bool {
	for i < w.end && w.items[i].sep != noSep {
		i++
	}
	return i >= w.end
}

// inPassing reports that "actually" or "rather" corrects nothing: it stands between a part, or a denial, and what is said.
func (w *walk) inPassing(i int) bool {
	switch w.items[i].text {
	case "actually", "rather", "sorry":
	default:
		return false
	}
	if w.sep != noSep || w.join != noRole {
		return false
	}
	next := w.itemAt(i + 1)
	return w.negated || w.seg().part && !w.seg().said && next.sep == noSep && !w.namesPart(i+1) || w.items[i].text == "actually" && w.seg().said && w.endsHere(i+1)
}

// corrected makes of what was said last the correction, where the word for it follows: "split at the back, front, sorry".
func (w *walk) corrected(i int) bool {
	u := w.cur
	if u == nil {
		return false
	}
	if len(w.units) == 1 && len(u.parts) == 1 && len(u.says) == 0 && u.verb == nil && w.last != nil {
		u.correct, u.marks = true, append(u.marks, span{i, i + 1}) // "rear hub gritty. Front hub, I mean."
		return true
	}
	if len(w.units) < 2 && len(u.says) < 2 {
		return false
	}
	here := len(w.segments) - 1
	if !w.seg().part && !w.seg().said {
		here--
	}
	switch {
	case here < 1:
		return false
	case len(u.parts) > 0 && len(u.says) == 0 && u.verb == nil && u.segment == here:
		u.correct, u.marks = true, append(u.marks, span{i, i + 1})
		return true
	case len(u.says) > 1 && u.says[len(u.says)-1].segment == here && u.says[len(u.says)-2].segment < here:
		last := u.says[len(u.says)-1]
		u.says = u.says[:len(u.says)-1]
		c := w.newUnit()
		c.correct, c.marks, c.says = true, append(c.marks, span{i, i + 1}), []*predicate{last}
		return true
	}
	return false
}
