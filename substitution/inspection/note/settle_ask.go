package note

import (
	"regexp"
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// askHow keeps the question that what was understood and handed back leaves: how much the play is, how far a wheel is out.
func (p *parser) askHow(u *unit, killed []bool) {
	if len(u.parts) != 1 || u.correct || u.same {
		return
	}
	n := u.parts[0]
	for _, pr := range append(slices.Clone(u.says), verbs(u.verb)...) {
		if killed[pr.segment] || pr.negated || len(n.spans) == 0 {
			continue
		}
		switch {
		case n.head != nil && p.isPlay(pr) && hasReading(n.head, "play"):
			part := p.wordsOfPart(n)
			p.asks = append(p.asks, Ask{p.wordsFrom(n, pr), "slight or marked play?", []Saying{{Words: part + " slight play"}, {Words: part + " marked play"}}})
		case p.isWornSomehow(n, pr):
			p.asks = append(p.asks, Ask{p.wordsFrom(n, pr), wornHow(n.head), wornSays(p.wordsOfPart(n), n.head)})
		case n.wheel && n.head == nil && (pr.bend || pr.straight || pr.action == inspection.Adjust):
			p.asks = append(p.asks, Ask{p.wordsFrom(n, pr), "how many mm does the rim run out?", p.trued(n, pr)})
		case n.head != nil && n.head.family == "brake-caliper" && pr.action == inspection.Clean && p.saidWith(pr, "ble"):
			p.asks = append(p.asks, Ask{p.wordsFrom(n, pr), "bled at its lever?", p.bled(n)})
		}
	}
}

// trued is the answer that a wheel which is not straight is to be trued, which is work on its rim.
func (p *parser) trued(n *nounPhrase, pr *predicate) []Saying {
	rim := wheels.ReplaceAllString(p.wordsOfPart(n), "rim$1")
	if pr.straight || rim == p.wordsOfPart(n) {
		return nil
	}
	return []Saying{{Words: "true " + rim}}
}

var wheels = regexp.MustCompile(`(?i)\bwheel(s?)\b`)

// bled is the answer that a brake is to be bled, which is work on its lever.
func (p *parser) bled(n *nounPhrase) []Saying {
	lever := brakes.ReplaceAllString(p.wordsOfPart(n), "brake lever$1")
	if lever == p.wordsOfPart(n) {
		return nil
	}
	if n.head.many && n.mod&ends == 0 {
		lever = "front and rear brake levers" // of brakes a bike has two, of levers it need not
	}
	return []Saying{{Words: "bleed " + lever}}
}

var brakes = regexp.MustCompile(`(?i)\bbrake(s?)$`)

// isPlay reports that a predicate is play of no stated degree.
func (p *parser) isPlay(pr *predicate) bool {
	it := p.at(pr.spans[len(pr.spans)-1].last - 1)
	return pr.void && it.s.is(play) || strings.HasSuffix(it.text, "loose")
}

// isWornSomehow reports that a part of which it is told how worn it is has wear of no stated degree.
func (p *parser) isWornSomehow(n *nounPhrase, pr *predicate) bool {
	return n.head != nil && (p.isWorn(pr) || p.isBound(pr) && hasReading(n.head, "wear_percent")) && wornHow(n.head) != ""
}

// isBound reports that a predicate is a bound with its figure: "over point five".
func (p *parser) isBound(pr *predicate) bool {
	first := pr.spans[0].first
	return pr.void && p.at(first).s.is(bound) && pr.spans[0].last > first+1
}

// isWorn reports that a predicate is wear of no stated degree.
func (p *parser) isWorn(pr *predicate) bool {
	it := p.at(pr.spans[len(pr.spans)-1].last - 1)
	return pr.void && (it.text == "worn" || strings.HasSuffix(it.text, " worn"))
}

// wornHow is the question by which it is told how worn a part is; "" where nothing of it tells.
func wornHow(h *head) string {
	switch {
	case hasReading(h, "wear_percent"):
		return "how worn, in per cent?"
	case hasReading(h, "hooked_teeth"):
		return "are its teeth hooked?"
	case hasReading(h, "worn_to_mark"):
		return "worn down to its mark?"
	}
	return ""
}

// wornSays are the answers to it: what can be told by the eye, and what most who say it mean.
func wornSays(part string, h *head) (says []Saying) {
	part = strings.TrimPrefix(strings.TrimPrefix(part, "The "), "the ")
	switch {
	case hasReading(h, "wear_percent"):
	case hasReading(h, "hooked_teeth"):
		says = []Saying{{Words: part + " hooked"}, {Words: part + " not hooked"}}
	case hasReading(h, "worn_to_mark"):
		says = []Saying{{Words: part + " worn to its mark"}, {Words: part + " not worn to its mark"}}
	}
	return append(says, Saying{Words: "replace " + part})
}

// hasReading reports that the part can have a reading.
func hasReading(h *head, name string) bool {
	return slices.ContainsFunc(inspection.ReadingsOf(h.family), func(d substitution.Dimension) bool { return d.Name == name })
}

// wordsOfPart are the note's words for a part.
func (p *parser) wordsOfPart(n *nounPhrase) string {
	first, last := n.spans[0], n.spans[len(n.spans)-1]
	return p.text[p.tokens[p.items[first.first].first].start:p.tokens[p.items[last.last-1].last-1].end]
}

// wordsFrom are the note's words from a part to what is said of it.
func (p *parser) wordsFrom(n *nounPhrase, pr *predicate) string {
	first, last := n.spans[0].first, pr.spans[len(pr.spans)-1].last
	first, last = min(first, pr.spans[0].first), max(last, n.spans[len(n.spans)-1].last)
	return p.text[p.tokens[p.items[first].first].start:p.tokens[p.items[last-1].last-1].end]
}
