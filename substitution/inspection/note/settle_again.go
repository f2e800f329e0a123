package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// again is the part that was named last, where a shorter word for it is said: "big ring hooked, replace the ring".
func (p *parser) again(n *nounPhrase) (resolved, bool) {
	if p.far || n.head == nil || n.head.many || n.mod != 0 || n.every || n.sides || n.counted > 0 || n.system != nil || len(n.houses) > 0 || len(p.subjects) != 1 || len(p.subjects[0].places) != 1 ||
		!slices.Contains(n.head.places, p.subjects[0].places[0]) {
		return resolved{}, false
	}
	return resolved{places: p.subjects[0].places, carried: p.subject.spans}, true
}

// complete gives a bare "the rear one" the part that was named last.
func (p *parser) complete(n *nounPhrase) *nounPhrase {
	if p.subject == nil || p.subject.head == nil || p.far && !n.ones && !p.answersFor(n) || p.tooMany(n) {
		return nil
	}
	full := *n
	full.again = true
	full.head, full.houses = p.subject.head, p.subject.houses
	full.mod = p.subject.mod
	if n.other {
		at := p.subject.mod & sides
		if at != left && at != right {
			return nil
		}
		full.mod = full.mod&^sides | (sides &^ at)
	}
	if n.all && n.mod&ends != 0 {
		full.mod &^= sides // "front all fine"
	}
	if n.all && full.mod&ends == 0 {
		full.mod |= p.subjectsEnd() // of a rear hub's balls: "left all fine"
	}
	for _, kind := range []mod{ends | letterR | letterF, sides, levels} {
		if n.mod&kind != 0 {
			full.mod = full.mod&^kind | n.mod&kind
		}
	}
	if len(full.houses) == 0 && p.subjectInHub() {
		full.houses = []*head{p.l.phrase("hub").head} // the other hub's, not the freehub's beside it
	}
	if full.head.family == "chainring" && n.mod&levels != 0 {
		full.head = p.l.phrase("rings").head
	}
	if full.head = p.headAtEnd(&full); full.head == nil {
		return nil
	}
	if n.sides {
		full.mod &^= sides
	}
	return &full
}

// subjectsEnd is the end at which all places of the part that was named last are; 0 where they are at both, or at none.
func (p *parser) subjectsEnd() mod {
	at := mod(0)
	for _, m := range p.subjects {
		for _, place := range m.places {
			at |= modOf(place) & ends
		}
	}
	if at == ends {
		return 0
	}
	return at
}

// headAtEnd is the part at the end that is told, where one of the same family has a place there; nil if none has.
func (p *parser) headAtEnd(n *nounPhrase) *head {
	at := p.letters(n)
	if n.head.oneForBoth() {
		at &^= sides
	}
	if len(within(n.head.places, at)) > 0 {
		return n.head
	}
	return otherEnd(n.head, at)
}

// subjectInHub reports that the part that was named last sits in a hub.
func (p *parser) subjectInHub() bool {
	return len(p.subjects) > 0 && len(p.subjects[0].places) > 0 && slices.Contains(p.l.phrase("hub").head.places, houseOf(p.subjects[0].places[0]))
}

// answersFor reports that a bare end goes back to the part that another spoke of: "she says the brakes squeal. Front is
// fine."
func (p *parser) answersFor(n *nounPhrase) bool {
	if !p.told || n.mod&ends == 0 || n.every || len(n.spans) == 0 || !bothEnds(p.subject.head.places) {
		return false
	}
	first := n.spans[0].first
	before := p.at(first - 1)
	return !beginsAt(p.at(first).text) && (first == 0 || before.sep > joint || before.s.is(and) || before.s.is(but))
}

// asArms makes "each crank arm" and "the left one" of the cranks what they are: an arm has its own place, the cranks
// together another.
func (p *parser) asArms(n *nounPhrase) *nounPhrase {
	arm := p.l.phrase("crank arm").head
	if n.head == nil || n.head.family != "crankset" {
		return n
	}
	recorded := p.namesArms(n) && len(p.onRecord(arm.places)) == len(arm.places) && len(p.onRecord(n.head.places)) == 0
	if n.mod&sides == 0 && !n.sides && !(n.every && p.namesArms(n)) && !recorded {
		return n
	}
	one := *n
	one.head, one.every = arm, n.every || recorded && n.mod&sides == 0
	return &one
}

