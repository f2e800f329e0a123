package note

import (
	"slices"
	"strings"

	"stead/substitution/inspection"
)

// say adds a predicate to the unit at hand, or to a new one.
func (w *walk) say(pr *predicate) {
	w.deny(pr)
	parted := w.sep != noSep || w.join != noRole
	w.newIsOn(pr)
	u := w.unitFor(pr, parted)
	w.notOfWanted(pr)
	w.unlessWorn(u, pr)
	w.ofBalls(u, pr, parted)
	pr.caged = pr.balls && w.saysCaged()
	pr.segment = len(w.segments) - 1
	pr.glued = !parted && len(u.says) > 0
	pr.but = w.join == but
	pr.listed = w.sep == colon && len(u.says) == 0 && pr.action != ""
	u.says = append(u.says, pr)
	w.seg().said = true
	if pr.action != "" {
		w.seg().action = true
	}
	w.lastSaid = pr
	w.settled()
	w.degree = noRole
	w.at = pr.endsOn(w)
}

// saysCaged reports that the sentence says of balls that they sit in cages.
func (w *walk) saysCaged() bool {
	return slices.ContainsFunc(w.items[w.segments[0].first:w.end], func(it item) bool {
		return strings.HasPrefix(it.text, "caged") || strings.HasPrefix(it.text, "in ") && (strings.Contains(it.text, "cage") || strings.Contains(it.text, "retainer"))
	})
}

// newIsOn takes the wish from "the new saddle is torn": it is on.
func (w *walk) newIsOn(pr *predicate) {
	u := w.cur
	if u != nil && u.verb != nil && u.wanted && len(u.says) == 0 && len(u.parts) == 1 && w.items[u.verb.spans[0].first].s.is(fresh) && u.verb.spans[0].last == u.verb.spans[0].first+1 &&
		w.sep == noSep && w.join == noRole && pr.action != inspection.Replace && w.saidToBe(pr) {
		u.verb.void = true
	}
}

// deny turns a predicate after "not".
func (w *walk) deny(pr *predicate) {
	w.keepNeg = w.negated
	if w.negated {
		pr.spans = append([]span{w.negSpan}, pr.spans...)
		pr.negate()
		w.negated = false
	}
}

// unitFor is the unit that a predicate belongs to.
func (w *walk) unitFor(pr *predicate, parted bool) *unit {
	u := w.cur
	if u == nil || w.correct || parted && pr.action == inspection.Clean && u.ofPiece() {
		u = w.newUnit()
	}
	if w.ofTheRest(pr) {
		pr.action, pr.readings, pr.facts, pr.bend, pr.straight, pr.void = "", nil, nil, false, false, true
	}
	if w.partIn(pr) && (parted || !u.canAll(pr)) {
		u = w.newUnit() // "no play in the headset"
	}
	if u.verb == nil && !u.same || len(u.says) > 0 || parted || len(u.parts) == 0 {
		return u
	}
	last := len(u.parts) - 1
	switch {
	case last > 0:
		// "replace chain, cassette fine": the last of the list has something said of itself
		n := u.parts[last]
		u.parts = u.parts[:last]
		u = w.newUnit()
		u.parts = []*nounPhrase{n}
		u.segment = n.segment
	case u.pending && u.verb != nil:
		w.verbBefore(u)
	}
	return u
}

// verbBefore gives a verb to the part before it, where the one after it has something said of itself: "chain replace
// cassette fine".
func (w *walk) verbBefore(u *unit) {
	k := len(w.units)
	if wish := w.items[u.verb.spans[0].first].s; k > 1 && !wish.is(want) && !wish.is(fresh) && w.units[k-1] == u {
		if had := w.units[k-2]; had.verb == nil && len(had.parts) == 1 && (len(had.says) == 0 || u.verb.action != inspection.Adjust && had.isFaulty()) && !had.same && !had.correct {
			verb := *u.verb
			if w.items[verb.spans[0].first].s.reading == "runs_out" {
				verb.action, verb.straight = "", true // "rotor true pads fine"
			}
			had.says = append(had.says, &verb)
		}
	}
	u.verb.void = true
}

// isFaulty reports that only faults were said of a part, so that a verb after it may be its own: "hub rough service chain
// fine". What is adjusted is fine then, so that "adjust" may as well be of the part that is.
func (u *unit) isFaulty() bool {
	return !slices.ContainsFunc(u.says, func(pr *predicate) bool {
		return pr.void || pr.negated || len(pr.readings) != 1 || !(claim{value: pr.readings[0]}).isFault()
	})
}

