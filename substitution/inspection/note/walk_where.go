package note

import (
	"strings"

	"stead/substitution"
)

// adverb reports a word such as "properly", which changes nothing. Those that make it less than certain, or less than
// whole, stand in the tables; any other is taken at its ending.
func adverb(word string) bool { return len(word) > leastAdverb && strings.HasSuffix(word, "ly") }

const leastAdverb = 5

// whereOnPart steps over where on a part a fault is, said after it: "frayed under the tape", "cut near the old boot".
func (w *walk) whereOnPart(i int) int {
	if !w.afterReading() || !prepositions[w.itemAt(i).text] {
		return i
	}
	if w.items[i].text == "underneath" && w.endsHere(i+1) {
		return i + 1 // "cracked underneath"
	}
	if w.itemAt(i).text == "at" && w.class(i+1) == ones && w.noPlaceAt(i+2) {
		return i + 3 // "cracked at three spoke holes"
	}
	if u := w.cur; w.items[i].s.is(at) && u != nil && len(u.parts) == 0 && !u.pronoun && w.namesPart(i+1) {
		return i // "no leaks from the fork"
	}
	if w.onSkin(i) {
		return w.strange(i)
	}
	if next := w.whereToEnd(i); next > i {
		return next
	}
	first := w.itemAt(i + 2).s
	onlyDone := i+2 < w.end && first != nil && first.form == after && first.head == nil // "cracked at the stay"
	if !determiner(w.itemAt(i+1).text) || first != nil && !onlyDone && weak[w.itemAt(i).text] {
		return i // "in the headset" says of what
	}
	if onlyDone {
		return w.whereWords(i, i+3)
	}
	return w.whereWords(i, i+2)
}

// onSkin reports that what a fault is in is only on a part: "a crack in the paint", "cut in the label".
func (w *walk) onSkin(i int) bool {
	switch w.itemAt(w.pastDeterminers(i + 1)).text {
	case "paint", "paintwork", "lacquer", "varnish", "label", "sticker", "decal", "transfer", "coating", "finish", "film", "wrap", "powder", "clear":
		return true
	}
	return false
}

// afterReading reports that a reading was just said, with no mark or "and" since.
func (w *walk) afterReading() bool {
	return w.seg().said && w.sep == noSep && w.join == noRole && w.lastSaid != nil && len(w.lastSaid.readings) > 0
}

// whereWords steps over the words from item j that say where a fault is, after a preposition at item i and its article.
func (w *walk) whereWords(i, j int) int {
	for ; j < min(i+2+longestWhere, w.end); j++ {
		it := w.itemAt(j)
		s := it.s
		switch {
		case it.figure || it.sep != noSep:
			return w.pastNone(i, j)
		case s == nil, s.inert() && !w.startsNumber(j+1):
		case s.head != nil || s.noPlace:
			return j + 1
		case s.mod == 0 || beginsAt(it.text):
			return w.pastNone(i, j)
		}
	}
	return w.pastNone(i, j)
}

// whereToEnd steps over where a fault is, in whatever words up to the next mark: "torn along one edge", "cracked at two
// of the eyelets", "split from front to back".
func (w *walk) whereToEnd(i int) int {
	if next := w.whichHooked(i); next > i || !(claim{value: w.lastSaid.readings[0]}).isFault() {
		return next
	}
	named := w.itemAt(i).text == "from" && w.modAt(i+1)
	j := i + 1
	for ; j < min(i+1+longestPlace, w.end) && !w.endsHere(j); j++ {
		it := w.itemAt(j)
		s := it.s
		switch {
		case it.sep == joint, determiner(it.text), s.is(filler), s.is(at), w.class(j) == ones:
		case !it.figure && s.inert() && (s == nil || !w.startsNumber(j+1)), s != nil && s.noPlace:
			named = true
		case s != nil && s.mod != 0 && s.head == nil:
		default:
			return i
		}
	}
	if !named || !w.endsHere(j) {
		return i
	}
	return j
}

