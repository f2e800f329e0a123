package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// onRecord are the places at which the record has something. A rotor says that the pads there are a disc brake's,
// and such pads that there is a rotor.
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
			other := map[string]string{"pads": ".rotor", "rotor": ".pads"}[rest]
			if _, disc := p.record[substitution.Place(end+other)]; disc && other != "" {
				out = append(out, place)
			}
		}
	}
	return out
}

// kindOf is the family of a part; where the word is for several, that which is on record.
func (p *parser) kindOf(h *head) substitution.Family {
	if recorded := families(p.onRecord(h.places)); len(recorded) == 1 {
		return recorded[0]
	}
	return h.family
}

// familyOf is the family of a part as it is named: that of the end that is told, where the ends have parts of two families.
func (p *parser) familyOf(n *nounPhrase) substitution.Family {
	if at := within(n.head.places, n.mod&ends); n.mod&ends != 0 && len(families(n.head.places)) > 1 && len(families(at)) == 1 {
		return families(at)[0]
	}
	return p.kindOf(n.head)
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
