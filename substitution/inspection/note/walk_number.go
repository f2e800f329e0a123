package note

import (
	"slices"

	"stead/substitution"
)

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

// figures are the ways in which a figure is meant; the first that takes it decides.
var figures = []func(*walk, int) int{
	(*walk).justOh, (*walk).moreBroken, (*walk).countOfFaults, (*walk).howMany, (*walk).someBolts, (*walk).twoNew, (*walk).whollySo, (*walk).ofNoPart, (*walk).pricedNew,
	(*walk).sizeBefore, (*walk).theOtherRing, (*walk).ofFamily, (*walk).sizeOfBalls, (*walk).moreBalls, (*walk).bearingByNumber, (*walk).partByTeeth, (*walk).ballsByFigures,
	(*walk).numberWord, (*walk).strangeFigure,
}

// number reads the figure at item i.
func (w *walk) number(i int) int {
	for _, read := range figures {
		if next := read(w, i); next > i {
			return next
		}
	}
	return i
}

// justOh steps over an "oh" that is no nought.
func (w *walk) justOh(i int) int {
	if t := w.items[i].text; (t == "oh" || t == "o") && w.endsHere(i+1) && w.class(i-1) == noNumber {
		return i + 1
	}
	return i
}

// countOfFaults steps over the count of "two cuts".
func (w *walk) countOfFaults(i int) int {
	if n, ok := w.whole(i); ok && n.v > 1 && n.v <= mostCounted {
		if it := w.itemAt(n.next); it.s != nil && it.s.reading != "" && plural(it.text) {
			return n.next
		}
	}
	if it := w.itemAt(i + 1); w.items[i].text == "one" && it.s != nil && it.s.reading != "" {
		if noun := w.l.phrase("a " + it.text); noun != nil && noun.reading == it.s.reading {
			return i + 1 // "one crack", but "one cracked" is one of them
		}
	}
	return i
}

// whole is the longest whole number at item i.
func (w *walk) whole(i int) (number, bool) {
	ws := w.wholes(i)
	if len(ws) == 0 {
		return number{}, false
	}
	return ws[0], true
}

// mostSome is how many of a set are spoken of as some of it.
const mostSome = 20

// someBolts steps over the count of "two of the chainring bolts" and "one of the rear pads": they are one place.
func (w *walk) someBolts(i int) int {
	if k, ok := w.whole(i); ok && k.v < mostSome && w.itemAt(k.next).text == "of" {
		n, _ := w.nounPhraseAt(w.pastDeterminers(k.next + 1))
		if n != nil && n.head != nil && (n.head.family == "chainring-bolt" || n.head.set && (n.mod&ends != 0 || len(n.head.places) == 1)) {
			return k.next + 1
		}
	}
	return i
}

// twoNew steps over the count of "two new tyres".
func (w *walk) twoNew(i int) int {
	if k, ok := w.whole(i); ok && k.v == 2 && w.itemAt(k.next).s.is(fresh) && w.prefixes(k.next+1) {
		return k.next
	}
	return i
}

// whollySo steps over "a hundred per cent" of "a hundred per cent needs a new one".
func (w *walk) whollySo(i int) int {
	if k, ok := w.whole(i); ok && k.v == 100 && w.unit(k.next, "percent") && !w.seg().said {
		return k.next + 1
	}
	return i
}

// ofFamily reads a figure as one of the part at hand.
func (w *walk) ofFamily(i int) int {
	if w.family == "" {
		return i
	}
	m, next := w.measure(w.family, i)
	if next <= i {
		return i
	}
	if end := w.rangeEnd(next, m); end > next {
		w.say(&predicate{spans: []span{{i, end}}, void: true})
		return end
	}
	if u := w.cur; u != nil && u.wanted && w.wished > 0 && len(u.parts) > 1 && len(u.says)+len(m.readings) == 0 && w.sep == noSep && w.join == noRole {
		return next // "new chain, new cassette 11-34": of the one to come, and no fault of the last of the list
	}
	w.say(&predicate{spans: []span{{i, next}}, readings: m.readings, facts: m.facts, balls: m.balls, void: w.negated})
	return next
}

// theOtherRing leaves a figure that names another part of the kind by its size: "big ring hooked, the 39 is fine". Which one
// that is, is not known; nor is then what is said of it.
func (w *walk) theOtherRing(i int) int {
	u := w.cur
	if w.itemAt(i-1).text != "the" || w.correct || u == nil || len(u.says) == 0 || w.family != "chainring" {
		return i
	}
	k, ok := w.whole(i)
	if n, _ := w.teethNamed(i); !ok || n != nil || w.unitAt(k.next) || w.namesPart(k.next) {
		return i
	}
	if w.seg().part || w.seg().said {
		w.newSegment(i, true)
	}
	w.newUnit().parts = []*nounPhrase{{noPlace: true, spans: []span{{i, k.next}}, segment: len(w.segments) - 1}}
	w.family = ""
	w.strange(i)
	return k.next
}

