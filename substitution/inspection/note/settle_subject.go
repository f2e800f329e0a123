package note

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// placesOf counts the places that parts mean.
func placesOf(means []resolved) int { return len(placesIn(means)) }

// ofSubject settles what is said without naming a part: of the part that was named last.
func (p *parser) ofSubject(u *unit, says []*predicate, whole bool) {
	switch {
	case u.elided == isNot:
		p.withdraw() // "saddle torn, no it isn't"
		p.understood(u.marks)
		return
	case u.correct:
		p.correctSubject(u, says, whole)
		return
	case p.far && !u.pronoun && !p.inIt(says):
		return // "he says the tyre is cut. Good to go."
	}
	if n, m, ok := p.opened(u, says); ok {
		p.keep(&statement{parts: []*nounPhrase{n}, means: []resolved{m}, says: says, marks: u.marks})
		return
	}
	if len(says) == 0 || !p.isSubjectOf(u) || p.ballsOfOther(u, says) {
		return
	}
	if p.corrects && p.last != nil && sameMeaning(p.last.means, p.subjects) && !slices.ContainsFunc(says, func(pr *predicate) bool { return !pr.negated }) {
		p.denied(says) // "frayed and stiff, no, only frayed, it isn't stiff"
	}
	st := &statement{parts: p.ofSubjects[:len(p.subjects)], means: p.subjects, says: says, marks: u.marks}
	if p.last != nil && sameMeaning(p.last.means, p.subjects) {
		if p.last.copied && (u.but || anyKeep(says)) {
			p.overrule(says)
		}
		if u.pronoun {
			p.otherWords(says)
		}
		st.parts = p.last.parts
	}
	p.keep(st)
}

// denied takes back of the part that was named last what is denied of it now.
func (p *parser) denied(says []*predicate) {
	for _, st := range p.statements {
		if sameMeaning(st.means, p.subjects) {
			st.says = slices.DeleteFunc(slices.Clone(st.says), func(old *predicate) bool {
				return !old.negated && slices.ContainsFunc(says, func(pr *predicate) bool { return alike(old, pr) })
			})
		}
	}
}

// isSubjectOf reports that the part that was named last is what is spoken of: of several, which of them "it" is, is not
// said.
func (p *parser) isSubjectOf(u *unit) bool {
	one := !p.several && !(u.pronoun && placesOf(p.subjects) > 1)
	return p.subject != nil && len(p.subjects) > 0 && (one || u.many)
}

// ballsOfOther reports that balls are told of, and the part that was named last has none inside.
func (p *parser) ballsOfOther(u *unit, says []*predicate) bool {
	return !u.pronoun && p.subject.head != nil && !p.subject.head.house && slices.ContainsFunc(says, func(pr *predicate) bool { return pr.balls })
}

// inIt reports that what is said ends with "in it" or the like: "she says it's loose. No play in it."
func (p *parser) inIt(says []*predicate) bool {
	if len(says) == 0 {
		return false
	}
	spans := says[len(says)-1].spans
	after := spans[len(spans)-1].last
	for _, text := range []string{p.at(after).text, p.at(after - 1).text} {
		if text != "it" && (strings.HasSuffix(text, " it") || strings.HasSuffix(text, " them")) {
			return true
		}
	}
	return false
}

// correctSubject corrects what was said of the part that was named last, or says it of that part where something else was
// spoken of in between.
func (p *parser) correctSubject(u *unit, says []*predicate, whole bool) {
	switch {
	case !whole || len(says) == 0:
		p.handBack()
	case len(p.subjects) > 0 && (p.last == nil || !sameMeaning(p.last.means, p.subjects)) && !p.several:
		p.keep(&statement{parts: []*nounPhrase{p.subject}, means: p.subjects, says: says, marks: u.marks})
	case p.last == nil || placesOf(p.last.means) < 2 || !p.ofOne(u, says):
		p.correctSays(says, u.marks)
	default:
		p.handBack()
	}
}

// ofOne reports that something is said of "it", one thing.
func (p *parser) ofOne(u *unit, says []*predicate) bool {
	return u.pronoun && !u.many || len(says[0].spans) > 0 && strings.HasPrefix(p.at(says[0].spans[0].first).text, "it ")
}

// inPieces reports that what was named last is a small piece of a hub, which nobody cleans by itself.
func (p *parser) inPieces() bool {
	return p.subject != nil && p.subject.head.isPiece()
}

// isPiece reports a small piece of a hub, which nobody cleans by itself.
func (h *head) isPiece() bool {
	if h == nil {
		return false
	}
	switch h.family {
	case "axle", "hub-cone", "loose-balls", "ball-cage":
		return true
	}
	return false
}

// opened is the hub that "overhaul it" means after its cones and axle were spoken of: they are not overhauled one by one.
func (p *parser) opened(u *unit, says []*predicate) (*nounPhrase, resolved, bool) {
	if u.many || len(says) == 0 || !u.pronoun && !p.inPieces() && !strings.HasSuffix(p.at(says[0].spans[0].last-1).text, " it") || p.house == "" || len(p.subjects) != 1 || len(p.subjects[0].places) == 0 || houseOf(p.subjects[0].places[0]) != p.house {
		return nil, resolved{}, false
	}
	if slices.ContainsFunc(says, func(pr *predicate) bool { return pr.action != inspection.Clean }) {
		return nil, resolved{}, false
	}
	n := p.houseNamed()
	return n, resolved{places: []substitution.Place{p.house}}, n != nil
}

// houseNamed is the hub, headset or bottom bracket of which was spoken, as it was named; nil if none was.
func (p *parser) houseNamed() *nounPhrase {
	site, err := substitution.SiteOf(p.house)
	if err != nil {
		return nil
	}
	word := map[substitution.Family]string{"hub": "hub", "headset": "headset", "bottom-bracket": "bottom bracket", "freehub-body": "freehub"}[site.Family]
	if word == "" {
		return nil
	}
	return &nounPhrase{head: p.l.phrase(word).head, spans: p.houseSpans, mod: modOf(p.house)}
}
