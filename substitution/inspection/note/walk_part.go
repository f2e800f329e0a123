package note

import (
	"stead/substitution"
)

// noun reads a part at item i.
func (w *walk) noun(i int) int {
	n, next := w.nounPhraseAt(i)
	if n == nil {
		return i
	}
	if i == w.seg().first && w.items[i].text == "right" && !w.correct && (n.bare() && next == i+1 && (w.endsHere(next) && !w.otherSideNext(next) || w.headAt(next) != nil) || w.rightOfNone(i+1)) {
		return i + 1 // "right, the chain"
	}
	return w.take(n, i, next)
}

// otherSideNext reports that a colon stands at item i, after "right", where the left of something was spoken of before.
func (w *walk) otherSideNext(i int) bool {
	return w.itemAt(i).sep == colon && w.subject != nil && w.subject.mod&sides == left
}

// rightOfNone reports that the part at item i has no sides, so that "right" before it only begins what is said.
func (w *walk) rightOfNone(i int) bool {
	s := w.itemAt(i).s
	return s != nil && s.head != nil && !s.head.cage && !s.head.oneForBoth() && len(within(s.head.places, sides)) == 0 && len(w.inSides(i)) == 0
}

// underHeader makes "front brake" and "rear gear" what they are under "cables:".
func (w *walk) underHeader(n *nounPhrase, next int) {
	switch {
	case w.header == nil:
	case n.head != nil && len(ofSystem(w.header.places, n.head)) > 0:
		n.head, n.system = w.header, n.head
	case n.noPlace && (w.itemAt(next-1).text == "gear" || w.itemAt(next-1).text == "gears"):
		n.noPlace, n.head, n.system = false, w.header, w.l.phrase("mechs").head
	}
}

// allNone reports that what is said is that there is no play.
func allNone(u *unit) bool {
	for _, pr := range u.says {
		if len(pr.readings) != 1 || !pr.readings[0].value.Equal(substitution.Text("none")) {
			return false
		}
	}
	return len(u.says) > 0
}

// onlyWhere reports that nothing but ends and sides follows: "cone pitted, front, right".
func (w *walk) onlyWhere(i int) bool {
	for ; i < w.end; i++ {
		if it := w.items[i]; it.sep != comma && !(it.sep == noSep && it.s != nil && it.s.mod != 0 && it.s.head == nil) {
			return false
		}
	}
	return true
}

// toEach reports that a bare "both" or "each" makes a part that of both ends; "all" says no more than a plural does.
func (n *nounPhrase) toEach(last *nounPhrase) bool {
	return n.every && !(n.all && last.head != nil && last.head.set)
}

// saidAfter reports that something is said of the part that ends before item i.
func (w *walk) saidAfter(i int) bool { return i < w.end && !w.endsHere(i) && !w.itemAt(i).s.is(or) }

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

// ballsOfOther makes the balls that were said last those of another side of the same hub.
func (w *walk) ballsOfOther(n, had *nounPhrase) {
	of, said := *had, w.lastSaid
	of.balls, of.sides, of.before, of.segment = n.mod, n.sides, nil, said.segment
	if n.other {
		of.balls = sides &^ had.balls
	}
	said.spans = append(said.spans, n.spans...)
	w.cur.says = w.cur.says[:len(w.cur.says)-1]
	u := w.newUnit()
	u.segment, u.parts, u.says = said.segment, []*nounPhrase{&of}, []*predicate{said}
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
	for _, word := range []string{"at ", "on ", "in ", "out ", "up ", "of ", "for ", "to "} {
		if len(text) > len(word) && text[:len(word)] == word {
			return true
		}
	}
	return false
}

// endsHere reports that nothing more is said before the next mark.
func (w *walk) endsHere(i int) bool {
	it := w.itemAt(i)
	return i >= w.end || it.sep > joint || it.s.is(and) || it.s.is(but)
}

// namesPart reports that a part is named at item i, with its end or without.
func (w *walk) namesPart(i int) bool {
	n, _ := w.nounPhraseAt(w.pastDeterminers(i))
	return i < w.end && n != nil && n.head != nil
}

func (w *walk) partFollows(i int) bool { return i < w.end && (w.headAt(i) != nil || w.noPlaceAt(i)) }

// partAfter is the part that begins right at item i.
func (w *walk) partAfter(i int) (*nounPhrase, int) {
	it := w.itemAt(i)
	if i >= w.end || it.s == nil || it.s.head == nil && it.s.mod == 0 && !it.s.noPlace || beginsAt(it.text) {
		return nil, i
	}
	n, next := w.nounPhraseAt(i)
	if n == nil || n.bare() {
		return nil, i
	}
	return n, next
}
