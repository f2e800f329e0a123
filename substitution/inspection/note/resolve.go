package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// resolved are the places that a noun phrase means, with the words of an end that was said before and still holds.
type resolved struct {
	places  []substitution.Place
	carried []span
}

// resolve finds the places that a noun phrase means. Where the note and the record leave it open, there are none.
func (p *parser) resolve(n *nounPhrase) (resolved, bool) {
	if n.head == nil {
		return resolved{}, false
	}
	h, m := n.head, p.letters(n)
	if n.other && !n.again {
		at := p.otherSideOf(h)
		if at == 0 {
			return resolved{}, false
		}
		m = m&^sides | at
	}
	if h.family == "saddle" && p.childSeat && strings.HasSuffix(p.at(n.spans[0].last-1).text, "seat") {
		return resolved{}, false // the child's, or the rider's?
	}
	if h.oneForBoth() {
		m &^= sides
	}
	switch h.family {
	case "shock":
		m &^= rear // "in the rear shock": there is no other
	case "fork":
		m &^= front
	}
	switch {
	case h.cage && m&ends == 0:
		return p.cageOfMech(h)
	case n.asHub(p):
		return p.hubItself(n, m)
	}
	places := h.places
	for _, house := range n.houses {
		places = inHouse(places, house.places)
	}
	if n.system != nil {
		places = ofSystem(places, n.system)
	}
	if mates := p.mates(h, n.every); len(mates) > 0 {
		return resolved{places: mates}, true
	}
	var out resolved
	out.places = places
	p.inNamedHouse(n, m, &out)
	p.ofNamedSystem(n, &out)
	if out.places = within(out.places, m); len(out.places) == 0 {
		return out, false
	}
	p.atCarriedEnd(n, m, &out)
	if isBearing(h) && p.contradicted(out.places) {
		out.places = nil
		return out, false
	}
	var ok bool
	out.places, ok = p.choose(n, m, out.places)
	return out, ok
}

// otherSideOf is the side that "the other side cone" is at, after the one of the drive side; 0 where none was told.
func (p *parser) otherSideOf(h *head) mod {
	if p.subject == nil || p.subject.head == nil || p.subject.head.family != h.family {
		return 0
	}
	switch p.letters(p.subject) & sides {
	case left:
		return right
	case right:
		return left
	}
	return 0
}

// cageOfMech is the derailleur that was named last, of which a bare "cage" is.
func (p *parser) cageOfMech(h *head) (resolved, bool) {
	if p.subject == nil || len(p.subjects) != 1 || len(within(h.places, modOf(p.subjects[0].places[0]))) == 0 ||
		p.subject.head.family != "rear-derailleur" && p.subject.head.family != "front-derailleur" {
		return resolved{}, false
	}
	return resolved{places: p.subjects[0].places, carried: p.subject.spans}, true
}

// hubItself is the hub in which a wheel's bearings are felt.
func (p *parser) hubItself(n *nounPhrase, m mod) (resolved, bool) {
	one := *n
	one.head, one.houses = p.l.phrase("hub").head, nil
	if n.head.many {
		one.head = p.l.phrase("hubs").head
	}
	if m&ends != 0 || p.carried == 0 || n.every {
		return p.resolve(&one)
	}
	one.mod |= p.carried
	out, ok := p.resolve(&one)
	out.carried = append(out.carried, p.carriedSpans...)
	return out, ok
}

// inNamedHouse leaves of bearings those of the hub that was named before.
func (p *parser) inNamedHouse(n *nounPhrase, m mod, out *resolved) {
	if len(n.houses) > 0 || p.house == "" {
		return
	}
	in := inHouse(out.places, []substitution.Place{p.house})
	if len(in) == 0 || !severalHouses(out.places) || m&ends != 0 && len(within(in, m)) == 0 {
		return
	}
	out.places = in
	out.carried = append(out.carried, p.houseSpans...)
}

// ofNamedSystem leaves of cables those of the brake or the gears that stand before a colon.
func (p *parser) ofNamedSystem(n *nounPhrase, out *resolved) {
	h := n.head
	if h.family != "cable-inner" && h.family != "cable-outer" {
		return
	}
	without := func(kind string) {
		out.places = slices.DeleteFunc(slices.Clone(out.places), func(q substitution.Place) bool { return strings.Contains(string(q), kind) })
	}
	if p.brake {
		without(".gear-")
	}
	if p.gears {
		without(".brake-")
	}
	if of := p.besideCable(n); of != nil {
		if left := ofSystem(out.places, of); len(left) > 0 {
			out.places = left
		}
	}
}