// namesArms reports that the arms are named: "crank arms".
func (p *parser) namesArms(n *nounPhrase) bool {
	return slices.ContainsFunc(n.spans, func(sp span) bool {
		for i := sp.first; i < sp.last; i++ {
			if strings.HasSuffix(p.at(i).text, "arms") {
				return true
			}
		}
		return false
	})
}

// otherEnd is the part at the other end of the bike, where one of the same family has a place there: "rear lamp dim,
// front bright".
func otherEnd(h *head, at mod) *head {
	other := *h
	other.places = nil
	for _, q := range h.places {
		end, rest, _ := strings.Cut(string(q), ".")
		turned := map[string]string{"front": "rear.", "rear": "front."}[end] + rest
		if site, err := substitution.SiteOf(substitution.Place(turned)); err == nil && site.Family == h.family && turned != rest {
			other.places = append(other.places, site.Place)
		}
	}
	if len(within(other.places, at)) == 0 {
		return nil
	}
	return &other
}

// tooMany reports that it is open which of several parts a bare phrase goes back to.
func (p *parser) tooMany(n *nounPhrase) bool {
	paired := len(p.pairs[1]) > 0
	switch {
	case n.every && n.mod == 0 && !p.subject.head.many:
		h := p.subject.head
		return len(p.subjects) != 1 || len(p.subjects[0].places) < 2 && !h.set && !h.oneForBoth() || n.all && !paired
	case n.mod&ends != 0 && paired && !n.ones && !p.subject.head.many && !p.subject.head.set:
		return p.kindsAtEnd(p.subject.mod&ends|p.carried) > 1 // "the back tyre's cut and the tube's gone, front is fine"
	case n.mod&ends != 0:
		return !paired && p.kindsWithEnds() > 1 // "front pads 0.6, front rotor 1.6. Fronts want replacing": which of them?
	}
	return n.all && n.mod == 0 && !paired // "all fine" is said of the bike
}

// kindsAtEnd counts the kinds of part at an end that this sentence has named.
func (p *parser) kindsAtEnd(end mod) int {
	var kinds []substitution.Family
	for _, q := range p.pairs[1] {
		h := q.part.head
		if h != nil && bothEnds(h.places) && !slices.Contains(kinds, h.family) && len(q.means.places) > 0 && len(within(q.means.places, end)) == len(q.means.places) {
			kinds = append(kinds, h.family)
		}
	}
	return len(kinds)
}

// kindsWithEnds counts the kinds of part that the sentence before this one names and that a bike has at both ends.
func (p *parser) kindsWithEnds() int {
	var kinds []substitution.Family
	for _, q := range p.pairs[0] {
		if h := q.part.head; h != nil && bothEnds(h.places) && !slices.Contains(kinds, h.family) && len(q.means.places) > 0 {
			kinds = append(kinds, h.family)
		}
	}
	return len(kinds)
}

// ballsAt gives "the left lot" the balls of a hub or headset that were counted last, and makes what is said be of them.
func (p *parser) ballsAt(n *nounPhrase, says []*predicate) *nounPhrase {
	if p.last == nil || n.mod&(sides|levels) == 0 || n.mod&ends != 0 || len(says) == 0 || len(p.last.parts) != 1 || len(p.last.says) == 0 || !p.last.says[len(p.last.says)-1].balls {
		return nil
	}
	of := *p.last.parts[0]
	of.balls, of.sides, of.before, of.again = n.mod, false, nil, true
	of.spans = append(slices.Clone(of.spans), n.spans...)
	for _, pr := range says {
		if pr.action == "" && (len(pr.readings) != 1 || pr.readings[0].name != "pitted") {
			return nil
		}
	}
	for _, pr := range says {
		pr.balls = true
	}
	return &of
}
