package note

import (
	"slices"
	"strings"
)

// setEnd keeps the end that a noun phrase names until another is named.
func (p *parser) setEnd(n *nounPhrase) {
	m := n.mod
	if n.head != nil {
		m = p.letters(n)
	}
	switch end := m & ends; {
	case n.mod&letterF != 0 && n.head == nil:
		p.carried, p.carriedSpans = front, n.spans
	case n.mod&letterR != 0 && n.head == nil:
		p.carried, p.carriedSpans = rear, n.spans
	case both(end):
		p.carried, p.carriedSpans = 0, nil
	case end != 0 && n.head != nil && end != p.carried && n.head.family == "shifter":
		// a shifter's end is that of its derailleur, and whether it holds for a tyre is not sure
		p.carried, p.carriedSpans = 0, nil
	case end != 0:
		if end != p.carried || n.head == nil {
			p.carriedBy = n.head
			if n.noPlace {
				p.carriedBy = nowhere
			}
		}
		p.carried, p.carriedSpans = end, p.endWords(n)
	}
}

// nowhere is what an end was said with that has no place of its own: "front mudguard stay".
var nowhere = &head{}

// endWords are the words of a noun phrase that name the end.
func (p *parser) endWords(n *nounPhrase) []span {
	for _, sp := range n.spans {
		for i := sp.first; i < sp.last; i++ {
			if s := p.items[i].s; s != nil && s.mod&(ends|letterR|letterF) != 0 {
				return []span{{i, i + 1}}
			}
		}
	}
	return nil
}

// setHouse keeps what bearings named next are in.
func (p *parser) setHouse(n *nounPhrase) {
	if n.wheel && n.head == nil {
		p.setEnd(n)
		p.wheel = true
		p.house, p.houseSpans = "", nil // what is in it is not in the headset named before
		return
	}
	if n.head == nil {
		p.house, p.houseSpans = "", nil
		return
	}
	if n.head.house {
		if r, ok := p.resolve(n); ok && len(r.places) == 1 {
			p.house, p.houseSpans = r.places[0], n.spans
			return
		}
		p.house, p.houseSpans = "", nil
		return
	}
	if r, ok := p.resolve(n); ok && len(r.places) > 0 {
		house := houseOf(r.places[0])
		if house == "" || house != p.house {
			p.house, p.houseSpans = house, n.spans
		}
	}
}

// setBrake keeps that "rear brake:" stands before what is said of its parts, until a part of something else is named.
func (p *parser) setBrake(n *nounPhrase, leads bool) {
	p.gears = n.noPlace && leads && p.leads(n) && p.namesGears(n) || p.gears && n.head != nil && (n.head.family == "cable-inner" || n.head.family == "cable-outer" || n.head.family == "shifter" || strings.HasSuffix(string(n.head.family), "derailleur"))
	if n.head == nil {
		p.brake = false
		return
	}
	switch n.head.family {
	case p.l.phrase("brake").head.family:
		p.brake = leads && p.leads(n)
	case "rim-pad", "disc-pad", "disc-rotor", "cable-inner", "cable-outer":
	default:
		p.brake = false
	}
}

// leads reports that a colon stands after a part.
func (p *parser) leads(n *nounPhrase) bool {
	if len(n.spans) == 0 {
		return false
	}
	after := p.at(n.spans[len(n.spans)-1].last)
	return after.sep == colon || after.s.is(want) // "rear brake requires a new cable"
}

// namesGears reports that the gears as a whole are named.
func (p *parser) namesGears(n *nounPhrase) bool {
	switch p.at(n.spans[0].last - 1).text {
	case "gears", "gear", "gearing":
		return true
	}
	return false
}

// name remembers which part was named last.
func (p *parser) name(parts []*nounPhrase, means []resolved) {
	p.several, p.far = len(parts) > 1, false
	for i, m := range means {
		if !slices.ContainsFunc(p.pairs[1], func(had paired) bool { return slices.Equal(had.means.places, m.places) }) {
			p.pairs[1] = append(p.pairs[1], paired{parts[i], m})
		}
	}
	p.subject = parts[len(parts)-1]
	p.subjects = nil
	for _, m := range means {
		if len(m.places) == 0 {
			if len(parts) > 1 {
				p.subjects = nil
			}
			return
		}
		p.subjects, p.ofSubjects = append(p.subjects, m), parts
	}
}

// forget names nothing: what follows is said of no part that is known.
func (p *parser) forget() {
	p.subject, p.subjects = nil, nil
}
