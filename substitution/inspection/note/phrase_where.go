package note

import (
	"strings"

	"stead/substitution"
)

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
		next := p.belonging(n, i)
		if next == i {
			return i
		}
		n.spans = append(n.spans, span{i, next})
		i = next
	}
}

// belonging reads one thing of it, and gives the item after it; i where nothing there belongs to the part.
func (p *parser) belonging(n *nounPhrase, i int) int {
	switch s := p.at(i).s; {
	case s == nil:
		return p.times(n, i)
	case s.is(quant), s.is(every):
		if p.headAt(i+1) != nil || p.modAt(i+1) {
			return i
		}
		n.every = n.every || n.head.many || n.head.set // "tyre, tube and rim all fine" is each of the list
		n.lists = !n.every
		return i + 1
	case s.is(eachSide):
		n.sides = true
		return i + 1
	case s.is(at), s.mod != 0:
		return p.whereIs(n, i)
	}
	return i
}

// times reads "mudguards x2".
func (p *parser) times(n *nounPhrase, i int) int {
	if count := p.at(i + 1); p.at(i).text == "x" && count.figure && count.glued && count.value <= mostCounted && n.head.many {
		n.counted = int(count.value)
		return i + 2
	}
	return i
}

// mostCounted is how many of a part may be counted.
const mostCounted = 12

// whereIs reads where a part is, or what it is a part of: "on the left", "of the rear hub", "of the front brake".
func (p *parser) whereIs(n *nounPhrase, i int) int {
	j := i
	if p.at(j).s.is(at) {
		j++
	}
	in := j > i || beginsAt(p.at(j).text)
	for determiner(p.at(j).text) {
		j++
	}
	if !p.mayBeWhere(j, j > i) {
		return i
	}
	more, next := p.nounPhraseAt(j)
	switch {
	case more == nil || more.noPlace:
		return i
	case more.head != nil && in && inside(more.head, n.head):
		n.houses = append(n.houses, more.head)
		p.isAt(n, more)
	case more.head != nil && in && n.head.cage && strings.HasSuffix(string(more.head.family), "derailleur"):
		n.mod |= more.mod & ends
		if len(more.head.places) == 1 {
			n.mod |= modOf(more.head.places[0])
		}
	case more.head != nil && in && len(ofSystem(n.head.places, more.head)) > 0:
		n.isOf(more)
	case more.head != nil || more.other:
		return i
	case sameKind(n.mod, more.mod) || p.headAt(next) != nil && !p.sidesOfThis(n, more, next) || p.noPlaceAt(next) || !n.takes(more.mod):
		return i
	default:
		p.isAt(n, more)
	}
	return next
}

// sidesOfThis reports that a side that stands between two parts is of the first, for the other has none: "spokes drive
// side hub".
func (p *parser) sidesOfThis(n, more *nounPhrase, next int) bool {
	return more.mod&^sides == 0 && len(within(n.head.places, sides)) > 0 && len(within(p.headAt(next).places, sides)) == 0 && len(p.inSides(next)) == 0
}

// mayBeWhere reports that item j may begin what says where a part is: an end, a wheel, or, after a word such as "of", a
// part.
func (p *parser) mayBeWhere(j int, led bool) bool {
	s := p.at(j).s
	return p.modAt(j) || s.is(wheel) || led && (p.headAt(j) != nil || s.is(quant) && p.headAt(j+1) != nil) // "for both brakes"
}

// isOf takes the brake or the derailleur that a cable is of, and its end.
func (n *nounPhrase) isOf(more *nounPhrase) {
	n.system = more.head
	n.mod |= more.mod & ends
	n.every = n.every || more.every
}

// isAt takes the end, the side and the wheel that are said of a part after it.
func (p *parser) isAt(n, more *nounPhrase) {
	if more.wheel {
		p.inWheel(n)
	}
	n.mod |= more.mod
	n.every = n.every || more.every
	n.sides = n.sides || more.sides
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