// whichHooked steps over which sprockets of a block are hooked, up to the next mark: "hooked on the 15 and 17", "hooked on
// the smaller ones". Nothing is kept of it, and no figure of it is another's.
func (w *walk) whichHooked(i int) int {
	if w.lastSaid.readings[0].name != "hooked_teeth" {
		return i
	}
	for j := i + 1; j < min(i+1+longestPlace, w.end); j++ {
		it := w.itemAt(j)
		s := it.s
		switch {
		case w.endsHere(j) && !(s.is(and) && w.startsNumber(j+1)):
			return j
		case it.figure, it.sep == joint, s == nil, determiner(it.text), s.is(and), s.is(filler), s.is(onePronoun), s.is(teeth), w.class(j) != noNumber, w.unit(j, "teeth"):
		case strings.HasPrefix(it.text, "sprocket"), strings.HasPrefix(it.text, "cog"):
		case s.mod&levels != 0 && s.head == nil:
		default:
			return i
		}
		if j+1 == w.end {
			return w.end
		}
	}
	return i
}

// inert reports a word that says nothing of a part, known only as what stands beside a figure or not at all: "the clamp".
func (s *sense) inert() bool {
	return s == nil || s.role == noRole && s.head == nil && !s.noPlace && s.mod == 0 && s.action == "" && s.reading == "" && !s.bend && len(s.facts) == 0 && s.class == noNumber
}

// longestPlace is how many words up to a mark may say where on a part a fault is.
const longestPlace = 7

// whereLonger steps over the rest of where a fault is, where the tables know its beginning: "near the clamp bolt".
func (w *walk) whereLonger(i int) int {
	first, _, many := strings.Cut(w.items[i].text, " ")
	if !many || !prepositions[first] || !w.afterReading() {
		return i
	}
	if next := w.itemAt(i + 1); next.sep == noSep && !next.figure && (next.s != nil && next.s.noPlace || nearPart[next.text]) {
		return i + 2
	}
	return i
}

// extent steps over how long or wide a fault is: "a slit about a centimetre long".
func (w *walk) extent(i int) int {
	if !w.seg().said || w.sep != noSep || w.join != noRole || w.lastSaid == nil || len(w.lastSaid.readings) != 1 || w.lastSaid.readings[0].value.Form() != substitution.Flag {
		return i
	}
	if w.itemAt(i).text == "the" && sameNames[w.itemAt(i+1).text] != nil && w.itemAt(i+2).text == "of" {
		for i < w.end && !w.endsHere(i) {
			i++ // "the size of a thumbnail"
		}
		return i
	}
	j := i
	for w.itemAt(j).s.is(bound) {
		j++
	}
	measured := func(k int) bool { return w.unit(k, "mm", "cm", "inch", "long", "wide") }
	switch {
	case determiner(w.itemAt(j).text) && measured(j+1):
		j++
	case w.startsNumber(j):
		if ws := w.decimals(j); len(ws) > 0 && measured(ws[0].next) {
			j = ws[0].next
			break
		}
		return i
	default:
		return i
	}
	for j < w.end && (measured(j) || extents[w.itemAt(j).text]) {
		j++
	}
	return j
}

var extents = map[string]bool{"long": true, "wide": true, "deep": true, "across": true, "round": true, "or so": true}

// nearPart are words for a small piece of a part, by which a place on it is told.
var nearPart = map[string]bool{"bolt": true, "bolts": true, "end": true, "ends": true, "stop": true, "screw": true, "nut": true, "area": true, "hole": true, "joint": true, "entry": true, "edge": true}

// longestWhere is how many words may say where on a part a fault is.
const longestWhere = 3

// pastNone is item j, or item i where nothing was stepped over but the article.
func (w *walk) pastNone(i, j int) int {
	if j == i+2 {
		return i
	}
	return j
}

var prepositions = map[string]bool{"near": true, "under": true, "beneath": true, "underneath": true, "behind": true, "around": true, "round": true, "along": true,
	"across": true, "above": true, "below": true, "beside": true, "alongside": true, "through": true, "inside": true, "next to": true, "close to": true,
	"against": true, "between": true, "from": true, "after": true,
	"by": true, "at": true, "on": true, "in": true}

// weak are those that may also say of which part.
var weak = map[string]bool{"by": true, "at": true, "on": true, "in": true, "through": true, "inside": true, "across": true}
