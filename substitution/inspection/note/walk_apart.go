package note

import (
	"slices"
	"strings"

	"stead/substitution/inspection"
)

// exceptive reads "apart from the saddle" and "all but the front tyre". Where nothing was said before, what follows is said
// of the rest, which is not named: "all but the front tyre is fine".
func (w *walk) exceptive(i int) int {
	n, next := w.nounPhraseAt(w.pastDeterminers(i + 1))
	if n == nil || n.head == nil && (n.mod == 0 || n.wheel || n.noPlace) {
		fault := w.itemAt(w.pastDeterminers(i + 1)).s
		said := !ofAll(w.items[i].text) && w.saidOfAll(i) && fault != nil && (fault.reading != "" || fault.bend)
		if next = w.conjunction(i); said {
			w.cur, w.excepting = nil, true // "tyres fine except for a cut in the rear"
		}
		return next
	}
	before := !ofAll(w.items[i].text) && w.saidOfAll(i)
	w.conjunction(i)
	w.sep, w.join = noSep, noRole
	w.cur = nil
	w.part(n, i)
	w.cur.apart, w.cur.excepted = !before, before
	return next
}

// ofAll reports a word for the whole of the bike.
func ofAll(text string) bool {
	for _, word := range []string{"all", "everything", "nothing", "the lot", "no ", "any", "rest", "the rest", "both"} {
		if strings.HasPrefix(text, word) {
			return true
		}
	}
	return false
}

// saidOfAll reports that the sentence has spoken of all before item i, so that what is excepted now has a word of its own.
func (w *walk) saidOfAll(i int) bool {
	if !slices.ContainsFunc(w.units, func(u *unit) bool { return len(u.says) > 0 || u.verb != nil }) {
		return false
	}
	for j := w.segments[0].first; j < i; j++ {
		if ofAll(w.items[j].text) || w.items[j].s != nil && w.items[j].s.head != nil && w.items[j].s.head.many {
			return true
		}
	}
	return w.sep == noSep
}

// ofTheRest reports that something is said of all but the part that was named: right after it, or that all is fine.
func (w *walk) ofTheRest(pr *predicate) bool {
	u := w.cur
	if u == nil || !u.apart || len(u.says) > 0 {
		return false
	}
	first := pr.spans[0].first
	for w.itemAt(first - 1).s.is(copula) {
		first--
	}
	return !relative(w.itemAt(first-1).text) || pr.action == inspection.Keep
}

// allTheRest reports that "all good" follows what was said of one part: it is not said of that part.
func (w *walk) allTheRest(i int) bool {
	u := w.cur
	if !strings.HasPrefix(w.items[i].text, "all ") || w.sep == noSep && w.join == noRole || u == nil || len(u.parts) != 1 || len(u.says) == 0 {
		return false
	}
	return u.apart || !slices.ContainsFunc(u.says, func(pr *predicate) bool { return pr.action == inspection.Keep })
}

// allOfBike reports that "all good" or "nothing wrong" begins what is said, of no part that was named.
func (w *walk) allOfBike(i int) bool {
	if len(w.units) > 0 {
		return false
	}
	text := w.items[i].text
	for _, word := range []string{"all ", "no ", "any ", "nothing "} {
		if strings.HasPrefix(text, word) {
			return true
		}
	}
	return false
}

// theBike reports that the bike as a whole follows: what is to be done with it is not said of a part.
func (w *walk) theBike(i int) bool {
	switch w.itemAt(w.pastDeterminers(i)).text {
	case "bike", "cycle", "whole bike", "whole thing":
		return determiner(w.itemAt(i).text)
	}
	return false
}

// ofAllElse reports what is said of no part that was named: "everything else is fine".
func ofAllElse(text string) bool {
	return strings.HasPrefix(text, "everything else") || strings.HasPrefix(text, "rest ") || strings.HasPrefix(text, "the rest ") || strings.HasPrefix(text, "all the rest ")
}

// relative reports a word that goes on about the part before it.
func relative(text string) bool {
	return text == "which" || text == "that" || text == "it" || text == "that's"
}

// contrasts reports that "while" sets one part against another: "front fine while the rear is shot".
func (w *walk) contrasts(i int) bool {
	if text := w.items[i].text; text != "while" && text != "whilst" {
		return false
	}
	said := slices.ContainsFunc(w.segments, func(s segment) bool { return s.said })
	return said && (w.namesPart(i+1) || w.modAt(w.pastDeterminers(i+1)))
}

// notThat reads "not the front tyre, the rear", said of what was named last: the part is put right.
func (w *walk) notThat(i int) int {
	u := w.cur
	n, next := w.nounPhraseAt(w.pastDeterminers(i + 1))
	if w.sep == noSep && w.join != but || u == nil || len(u.parts) != 1 {
		return i
	}
	if n != nil && n.bare() && n.mod&(ends|sides) != 0 && u.parts[0].head != nil && (u.parts[0].head.many || u.parts[0].every) && w.endsHere(next) && next >= w.end {
		return w.takesBack(i, next) // "replace both tyres, but not the front"
	}
	if len(u.says) == 0 {
		if n != nil && w.sep == comma && u.verb == nil && next < w.end && w.items[next].sep == comma {
			return next + 1 // "the rear tyre, not the front, is cut"
		}
		return i
	}
	if n == nil || n.head == nil || n.head != u.parts[0].head || n.mod != u.parts[0].mod || !w.endsHere(next) {
		return i
	}
	return w.takesBack(i, next)
}

