package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// nounPhrase is a part as the note names it: "both rear hub bearings", "the drive side", "the other one".
type nounPhrase struct {
	spans   []span // its items
	head    *head
	houses  []*head // what the part is in: the hub of a hub bearing
	mod     mod
	balls   mod  // of the balls inside: "top and bottom"
	all     bool // all
	every   bool // both, each, all
	sides   bool // a side
	other   bool // the other side
	wheel   bool
	noPlace bool // a thing without a place of its own
	owner   bool // it only says whose the thing before it is
	before  []*predicate
	ones    bool  // "the rear ones"
	either  bool  // "front or rear"
	counted int   // "two brake cables"
	again   bool  // the part is that named before: "the other side"
	inHub   bool  // bearings named as the wheel's
	system  *head // the brake or the derailleur that a cable is of
	segment int
	joined  role // how it is joined to the part before it in a list
	comma   bool
	lists   bool // "both" or "all" after it makes it the last of a list
}

// span is a run of items.
type span struct{ first, last int }

// bare reports that only an end, side or level is named, not the part.
func (n *nounPhrase) bare() bool { return n.head == nil && !n.noPlace && !n.wheel }

// inside reports that a part sits in a house: a bearing in a hub.
func inside(house, part *head) bool {
	for _, h := range house.places {
		for _, p := range part.places {
			if strings.HasPrefix(string(p), string(h)+".") {
				return true
			}
		}
	}
	return false
}

func (s *sense) is(r role) bool { return s != nil && s.role == r }

// naming is a noun phrase as far as it has been read.
type naming struct {
	nounPhrase
	*parser
	first int // where it begins
	i     int // the item at hand
	end   int // after the last item that belongs to it
	done  bool
}

// longestPhrase is how many items may name a part.
const longestPhrase = 16

// nounPhraseAt reads the part that begins at item i; nil if none does.
func (p *parser) nounPhraseAt(i int) (*nounPhrase, int) {
	r := &naming{parser: p, first: i, i: i, end: i}
	for !r.done && r.i < len(p.items) && r.i < i+longestPhrase && r.word() {
	}
	if r.end == i {
		return nil, i
	}
	n, end := &r.nounPhrase, r.end
	if n.head != nil {
		n.wheel = false
		if n.head.set && strings.HasSuffix(p.at(i).text, "set of") {
			n.every = false // "a set of pads" is that of one brake
		}
	}
	n.every = n.every || strings.HasPrefix(p.at(i-1).text, "neither")
	n.spans = []span{{p.withArticle(i), end}}
	if n.head != nil {
		end = p.afterHead(n, end)
	}
	return n, end
}

// word takes the item at hand into the phrase, by the first of the ways in which a word belongs to one.
func (r *naming) word() bool {
	if r.at(r.i).sep == joint && r.i > r.first {
		r.i++
		return true
	}
	s := r.at(r.i).s
	if s == nil {
		return false
	}
	for _, take := range nounWords {
		if take(r, s) {
			return true
		}
	}
	return false
}

// take steps over items that belong to the phrase.
func (r *naming) take(next int) bool {
	r.i, r.end = next, next
	return true
}

// over steps over items that belong to the phrase only if more of it follows.
func (r *naming) over(next int) bool {
	r.i = next
	return true
}

// stop ends the phrase before the item at hand.
func (r *naming) stop() bool {
	r.done = true
	return true
}

// endsWith ends the phrase with the items before next.
func (r *naming) endsWith(next int) bool {
	r.take(next)
	return r.stop()
}

// saidBefore reports that a part or what is said of one stands right before item i.
func (p *parser) saidBefore(i int) bool {
	s := p.at(i - 1).s
	return s != nil && p.at(i-1).sep == noSep && (s.head != nil || s.reading != "")
}

// inSides are the places with sides of a part that is named right after the one at item i: "drive side hub bearing".
func (p *parser) inSides(i int) []substitution.Place {
	s, in := p.at(i).s, p.headAt(i+1)
	if s == nil || s.head == nil || in == nil || !inside(s.head, in) {
		return nil
	}
	return within(in.places, sides)
}

// modAfterAt is where an end or side begins that is told after "on the"; 0 if none is.
func (p *parser) modAfterAt(i int) int {
	if p.modAt(i) && beginsAt(p.at(i).text) {
		return i
	}
	if !p.at(i).s.is(at) {
		return 0
	}
	if j := p.pastDeterminers(i + 1); p.modAt(j) && p.headAt(j) == nil {
		return j
	}
	return 0
}

// someOf is the item after "last three sprockets", if they are some of the part; 0 if they are not.
func (p *parser) someOf(h *head, i int) int {
	j := i
	for ; j < i+3; j++ {
		switch p.at(j).text {
		case "last", "first", "biggest", "smallest", "largest", "top", "bottom", "middle", "few", "big", "small", "end":
			continue
		}
		if p.class(j) != ones {
			break
		}
	}
	if of := p.headAt(j); j == i || of == nil || !slices.ContainsFunc(of.places, func(q substitution.Place) bool { return slices.Contains(h.places, q) }) {
		return 0
	}
	return j + 1
}

// isBearing reports a word for what turns in any hub, headset or bottom bracket, so that a noun before it says in which.
func isBearing(h *head) bool { return slices.Contains(bearingKinds, h.family) }

// inWheel says of bearings named as a wheel's that they are its hub's.
func (p *parser) inWheel(n *nounPhrase) {
	if hub := p.l.phrase("hub").head; inside(hub, n.head) {
		n.houses, n.inHub = append(n.houses, hub), true
	}
}

// withArticle is where a noun phrase begins with its article.
func (p *parser) withArticle(i int) int {
	if i > 0 && determiner(p.at(i-1).text) {
		return i - 1
	}
	return i
}

func determiner(word string) bool {
	switch word {
	case "the", "a", "an", "some", "this", "that", "these", "those":
		return true
	}
	return false
}

// ballsBefore steps over "eleven quarter-inch" between a house and its balls.
func (p *parser) ballsBefore(n *nounPhrase, i int) (int, bool) {
	if !n.head.house || !p.startsNumber(i) {
		return i, false
	}
	m, next := ballsHere(p, i)
	if next == 0 {
		return i, false
	}
	h := p.headAt(next)
	if h == nil || h.family != "loose-balls" {
		return i, false
	}
	n.before = append(n.before, &predicate{spans: []span{{i, next}}, readings: m.readings, facts: m.facts})
	return next, true
}

// headAt is the part named at item i, past an article.
func (p *parser) headAt(i int) *head {
	for determiner(p.at(i).text) || p.at(i).sep == joint {
		i++
	}
	if s := p.at(i).s; s != nil {
		return s.head
	}
	return nil
}

// headSoon reports that a part is named within the next words, and only words about it stand before.
func (p *parser) headSoon(i int) bool {
	for j := i; j < i+5; j++ {
		s := p.at(j).s
		switch {
		case p.at(j).sep == joint:
		case s == nil:
			return false
		case s.head != nil:
			return true
		case len(s.facts) > 0, s.mod != 0, s.is(wheel):
		default:
			return false
		}
	}
	return false
}