// besideCable is the brake or the derailleur that was named last in this sentence, of which a bare "cable" is: "rear
// brake sticks, cable frayed". "Its cable" is that of the one before, in whatever sentence; a gear cable that no end is
// told of goes with the gears that were named before it.
func (p *parser) besideCable(n *nounPhrase) *head {
	its := len(n.spans) > 0 && n.spans[0].first > 0 && p.at(n.spans[0].first-1).text == "its"
	if its && p.subject != nil && len(p.subjects) == 1 {
		return worked(paired{p.subject, p.subjects[0]})
	}
	gears := !slices.ContainsFunc(n.head.places, func(q substitution.Place) bool { return !strings.Contains(string(q), ".gear-") })
	if braked := len(ofSystem(n.head.places, p.l.phrase("brake").head)); !gears && (braked == 0 || braked == len(n.head.places)) {
		return nil // it is named which
	}
	for k := len(p.pairs[1]) - 1; k >= 0; k-- {
		switch last := p.pairs[1][k]; {
		case !gears:
			return worked(last)
		case n.mod&ends != 0 || n.head.many || n.every || p.carried != 0 && p.carries(n.head.places):
			return nil
		case last.part.head == nil:
			return nil
		case last.part.head.family == "hanger":
			return last.part.head // "hanger bent, gear cable frayed": the rear one
		case last.part.head.family != "cable-inner" && last.part.head.family != "cable-outer":
			return worked(last)
		}
	}
	return nil
}

// worked is a part that a cable works, at its place; nil if none does.
func worked(of paired) *head {
	if of.part.head == nil || len(of.means.places) != 1 {
		return nil
	}
	switch of.part.head.family {
	case "brake-caliper", "rear-derailleur", "front-derailleur", "shifter":
		h := *of.part.head
		h.places = of.means.places
		return &h
	}
	return nil
}

// atCarriedEnd leaves those of the end that was said before and still holds.
func (p *parser) atCarriedEnd(n *nounPhrase, m mod, out *resolved) {
	h := n.head
	if m&ends != 0 || p.carried == 0 || n.counted == 1 || !bothEnds(out.places) || h.family == "shifter" || h.many && !severalAtAnEnd(h.places) || n.every && !(p.brake && h.set) {
		return
	}
	if at := within(out.places, p.carried); len(at) > 0 && p.carries(at) && (h.two || h.many || len(p.onRecord(at)) > 0 || len(p.onRecord(out.places)) == 0 && !p.endOfOther(h) || !equipment[h.family]) {
		out.places = at
		out.carried = append(out.carried, p.carriedSpans...)
	}
}

// equipment are the parts that a bike may have at one end only: where one is on record it is meant.
var equipment = map[substitution.Family]bool{"rack": true, "mudguard": true, "lamp": true, "peg": true}

// endOfOther reports a rack after an end that was said of another part of a bike's equipment: a bike with two mudguards has
// one rack, and not where one of them is.
func (p *parser) endOfOther(h *head) bool {
	return h.family == "rack" && p.carriedBy != nil && (p.carriedBy == nowhere || equipment[p.carriedBy.family])
}

// carries reports that the end that was said holds for these places: a gear cable has not that of a brake or a tyre.
func (p *parser) carries(places []substitution.Place) bool {
	gear := func(q substitution.Place) bool { return strings.Contains(string(q), ".gear-") }
	return p.carriedBy == nil || !slices.ContainsFunc(places, gear) || slices.ContainsFunc(p.carriedBy.places, gear)
}

// oneForBoth reports that the left and the right are one place.
func (h *head) oneForBoth() bool {
	switch h.family {
	case "pedal", "crankset", "grip", "bar-plug", "cleat", "disc-pad", "rim-pad", "peg", "axle-nut", "handlebar":
		return true
	}
	return false
}

// asHub reports that a wheel's bearings are none on record: what is felt in them is felt in the hub.
func (n *nounPhrase) asHub(p *parser) bool {
	return n.inHub && n.mod&sides == 0 && n.head.family == "cartridge-bearing" && len(p.onRecord(inHouse(n.head.places, p.l.phrase("hub").head.places))) == 0
}

// mates are the housings of cables that were named right before: "front brake cable and housing".
func (p *parser) mates(h *head, every bool) []substitution.Place {
	if h.family != "cable-outer" || len(h.places) < 4 || h.many && len(p.named) == 1 && !every {
		return nil
	}
	var out []substitution.Place
	for _, place := range p.named {
		cable, ok := strings.CutSuffix(string(place), "-cable")
		if !ok {
			return nil
		}
		out = append(out, substitution.Place(cable+"-housing"))
	}
	if len(out) == 1 && every {
		_, kind, _ := strings.Cut(string(out[0]), ".")
		return []substitution.Place{substitution.Place("front." + kind), substitution.Place("rear." + kind)} // "both outers"
	}
	return out
}

// endsSettled reports that the end was settled by what was said before.
func (p *parser) endsSettled(n *nounPhrase, places []substitution.Place) bool {
	return !bothEnds(places) && bothEnds(n.head.places)
}

// letters reads a single R, L or F by what the part has: a brake cable has ends, a shifter sides.
func (p *parser) letters(n *nounPhrase) mod {
	m := n.mod
	hasEnds := bothEnds(n.head.places)
	if m&letterF != 0 {
		m |= front
	}
	if m&letterL != 0 {
		m |= left
	}
	if m&letterR != 0 {
		if hasEnds {
			m |= rear
		} else {
			m |= right
		}
	}
	return m &^ (letterF | letterL | letterR)
}