// takesBack reads what withdraws what was said of the part before it.
func (w *walk) takesBack(i, next int) int {
	w.correcting(i, scratch)
	w.marks = []span{{i, next}}
	if next >= w.end {
		w.newUnit().scratch = true
	}
	return next
}

// notThis reads "Not the cassette.", which takes back what was said of it.
func (w *walk) notThis(i int) int {
	n, next := w.nounPhraseAt(w.pastDeterminers(i + 1))
	if i != w.segments[0].first || n == nil || n.head == nil || next < w.end || w.items[i].text != "not" {
		return i
	}
	w.forgetWord(i)
	w.part(n, i)
	return next
}

// ofAnother reports that "on the other one" begins what is said of another bike: a part of another kind follows.
func (w *walk) ofAnother(f found) bool {
	switch w.items[f.next-1].text {
	case "other one", "the other one", "the other":
	default:
		return false
	}
	if w.seg().part || w.seg().said || !f.bare() {
		return false
	}
	of, _ := w.nounPhraseAt(w.pastDeterminers(f.next))
	if of == nil || of.head == nil || w.subject != nil && w.subject.head == of.head {
		return false
	}
	w.seg().kinds[otherBike] = true
	return true
}

// namedAfter gives a part what was said before it was named: "it's gritty, the headset".
func (w *walk) namedAfter(f found) bool {
	n, next, u := f.nounPhrase, f.next, w.cur
	if n.head == nil || w.sep != comma || next < w.end || u == nil || len(w.units) != 1 || len(u.parts) > 0 || len(u.says) == 0 || u.verb != nil || u.correct || u.same {
		return false
	}
	opens := w.items[n.spans[0].first]
	if !determiner(opens.text) && !opens.s.is(quant) && !u.onlyRead() || !u.pronoun && !u.nameable() {
		return false
	}
	n.segment = u.says[0].segment
	u.parts, u.pronoun, u.marks = []*nounPhrase{n}, false, nil
	w.seg().part, w.seg().known, w.seg().said = true, true, true
	w.settled()
	return true
}

// onlyRead reports that nothing but readings were said: "slight play, headset".
func (u *unit) onlyRead() bool {
	return !u.pronoun && !slices.ContainsFunc(u.says, func(pr *predicate) bool { return len(pr.readings) == 0 || pr.balls || len(pr.facts) > 0 })
}

// nameable reports that what is said may stand before its part, "rough as a badger, the bottom bracket": "fine, the
// chain …" may go on.
func (u *unit) nameable() bool {
	return !slices.ContainsFunc(u.says, func(pr *predicate) bool { return pr.void || pr.action == inspection.Keep })
}

// bikeWith reports a bike that is told from others by what is on it, where no part was named that could be meant: "this
// isn't the one with the cracked frame". What it has is not said of the bike at hand, nor is it denied.
func (w *walk) bikeWith(i int) bool {
	if text := w.items[i].text; text != "one" && text != "bike" || w.seg().part || w.seg().said {
		return false
	}
	switch w.itemAt(i + 1).text {
	case "with", "has", "that", "that's", "that has", "that had", "which", "whose":
		before := w.itemAt(i - 1).text
		return before == "the" || before == "that" || strings.HasSuffix(before, " the")
	}
	return false
}

// besideIt takes the part in "replace it and the pads", and in "the tyres want replacing, and the chain": the verb is said
// of both.
func (w *walk) besideIt(f found) bool {
	n, next, u := f.nounPhrase, f.next, w.cur
	if w.join != and || n.head == nil || !w.endsSentence(next) && w.saidNext(next) || u == nil || len(u.says) == 0 {
		return false
	}
	last := u.says[len(u.says)-1]
	wanted := w.sep == comma && w.items[last.spans[0].first].s.is(want) && w.endsSentence(next)
	if text := w.items[last.spans[len(last.spans)-1].last-1].text; last.action == "" || last.void || !wanted && !strings.HasSuffix(text, " it") && !strings.HasSuffix(text, " them") {
		return false
	}
	w.newSegment(n.spans[0].first, true)
	verb := *last
	verb.segment, n.segment = len(w.segments)-1, len(w.segments)-1
	of := w.newUnit()
	of.verb, of.parts = &verb, []*nounPhrase{n}
	w.seg().part, w.seg().known, w.seg().action = true, true, true
	w.settled()
	return true
}

// saidNext reports that after a mark something else is decided of the part before it: "…, and the rear brake, adjust it".
func (w *walk) saidNext(i int) bool {
	s := w.itemAt(i + 1).s
	return !w.endsHere(i) || w.itemAt(i).sep == comma && s != nil && s.action != ""
}

// listAll takes "all" or "both" after a list and a colon: "tyres, tubes: all to be replaced".
func (w *walk) listAll(f found) bool {
	n, u := f.nounPhrase, w.cur
	if !n.bare() || n.mod != 0 || !n.every || n.sides || w.sep != colon || u == nil || len(u.parts) < 2 || len(u.says) > 0 || u.verb != nil {
		return false
	}
	last := u.parts[len(u.parts)-1]
	last.lists = true
	last.spans = append(last.spans, n.spans...)
	w.settled()
	return true
}
