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
	every   bool // both, each, all
	sides   bool // a side
	other   bool // the other side
	wheel   bool
	noPlace bool // a thing without a place of its own
	before  []*predicate
	either  bool // "front or rear"
	counted bool // "two brake cables"
	inHub   bool // bearings named as the wheel's
	segment int
	joined  role // how it is joined to the part before it in a list
	comma   bool
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

// nounPhraseAt reads the part that begins at item i; nil if none does.
func (p *parser) nounPhraseAt(i int) (*nounPhrase, int) {
	n := &nounPhrase{}
	j, end := i, i
loop:
	for j < len(p.items) && j < i+16 {
		it := p.items[j]
		s := it.s
		switch {
		case it.sep == joint && j > i:
			j++
			continue
		case s == nil:
			break loop
		case s.noPlace:
			n.noPlace, n.head = true, nil
			j++
			end = j
			break loop
		case s.head != nil:
			if n.head != nil {
				if !inside(n.head, s.head) {
					if isBearing(s.head) {
						n.noPlace, n.head = true, nil // "pedal bearings" are no other part's
						j++
						end = j
					}
					break loop
				}
				n.houses = append(n.houses, n.head)
			}
			n.head = s.head
			if n.wheel {
				p.inWheel(n)
			}
			j++
			end = j
			if next, ok := p.ballsBefore(n, j); ok {
				j = next
			}
			continue
		case s.mod != 0 && n.head != nil:
			// "hub drive side bearing", but not "bearing drive side"
			k, m := p.modsAt(j)
			if h := p.headAt(k); h == nil || !inside(n.head, h) {
				break loop
			}
			n.mod |= m
			j = k
			continue
		case s.mod != 0:
			k, m := p.modsAt(j)
			n.mod |= m
			n.either = n.either || p.anyOr(j, k)
			j, end = k, k
			continue
		case s.is(quant) || s.is(every):
			if n.head != nil {
				break loop
			}
			n.every = true
			j++
			end = j
			continue
		case s.is(eachSide):
			if n.head != nil {
				break loop
			}
			n.sides = true
			j++
			end = j
			if i == j-1 && (p.modAt(j) || p.headAt(j) != nil) {
				break loop // "nine a side rear hub"
			}
			continue
		case s.is(otherSide):
			n.other = true
			j++
			end = j
			continue
		case s.is(wheel):
			if n.head != nil {
				break loop
			}
			n.wheel = true
			j++
			end = j
			continue
		case s.is(onePronoun):
			if end == i || n.head != nil || p.class(j+1) != noNumber {
				break loop
			}
			j++
			end = j
			break loop
		case len(s.facts) > 0 && n.head == nil && p.headSoon(j+1):
			n.before = append(n.before, &predicate{spans: []span{{j, j + 1}}, facts: s.facts})
			j++
			continue
		case determiner(it.text) && n.head == nil:
			j++
			continue
		case it.text == "'s" && (n.head != nil || n.wheel) && p.headAt(j+1) != nil && isBearing(p.headAt(j+1)):
			j++ // "the wheel's bearings"
			continue
		default:
			break loop
		}
	}
	if end == i {
		return nil, i
	}
	if n.head != nil {
		n.wheel = false
	}
	n.every = n.every || p.at(i-1).text == "neither"
	n.spans = []span{{p.withArticle(i), end}}
	if n.head != nil {
		end = p.afterHead(n, end)
	}
	return n, end
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

// modsAt reads ends, sides and levels, "front and rear" together.
func (p *parser) modsAt(i int) (int, mod) {
	m := p.at(i).s.mod
	j := i + 1
	for {
		k := j
		for p.at(k).sep == joint || p.at(k).text == "/" {
			k++
		}
		if s := p.at(k).s; s.is(and) || s.is(or) {
			k++
			if determiner(p.at(k).text) {
				k++
			}
		}
		s := p.at(k).s
		if s == nil || s.mod == 0 || s.head != nil {
			return j, m
		}
		if k > j && !sameKind(m, s.mod) {
			return j, m
		}
		if k == j && sameKind(m, s.mod) {
			return j, m
		}
		m |= s.mod
		j = k + 1
	}
}

// anyOr reports an "or" among items.
func (p *parser) anyOr(i, end int) bool {
	for ; i < end; i++ {
		if p.at(i).s.is(or) {
			return true
		}
	}
	return false
}

func sameKind(a, b mod) bool {
	for _, kind := range []mod{ends | letterR | letterF, sides | letterR | letterL, levels} {
		if a&kind != 0 && b&kind != 0 {
			return true
		}
	}
	return false
}

// afterHead reads what stands after the part and belongs to it: "on the left", "of the rear hub", "both".
func (p *parser) afterHead(n *nounPhrase, i int) int {
	for {
		j := i
		s := p.at(j).s
		switch {
		case s == nil:
			return i
		case s.is(quant) || s.is(every):
			if p.headAt(j+1) != nil || p.modAt(j+1) {
				return i
			}
			n.every = true
			i = j + 1
			n.spans = append(n.spans, span{j, i})
			continue
		case s.is(eachSide):
			n.sides = true
			i = j + 1
			n.spans = append(n.spans, span{j, i})
			continue
		case s.is(at):
			j++
		case s.mod == 0:
			return i
		}
		in := j > i || beginsAt(p.at(j).text)
		for determiner(p.at(j).text) {
			j++
		}
		if !p.modAt(j) && (j == i || p.headAt(j) == nil) && !p.at(j).s.is(wheel) {
			return i
		}
		more, next := p.nounPhraseAt(j)
		if more == nil || more.noPlace {
			return i
		}
		switch {
		case more.head != nil && in && inside(more.head, n.head):
			n.houses = append(n.houses, more.head)
		case more.head != nil || more.other:
			return i
		case sameKind(n.mod, more.mod) || p.headAt(next) != nil || p.noPlaceAt(next) || !n.takes(more.mod):
			return i
		}
		if more.wheel {
			p.inWheel(n)
		}
		n.mod |= more.mod
		n.every = n.every || more.every
		n.sides = n.sides || more.sides
		n.spans = append(n.spans, span{i, next})
		i = next
	}
}

// takes reports that the part has such ends, sides or levels at all.
func (n *nounPhrase) takes(m mod) bool { return len(within(n.head.places, m)) > 0 }

func (p *parser) modAt(i int) bool {
	s := p.at(i).s
	return s != nil && s.mod != 0
}

func (p *parser) noPlaceAt(i int) bool {
	s := p.at(i).s
	return s != nil && s.noPlace
}

// within are the places that an end, side and level leave.
func within(places []substitution.Place, m mod) []substitution.Place {
	var out []substitution.Place
	for _, place := range places {
		if at := modOf(place); (m&ends == 0 || at&m&ends != 0) && (m&sides == 0 || at&m&sides != 0) && (m&levels == 0 || at&m&levels != 0) {
			out = append(out, place)
		}
	}
	return out
}

// modOf is where a place is, by its name.
func modOf(place substitution.Place) mod {
	var m mod
	for _, word := range strings.FieldsFunc(string(place), func(r rune) bool { return r == '.' || r == '-' }) {
		m |= mods[word]
	}
	switch place {
	case "shifter.right":
		m |= rear // it works the rear derailleur
	case "shifter.left":
		m |= front
	}
	return m
}