// sizeOfBalls reads the size after a count: "ten a side, three sixteenths".
func (w *walk) sizeOfBalls(i int) int {
	u := w.cur
	if u == nil || len(u.says) == 0 || !u.says[len(u.says)-1].balls || len(u.says[len(u.says)-1].facts) > 0 {
		return i
	}
	mm, next, ok := w.ballSize(i)
	if !ok {
		return i
	}
	w.say(&predicate{spans: []span{{i, next}}, facts: num("ball_mm", mm), balls: true})
	return next
}

// numberWord reads a word that is a number elsewhere: "the rear one".
func (w *walk) numberWord(i int) int {
	s := w.items[i].s
	if s == nil || w.items[i].figure {
		return i
	}
	switch {
	case s.reading != "" || s.action != "" || len(s.facts) > 0:
		return w.said(i)
	case s.role == onePronoun && !w.startsNumber(i+1) && !w.unitAt(i+1) && (w.modAt(i+1) || w.seg().said):
		return i + 1
	}
	return i
}

// strangeFigure takes a figure that is of nothing known. That of "swap the stem for a 90" is of what is wanted.
func (w *walk) strangeFigure(i int) int {
	next := max(i+1, w.skipNumbers(i))
	if u := w.cur; w.wished > 0 && u != nil && u.verb != nil && len(u.says) == 0 && w.seg().part && w.sep == noSep && w.join == noRole {
		return next
	}
	w.strange(i)
	return next
}

// moreBalls reads how many balls the other side has: "twenty on top, twenty-two on the bottom".
func (w *walk) moreBalls(i int) int {
	u := w.cur
	if u == nil || len(u.says) == 0 || !u.says[len(u.says)-1].balls || w.sep != comma && w.join != and {
		return i
	}
	for _, n := range w.wholes(i) {
		j := n.next
		if w.itemAt(j).s.is(at) {
			j = w.pastDeterminers(j + 1)
		}
		if m := w.itemAt(j).s; n.v >= 3 && n.v <= 60 && m != nil && (m.mod&(sides|levels) != 0 || m.is(otherSide)) && w.endsHere(j+1) {
			w.say(&predicate{spans: []span{{i, n.next}}, readings: []fact{count("balls", n.v)}, balls: true})
			return n.next
		}
	}
	return i
}

// moreBroken reads how many spokes are broken on the other side: "two broken on the drive side, one on the left".
func (w *walk) moreBroken(i int) int {
	u := w.cur
	k, ok := w.whole(i)
	if !ok || u == nil || len(u.says) == 0 || len(u.parts) == 0 || w.sep != comma && w.join != and || w.family != "spoke" {
		return i
	}
	had, last := u.parts[len(u.parts)-1:], u.says[len(u.says)-1]
	n, next := w.nounPhraseAt(w.pastDeterminers(w.pastAt(k.next)))
	if had[0].mod&sides == 0 || n == nil || !n.bare() || n.mod&^sides != 0 || n.mod == 0 || n.mod == had[0].mod&sides || !w.endsHere(next) ||
		len(last.readings) != 1 || last.readings[0].name != "damaged" || last.negated {
		return i
	}
	other := *had[0]
	other.mod, other.spans, other.before = other.mod&^sides|n.mod, append(slices.Clone(other.spans), n.spans...), nil
	w.part(&other, i)
	w.say(&predicate{spans: []span{{i, next}}, readings: []fact{count("broken", k.v)}})
	return next
}

// pastAt steps over "on" or "at".
func (w *walk) pastAt(i int) int {
	if w.itemAt(i).s.is(at) {
		i++
	}
	return i
}

func numberJoint(text string) bool {
	switch text {
	case "x", "by", "to", "and", "a", "an", "of", "×":
		return true
	}
	return false
}

// howMany steps over the count of "four broken spokes": how many there are of them changes nothing.
func (w *walk) howMany(i int) int {
	ws := w.wholes(i)
	if len(ws) == 0 || ws[0].v > mostSpokes {
		return i
	}
	j := ws[0].next
	if s := w.itemAt(j).s; s == nil || s.reading != "damaged" || !s.value.Equal(substitution.Yes(true)) {
		return i
	}
	if n, _ := w.nounPhraseAt(j + 1); n == nil || n.head == nil || n.head.family != "spoke" {
		return i
	}
	return j
}

// mostSpokes is how many spokes a wheel may have.
const mostSpokes = 48
