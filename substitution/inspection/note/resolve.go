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
	if h.family == "pedal" || h.family == "crankset" {
		m &^= sides // one place for both
	}
	places := h.places
	if h.cage && m&ends == 0 {
		if p.subject == nil || len(p.subjects) != 1 || len(within(places, modOf(p.subjects[0].places[0]))) == 0 || p.subject.head.family != "rear-derailleur" && p.subject.head.family != "front-derailleur" {
			return resolved{}, false
		}
		return resolved{places: p.subjects[0].places, carried: p.subject.spans}, true
	}
	for _, house := range n.houses {
		places = inHouse(places, house.places)
	}
	var out resolved
	if n.asHub(p) {
		if h.many {
			h = p.l.phrase("hubs").head
		} else {
			h = p.l.phrase("hub").head
		}
		one := *n
		one.head, one.houses = h, nil
		if m&ends != 0 || p.carried == 0 || n.every {
			return p.resolve(&one)
		}
		one.mod |= p.carried
		out, ok := p.resolve(&one)
		out.carried = append(out.carried, p.carriedSpans...)
		return out, ok
	}
	if mates := p.mates(h); len(mates) > 0 {
		return resolved{places: mates}, true
	}
	if len(n.houses) == 0 && p.house != "" {
		if in := inHouse(places, []substitution.Place{p.house}); len(in) > 0 && severalHouses(places) {
			if m&ends == 0 || len(within(in, m)) > 0 {
				places = in
				out.carried = append(out.carried, p.houseSpans...)
			}
		}
	}
	if p.brake && (h.family == "cable-inner" || h.family == "cable-outer") {
		places = slices.DeleteFunc(slices.Clone(places), func(q substitution.Place) bool { return strings.Contains(string(q), ".gear-") })
	}
	if places = within(places, m); len(places) == 0 {
		return out, false
	}
	if m&ends == 0 && p.carried != 0 && bothEnds(places) && h.family != "shifter" && (!h.many || severalAtAnEnd(places)) && !n.every {
		if at := within(places, p.carried); len(at) > 0 {
			places = at
			out.carried = append(out.carried, p.carriedSpans...)
		}
	}
	if slices.Contains(bearingKinds, h.family) {
		if p.contradicted(places) {
			return out, false
		}
	}
	var ok bool
	out.places, ok = p.choose(n, m, places)
	return out, ok
}

// asHub reports that a wheel's bearings are none on record: what is felt in them is felt in the hub.
func (n *nounPhrase) asHub(p *parser) bool {
	return n.inHub && n.head.family == "cartridge-bearing" && len(p.onRecord(inHouse(n.head.places, p.l.phrase("hub").head.places))) == 0
}

