package note

import "strings"

// sizeBefore reads figures that a part follows: "a 28 mm tyre", "fifty tooth big ring".
func (w *walk) sizeBefore(i int) int {
	j := w.figuresEnd(i)
	if j == i {
		return i
	}
	on := j
	if t := w.itemAt(j).text; t == "on" || t == "for" {
		on++ // "point eight on the chain"
	}
	n, next := w.nounPhraseAt(on)
	if n == nil || n.head == nil || on > j && (w.seg().part || w.seg().said) {
		return i
	}
	if w.family == "ball-cage" && n.head.family == "loose-balls" {
		return i // "left cage has eleven balls"
	}
	if w.countsParts(n, i, j) {
		return w.take(n, i, next)
	}
	before, ok := w.allOfPart(n, i, j)
	house := w.sole()
	ballsOfIt := house != nil && n.head.family == "loose-balls" && inside(house.head, n.head) // "hub has nine quarter-inch balls a side"
	if !ok || w.ofPartBefore(i) && !ballsOfIt {
		return i
	}
	n.before = append(before, n.before...)
	return w.take(n, i, next)
}

// mostFigures is how many items may say a size before its part.
const mostFigures = 14

// figuresEnd is where the figures and their units end that a part follows; i if none does.
func (w *walk) figuresEnd(i int) int {
	j := i
	for ; j < i+mostFigures && j < w.end && !(w.beginsPart(j) || j > i && w.articleOrOn(j)); j++ {
		it := w.items[j]
		if !it.figure && it.sep != joint && it.text != "/" && !numberJoint(it.text) && !it.s.ofFigure() && it.text != "hours" && it.text != "hrs" {
			return i
		}
	}
	if j >= w.end || j >= i+mostFigures {
		return i
	}
	return j
}

// beginsPart reports that a part, or where it is, is named at item j.
func (w *walk) beginsPart(j int) bool {
	it := w.items[j]
	return it.s != nil && !it.figure && (it.s.head != nil || it.s.mod != 0 || it.s.is(eachSide) || it.s.is(quant))
}

// articleOrOn reports "the", and "on" or "for" before a part.
func (w *walk) articleOrOn(j int) bool {
	it := w.items[j]
	return it.s != nil && !it.figure && (determiner(it.text) && !((it.text == "a" || it.text == "an") && (w.class(w.skipJoint(j+1)) == partOf || w.aMil(j) || w.unitAt(j+1))) || it.s.is(at) && (it.text == "on" || it.text == "for"))
}

// countsParts reports that the figure before a part counts it, "two tyres", and counts it. Of spokes it counts no
// places, and of balls it is a reading.
func (w *walk) countsParts(n *nounPhrase, i, end int) bool {
	k, ok := w.whole(i)
	if !ok || strings.Contains(w.items[i].text, ".") || k.next != end || !n.head.many && !n.head.set && k.v != 1 || k.v >= mostSome {
		return false
	}
	if _, next := w.measure(w.familyOf(n), i); next == end {
		return false
	}
	if n.head.family == "loose-balls" && k.v > 2 {
		n.before = append(n.before, &predicate{spans: []span{{i, end}}, readings: []fact{count("balls", k.v)}})
		return true
	}
	if n.head.family != "spoke" && n.head.family != "nipple" {
		n.counted = int(k.v)
	}
	n.spans = append([]span{{i, end}}, n.spans...)
	return true
}

// allOfPart reads all figures from i to end as ones of the part that follows; false if one is not.
func (w *walk) allOfPart(n *nounPhrase, i, end int) (out []*predicate, ok bool) {
	for i < end {
		if w.items[i].sep == joint {
			i++
			continue
		}
		if s := w.items[i].s; s != nil && len(s.facts) > 0 {
			out = append(out, &predicate{spans: []span{{i, i + 1}}, facts: s.facts})
			i++
			continue
		}
		m, next := w.measure(w.familyOf(n), i)
		if next <= i || next > end {
			return nil, false
		}
		out = append(out, &predicate{spans: []span{{i, next}}, readings: m.readings, facts: m.facts, balls: m.balls})
		i = next
	}
	return out, true
}

// ofPartBefore reports that a figure said right after a part, and before another, can be of the one before: then it is.
func (w *walk) ofPartBefore(i int) bool {
	ofIt := w.cur != nil && w.cur.pronoun && len(w.cur.says) == 0
	if !ofIt && (w.sep != noSep || w.join != noRole || !w.seg().part) || w.family == "" || determiner(w.itemAt(i-1).text) {
		return false
	}
	_, next := w.measure(w.family, i)
	return next > i
}

// ofFigure reports a word that stands beside a figure: a number, a unit, what it is of.
func (s *sense) ofFigure() bool {
	return s != nil && (s.class != noNumber || s.unit != "" || s.label != "" || len(s.facts) > 0 || len(s.measures) > 0)
}