// ofPiece reports that something was said of a small piece of a hub: what is cleaned after it is the hub.
func (u *unit) ofPiece() bool {
	return len(u.says) > 0 && len(u.parts) > 0 && u.parts[len(u.parts)-1].head.isPiece()
}

// notOfWanted takes from a predicate what is of a part that is wanted, not of the one that is on, and a price's own action.
func (w *walk) notOfWanted(pr *predicate) {
	if (w.wished > 0 || w.ordered()) && !w.saidToBe(pr) {
		pr.facts = nil
		if len(pr.readings) == 1 && pr.readings[0].name == "balls" {
			pr.readings = nil // "new balls, ten a side"
		}
		pr.void = pr.void || pr.action == "" && len(pr.readings) == 0 && !pr.bend && !pr.straight
	}
	if w.seg().priced && pr.action == inspection.Replace {
		pr.action, pr.void = "", true // "twenty quid for a new one"
	}
}

// ordered reports that the part at hand is to be replaced, said outright: a size after it is of the one to come, "chain
// replace, eighth inch", "fit a new one, black". What it is called when it is done for, "tyre shot, 28 mm", tells of the old one.
func (w *walk) ordered() bool {
	u := w.cur
	return u != nil && slices.ContainsFunc(u.says, func(pr *predicate) bool {
		said := w.items[pr.spans[len(pr.spans)-1].last-1]
		return pr.action == inspection.Replace && (said.s.form&(verb|noun|done) != 0 || strings.Contains(said.text, "new one"))
	})
}

// ofBalls gives a size of balls also to those counted before it, and what is said after them to the balls.
func (w *walk) ofBalls(u *unit, pr *predicate, parted bool) {
	if k := len(w.units); k > 1 && parted && len(pr.readings) == 0 && len(pr.facts) == 1 && pr.facts[0].name == "ball_mm" && countOnly(u) && countOnly(w.units[k-2]) {
		other := *pr
		other.segment = len(w.segments) - 1
		w.units[k-2].says = append(w.units[k-2].says, &other) // "twenty top, twenty-two bottom, 5/32"
	}
	if k := len(u.says); k > 0 && u.says[k-1].balls && len(pr.readings) == 1 && pr.readings[0].name == "pitted" {
		pr.balls = true // the balls are, not what they run in
	}
}

// partIn reports that the part that something is said of follows it: "play in the headset".
func (w *walk) partIn(pr *predicate) bool {
	i := pr.spans[len(pr.spans)-1].last
	if beginsAt(w.itemAt(i).text) && w.modAt(i) || pr.endsOn(w) {
		i-- // "in the rear hub", "oil on the rear pads"
	} else if !w.itemAt(i).s.is(at) {
		return false
	}
	if len(pr.readings) == 0 && !pr.void || pr.action != "" {
		return false
	}
	n, next := w.nounPhraseAt(w.pastDeterminers(i + 1))
	if n != nil && pr.balls && w.namesRace(n, next) {
		return false
	}
	if last := w.sole(); n != nil && n.head != nil && last != nil && len(ofSystem(last.head.places, n.head)) > 0 {
		return false // "cable snapped on the front brake"
	}
	return n != nil && (n.head != nil || n.ones || w.atOther(n))
}

// endsOn reports that what is said ends with the "on" before its part: "oil on the rear pads".
func (pr *predicate) endsOn(w *walk) bool {
	return strings.HasSuffix(w.itemAt(pr.spans[len(pr.spans)-1].last-1).text, " on")
}

// atOther reports that a bare end or side is another than that of the part at hand: "front hub fine, play in the rear".
func (w *walk) atOther(n *nounPhrase) bool {
	u := w.cur
	if !n.bare() || n.mod == 0 || u == nil || len(u.parts) == 0 {
		return false
	}
	last := u.parts[len(u.parts)-1]
	return last.head != nil && sameKind(last.mod, n.mod) && last.mod&n.mod == 0
}

// saidToBe reports that "is" or "are" stands right before what is said.
func (w *walk) saidToBe(pr *predicate) bool {
	i := pr.spans[0].first - 1
	for determiner(w.itemAt(i).text) {
		i--
	}
	if w.itemAt(i).text == "already" {
		return true // "new tyres already cut"
	}
	return w.itemAt(i).s.is(copula) && w.itemAt(i).text != "with"
}
