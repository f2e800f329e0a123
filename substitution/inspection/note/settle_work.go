package note

import (
	"slices"
	"strings"

	"stead/substitution/inspection"
)

// asWorked is the part on which the work is done that is said of another: a wheel is trued at its rim, and a brake is bled at
// its lever, for that is where the work of each stands.
func (s *settling) asWorked(n *nounPhrase) *nounPhrase {
	switch {
	case n.wheel && n.head == nil && !n.noPlace && s.isDone("tru", "straighten"):
		return n.turnedTo(s.l.phrase("rims").head, s.manyAt(n))
	case n.head != nil && n.head.family == "brake-caliper" && s.isDone("ble"):
		return n.turnedTo(s.l.phrase("brake levers").head, n.head.many)
	}
	return n
}

// turnedTo is the phrase as though it named another part.
func (n *nounPhrase) turnedTo(h *head, many bool) *nounPhrase {
	one, as := *n, *h
	as.many, as.two = many, many
	one.head, one.wheel = &as, false
	return &one
}

// manyAt reports that a phrase speaks of wheels.
func (s *settling) manyAt(n *nounPhrase) bool {
	return slices.ContainsFunc(n.spans, func(sp span) bool {
		for i := sp.first; i < sp.last; i++ {
			if s.at(i).text == "wheels" {
				return true
			}
		}
		return false
	})
}

// isDone reports that something is to be done, said with a word that begins so.
func (s *settling) isDone(begins ...string) bool {
	return slices.ContainsFunc(append(slices.Clone(s.says), verbs(s.verb)...), func(pr *predicate) bool {
		return !pr.void && (pr.action == inspection.Adjust || pr.action == inspection.Clean) && s.saidWith(pr, begins)
	})
}

// saidWith reports that a word of what is to be done begins so.
func (p *parser) saidWith(pr *predicate, begins []string) bool {
	for _, sp := range pr.spans {
		for i := sp.first; i < sp.last; i++ {
			if it := p.at(i); it.s != nil && it.s.action == pr.action && slices.ContainsFunc(begins, func(b string) bool { return strings.HasPrefix(it.text, b) || strings.Contains(it.text, " "+b) }) {
				return true
			}
		}
	}
	return false
}