// choose settles which of several places are meant.
func (p *parser) choose(n *nounPhrase, m mod, places []substitution.Place) ([]substitution.Place, bool) {
	h := n.head
	recorded := p.onRecord(places)
	if len(families(places)) > 1 {
		if len(recorded) == 0 || len(families(recorded)) > 1 && !h.set {
			return nil, false
		}
		places = recorded
		if twoFamiliesAtOneEnd(places) {
			return nil, false
		}
	}
	if len(places) == 1 {
		return places, true
	}
	if n.counted {
		return nil, false
	}
	if isBearing(h) && len(recorded) == 0 {
		if places = inOneHouse(n, places); len(places) == 0 {
			return nil, false // "balls in each race", of what?
		}
	}
	told := n.every || n.sides || both(m&ends) || both(m&sides) || both(m&levels)
	switch {
	case told && len(families(places)) == 1:
		if n.every && !n.sides && len(places) > 2 && !h.many && !h.set {
			return nil, false
		}
		if both(m&ends) && len(recorded) > 0 && !bothEnds(recorded) && h.record {
			return nil, false // said of both ends, and the record knows one
		}
		if len(recorded) > 0 && len(recorded) < len(places) && len(places) > 2 {
			return recorded, true
		}
		return places, true
	case h.many || h.set:
		if len(recorded) > 0 {
			if h.two {
				return places, true
			}
			return recorded, true
		}
		if h.two {
			return places, true
		}
		if !h.record && !bothEnds(places) && len(n.houses)+int(m&ends) > 0 || !h.record && p.endsSettled(n, places) {
			return places, true
		}
		return nil, false
	case len(recorded) == 1 && !h.two:
		return recorded, true
	}
	return nil, false
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

// oneKindOfHouse reports that bearings are all in hubs, all in a freehub, a headset or a bottom bracket.
func oneKindOfHouse(places []substitution.Place) bool {
	kind := func(p substitution.Place) string {
		house := string(houseOf(p))
		return house[strings.LastIndexByte(house, '.')+1:]
	}
	return !slices.ContainsFunc(places, func(p substitution.Place) bool { return kind(p) != kind(places[0]) })
}

// mates are the housings of cables that were named right before: "front brake cable and housing".
func (p *parser) mates(h *head) []substitution.Place {
	if h.family != "cable-outer" || len(h.places) < 4 {
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
	return out
}

// endsSettled reports that the end was settled by what was said before.
func (p *parser) endsSettled(n *nounPhrase, places []substitution.Place) bool {
	return !bothEnds(places) && bothEnds(n.head.places)
}

func both(m mod) bool { return m&(m-1) != 0 }

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

func inHouse(places, houses []substitution.Place) []substitution.Place {
	var out []substitution.Place
	for _, p := range places {
		for _, h := range houses {
			if strings.HasPrefix(string(p), string(h)+".") {
				out = append(out, p)
				break
			}
		}
	}
	return out
}

// houseOf is the place that another sits in.
func houseOf(p substitution.Place) substitution.Place {
	i := strings.LastIndexByte(string(p), '.')
	if i < 0 {
		return ""
	}
	if house := p[:i]; isHouse(house) && house != "front" && house != "rear" {
		return house
	}
	return ""
}

func severalHouses(places []substitution.Place) bool {
	for _, p := range places {
		if houseOf(p) != houseOf(places[0]) {
			return true
		}
	}
	return false
}

func bothEnds(places []substitution.Place) bool {
	return len(within(places, front)) > 0 && len(within(places, rear)) > 0
}

// severalAtAnEnd reports that a wheel has more than one: cones, spokes, the kinds of pads.
func severalAtAnEnd(places []substitution.Place) bool {
	return len(within(places, front)) > 1 || len(within(places, rear)) > 1
}

func families(places []substitution.Place) []substitution.Family {
	var out []substitution.Family
	for _, p := range places {
		if site, err := substitution.SiteOf(p); err == nil && !slices.Contains(out, site.Family) {
			out = append(out, site.Family)
		}
	}
	return out
}

func twoFamiliesAtOneEnd(places []substitution.Place) bool {
	return len(families(within(places, front))) > 1 || len(families(within(places, rear))) > 1 || !bothEnds(places) && len(families(places)) > 1
}

// onRecord are the places at which the record has something. A rotor says that the pads there are a disc brake's.
func (p *parser) onRecord(places []substitution.Place) []substitution.Place {
	var out []substitution.Place
	for _, place := range places {
		if _, known := p.record[place]; known {
			out = append(out, place)
		}
	}
	if len(out) == 0 {
		for _, place := range places {
			end, rest, _ := strings.Cut(string(place), ".")
			if _, disc := p.record[substitution.Place(end+".rotor")]; disc && rest == "pads" {
				out = append(out, place)
			}
		}
	}
	return out
}

// bearingKinds are the families of which a house has one only.
var bearingKinds = []substitution.Family{"loose-balls", "ball-cage", "cartridge-bearing", "headset-bearing"}

// contradicted reports that the record has bearings of another kind where these are said to be, and none of these.
func (p *parser) contradicted(places []substitution.Place) bool {
	if len(p.onRecord(places)) > 0 {
		return false
	}
	for _, place := range places {
		house := houseOf(place)
		if house == "" {
			continue
		}
		mine, _ := substitution.SiteOf(place)
		if !slices.Contains(bearingKinds, mine.Family) {
			continue
		}
		for there := range p.record {
			site, err := substitution.SiteOf(there)
			if err == nil && houseOf(there) == house && site.Family != mine.Family && slices.Contains(bearingKinds, site.Family) {
				return true
			}
		}
	}
	return false
}
