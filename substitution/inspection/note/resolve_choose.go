package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// choose settles which of several places are meant.
func (p *parser) choose(n *nounPhrase, m mod, places []substitution.Place) ([]substitution.Place, bool) {
	h := n.head
	places, ok := p.ofOneKind(h, places)
	if !ok {
		return nil, false
	}
	recorded := p.onRecord(places)
	if one := p.hubShifter(h, m, recorded); len(one) > 0 {
		return one, true
	}
	switch {
	case len(places) == 1:
		return places, len(recorded) == 1 || len(h.places) > 1 || !h.record
	case n.counted > 0:
		return p.asCounted(n, places, recorded)
	case isBearing(h) && len(recorded) == 0:
		if places = inOneHouse(n, places); len(places) == 0 {
			return nil, false // "balls in each race", of what?
		}
	}
	switch {
	case n.every || n.sides || both(m&ends) || both(m&sides) || both(m&levels):
		return eachOf(n, m, places, recorded)
	case h.many || h.set:
		return p.allOf(n, m, places, recorded)
	case len(recorded) == 1 && !h.two:
		return recorded, true
	}
	return nil, false
}

// hubShifter is the shifter of a hub gear, where it is the only one on record.
func (p *parser) hubShifter(h *head, m mod, recorded []substitution.Place) []substitution.Place {
	if h.family != "shifter" || h.many || m&sides != 0 || len(recorded) > 0 {
		return nil
	}
	return p.onRecord([]substitution.Place{"shifter.hub"})
}

// ofOneKind leaves those on record where a word is for parts of several families.
func (p *parser) ofOneKind(h *head, places []substitution.Place) ([]substitution.Place, bool) {
	if len(families(places)) < 2 || !twoFamiliesAtOneEnd(places) && h.many {
		return places, true
	}
	recorded := p.onRecord(places)
	return recorded, len(recorded) > 0 && (len(families(recorded)) == 1 || h.set) && !twoFamiliesAtOneEnd(recorded)
}

// asCounted are as many as were counted: "both of the two tyres", "all three rings".
func (p *parser) asCounted(n *nounPhrase, places, recorded []substitution.Place) ([]substitution.Place, bool) {
	if n.counted == len(recorded) {
		places = recorded
	}
	if n.head.set && n.counted == 2*len(places) {
		return places, len(families(places)) == 1 // "all four blocks"
	}
	sure := n.head.two || n.every || len(n.houses) > 0 || len(recorded) == len(places)
	return places, sure && n.counted == len(places) && len(families(places)) == 1
}

// eachOf are those of which both ends, sides or levels are told, or "both" and "each".
func eachOf(n *nounPhrase, m mod, places, recorded []substitution.Place) ([]substitution.Place, bool) {
	h := n.head
	switch {
	case n.every && !n.sides && len(places) > 2 && (!h.many && !h.set && len(recorded) < 2 || len(recorded) == 0 && !both(m&ends)):
		return nil, false // "both rings", where none is on record
	case both(m&ends) && len(recorded) > 0 && !bothEnds(recorded) && h.record:
		return nil, false // said of both ends, and the record knows one
	case len(recorded) > 0 && len(recorded) < len(places) && len(places) > 2:
		return recorded, true
	}
	return places, true
}

// allOf are those that a plural means: all on record, or both ends of what every bike has two of.
func (p *parser) allOf(n *nounPhrase, m mod, places, recorded []substitution.Place) ([]substitution.Place, bool) {
	h := n.head
	switch {
	case isBearing(h) && len(n.houses) == 0 && len(recorded) > 0 && !oneKindOfHouse(recorded):
		return nil, false // of the hub, or of the headset?
	case h.two && !(equipment[h.family] && len(recorded) > 0):
		return places, true
	case len(recorded) > 0:
		return recorded, true
	case h.record:
		return nil, false
	case !bothEnds(places) && len(n.houses)+int(m&ends) > 0 || p.endsSettled(n, places):
		return places, true
	}
	return nil, false
}

// ofSystem are those of the places that are a part of a brake, or of the gears that a derailleur makes: "the cable of the
// rear brake".
func ofSystem(places []substitution.Place, h *head) []substitution.Place {
	brake := h.family == "brake-caliper"
	return slices.DeleteFunc(slices.Clone(places), func(p substitution.Place) bool {
		switch _, rest, _ := strings.Cut(string(p), "."); {
		case strings.HasPrefix(rest, "gear-"):
			return brake || len(within(h.places, modOf(p)&ends)) == 0
		case strings.HasPrefix(rest, "brake-"), rest == "pads", rest == "rim-pads", rest == "rotor", rest == "lever":
			return !brake
		}
		return true
	})
}

// inOneHouse are the places of bearings if all are in hubs, or all in a headset; none if that is open. "A side" is said
// of what has a left and a right.
func inOneHouse(n *nounPhrase, places []substitution.Place) []substitution.Place {
	if n.sides && !oneKindOfHouse(places) {
		places = slices.DeleteFunc(slices.Clone(places), func(p substitution.Place) bool { return modOf(p)&sides == 0 })
	}
	if !oneKindOfHouse(places) {
		return nil
	}
	return places
}
