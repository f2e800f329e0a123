package describe

import "stead/substitution"

// Per is what a piece of a list is, of what comes off a roll.
type Per string

const (
	PerMetre Per = "metre"
	PerFoot  Per = "foot"
)

// sold are the units by which a list may sell what comes off a roll.
const sold = metre | foot

// readOffRoll reads how what is cut off a roll is sold: by the metre, by the foot, or as a roll of so many metres.
func (r *reading) readOffRoll() {
	_, byMetre := r.grammar.dimensions["by_metre"]
	_, byWheel := r.grammar.dimensions["by_wheel"]
	if !byMetre && !byWheel {
		return
	}
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.kind == phrase && it.sense.sold != 0:
			r.soldBy(it.sense.sold, byMetre, i, i+1)
		case r.isJoint(i, "/") && i+1 < len(r.items) && r.items[i+1].kind == phrase && r.items[i+1].sense.unit&sold != 0 && !r.glued(i+2):
			r.soldBy(r.items[i+1].sense.unit&sold, byMetre, i, i+2)
		}
	}
	if byWheel {
		r.readRoll()
	}
}

// readRoll reads how many metres are on a roll. Two lengths are none.
func (r *reading) readRoll() {
	at := -1
	for i := range r.items {
		if !r.isFigure(i) || r.items[i].unit&sold == 0 {
			continue
		}
		if at >= 0 {
			return
		}
		at = i
	}
	if at >= 0 {
		r.claim(at, at+1)
		r.roll = (r.items[at].unit & sold).in(r.items[at].value) / 1000
	}
}

// soldBy notes what items [from, to) say that a piece is.
func (r *reading) soldBy(u unit, byMetre bool, from, to int) {
	r.claim(from, to)
	switch {
	case u == foot:
		r.per = PerFoot
	case byMetre:
		r.per = PerMetre
		r.give("by_metre", substitution.Yes(true), plain, from, to)
	default:
		r.per = PerMetre
	}
}

// sellsThread reports whether the phrase ends in the letter of a thread: "per M5" is no metre.
func (s *scratch) sellsThread(phrase *sense, end int) bool {
	return phrase.sold != 0 && end < len(s.tokens) && s.tokens[end].kind == number && s.tokens[end].glued
}
