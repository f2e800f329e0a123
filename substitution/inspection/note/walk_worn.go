package note

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// unlessWorn takes the wish for a new part from "has to come out", where nothing tells that this one is worn: it may be taken
// out to be seen to, or left off; and where more follows, which may say of what or for what it comes out.
func (w *walk) unlessWorn(u *unit, pr *predicate) {
	if pr.action == inspection.Replace && w.comesOut(pr) && (!w.endsHere(pr.spans[len(pr.spans)-1].last) || !slices.ContainsFunc(u.says, w.isWorn)) {
		pr.action, pr.void = "", true
	}
}

// isWorn reports that a part is said to be worn or faulty, or how far it is.
func (w *walk) isWorn(pr *predicate) bool {
	if pr.void {
		return !pr.negated && strings.Contains(w.items[pr.spans[0].first].text, "worn")
	}
	return pr.action == inspection.Replace || slices.ContainsFunc(pr.readings, func(f fact) bool {
		return pastMending[f.name] && (claim{value: f}).isFault() || f.name == "wear_percent"
	})
}

// pastMending are the faults of a part that no cleaning or adjusting takes away.
var pastMending = map[string]bool{"damaged": true, "hooked_teeth": true, "worn_to_mark": true, "frayed": true, "pitted": true}

// spareable are the parts that a bike may go without: to be rid of one asks for no other.
var spareable = map[substitution.Family]bool{"rack": true, "mudguard": true, "basket": true, "bell": true, "kickstand": true, "frame-lock": true, "child-seat": true,
	"stabiliser": true, "peg": true, "bottle-cage": true, "chain-guard": true, "dynamo": true, "lamp": true}

// ridOf are the words for being rid of a part.
var ridOf = map[string]bool{"get rid": true, "get rid of": true, "get rid of it": true, "get rid of them": true, "to go": true, "has to go": true, "have to go": true,
	"must go": true, "needs to go": true, "need to go": true, "wants to go": true, "ditch": true, "ditch it": true, "ditch them": true, "ditch that": true, "ditch those": true,
	"throw away": true, "throw it away": true, "throw them away": true, "throw out": true, "toss": true, "toss out": true, "toss it": true, "toss them": true, "toss it out": true}

// onlyRid reports that a part which a bike may go without is to be got rid of.
func (p *parser) onlyRid(pr *predicate, family substitution.Family) bool {
	return spareable[family] && slices.ContainsFunc(pr.spans, func(sp span) bool {
		return slices.ContainsFunc(p.items[sp.first:sp.last], func(it item) bool { return ridOf[it.text] || strings.Contains(it.text, " come ") })
	})
}

// comesOut reports that a part is said to come out or off.
func (w *walk) comesOut(pr *predicate) bool {
	return strings.Contains(w.items[pr.spans[len(pr.spans)-1].first].text, "come")
}
