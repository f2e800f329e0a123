package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// keepAll keeps a statement of those of its parts that are settled.
func (p *parser) keepAll(st *statement) {
	if len(st.parts) > 1 && slices.ContainsFunc(st.says, p.namedByFamily) {
		for i := range st.parts {
			one := *st
			one.parts, one.means = st.parts[i:i+1], st.means[i:i+1]
			p.keepAll(&one)
		}
		return
	}
	one := *st
	one.parts, one.means = nil, nil
	for i, n := range st.parts {
		if !n.noPlace && !n.wheel && len(st.means[i].places) > 0 {
			one.parts, one.means = append(one.parts, n), append(one.means, st.means[i])
		}
	}
	if len(one.parts) == 0 {
		return
	}
	*st = one
	p.keep(st)
}

// namedByFamily reports that what is said is called otherwise of another family: a rotor runs out, a fork is cracked.
func (p *parser) namedByFamily(pr *predicate) bool {
	return pr.bend || pr.straight || len(pr.readings) == 1 && pr.readings[0].name == "damaged" && p.ofCracks(pr)
}

// ofCracks reports that the damage is a crack.
func (p *parser) ofCracks(pr *predicate) bool {
	for _, sp := range pr.spans {
		for i := sp.first; i < sp.last; i++ {
			if strings.Contains(p.at(i).text, "crack") {
				return true
			}
		}
	}
	return false
}

// keep adds a statement, without what its parts cannot have.
func (p *parser) keep(st *statement) {
	var says []*predicate
	for _, pr := range st.says {
		if fit := p.fitting(st, pr); fit != nil && !(st.copied && p.onRimBrake(st.means)) {
			says = append(says, fit)
		} else if of := p.houseFor(st, pr); of != nil {
			p.statements = append(p.statements, of)
		}
	}
	for _, m := range st.means {
		if len(m.places) == 0 {
			return
		}
	}
	if len(says) == 0 {
		return
	}
	st.says, p.spared = says, ""
	p.statements = append(p.statements, st)
	p.last = st
}

// onRimBrake reports that the record has a rim brake's pads, and no disc brake's, where a rotor or such pads are said to be.
func (p *parser) onRimBrake(means []resolved) bool {
	return slices.ContainsFunc(placesIn(means), func(q substitution.Place) bool {
		end, rest, _ := strings.Cut(string(q), ".")
		has := func(part string) bool { _, ok := p.record[substitution.Place(end+part)]; return ok }
		return (rest == "rotor" || rest == "pads") && has(".rim-pads") && !has(".rotor") && !has(".pads")
	})
}

// houseFor says of a house that this sentence named what the part in it cannot have: "fork: seals weeping, travel short".
func (p *parser) houseFor(st *statement, pr *predicate) *statement {
	if len(pr.readings) == 0 || pr.action != "" || pr.balls || st.copied || len(st.means) != 1 || severalHouses(st.means[0].places) {
		return nil
	}
	house := houseOf(st.means[0].places[0])
	if n := p.houseNamed(); n != nil && house == p.house && st.parts[0].head.isPiece() && len(st.parts[0].before)+len(st.says) > 1 {
		of := &statement{parts: []*nounPhrase{n}, means: []resolved{{places: []substitution.Place{house}}}}
		if fit := p.fitting(of, pr); fit != nil {
			of.says = []*predicate{fit}
			return of
		}
	}
	for _, had := range p.pairs[1] {
		if house != "" && len(st.means[0].places) == 1 && slices.Equal(had.means.places, []substitution.Place{house}) {
			of := &statement{parts: []*nounPhrase{had.part}, means: []resolved{had.means}}
			if fit := p.fitting(of, pr); fit != nil {
				of.says = []*predicate{fit}
				return of
			}
		}
	}
	return nil
}
