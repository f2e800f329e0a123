package note

import (
	"slices"
	"strings"
)

// part takes a noun phrase into the list at hand, or begins a new unit with it.
func (w *walk) part(n *nounPhrase, i int) {
	parted := w.sep != noSep || w.join != noRole
	w.likeLast(n)
	u := w.listFor(n, parted)
	if u == nil {
		if w.seg().part || w.seg().said {
			w.newSegment(i, parted)
		}
		u = w.newUnit()
	} else if parted && w.seg().part {
		w.newSegment(i, true)
	}
	if w.wished > 0 {
		n.before = slices.DeleteFunc(n.before, func(pr *predicate) bool { return len(pr.readings) == 0 || pr.readings[0].name == "balls" })
	}
	n.segment, n.joined, n.comma = len(w.segments)-1, w.join, w.sep == comma
	w.lendEnd(u, n)
	w.likeCables(u, n)
	u.parts = append(u.parts, n)
	if w.rightsLast(u, n) {
		u.correct = true
	}
	w.seg().part = true
	w.seg().known = true
	if n.head != nil {
		w.family = w.familyOf(n)
	} else if n.noPlace || n.wheel {
		w.family = ""
	}
	w.settled()
	w.lastSaid = nil
}

// likeLast makes a bare end or side after "and" the part before it: "the front tyre and the rear are cut".
func (w *walk) likeLast(n *nounPhrase) {
	u := w.cur
	if w.join != and || !n.bare() || n.mod == 0 || n.other || n.sides || n.ones || u == nil || u.verb != nil || u.same || len(u.says) > 0 || len(u.parts) == 0 {
		return
	}
	last := u.parts[len(u.parts)-1]
	if last.head == nil || !sameKind(last.mod|modOf(last.head.places[0]), n.mod) {
		return
	}
	n.head, n.houses, n.system = last.head, last.houses, last.system
	if rings := w.l.phrase("rings").head; n.head.family == "chainring" && n.mod&levels != 0 {
		n.head = rings
	}
	n.lists, n.every = n.every, false
}

// listFor is the unit at hand, if a part goes on in its list.
func (w *walk) listFor(n *nounPhrase, parted bool) *unit {
	u := w.cur
	switch {
	case u == nil:
		return nil
	case w.instead(u):
		u.pronoun, u.instead = false, true
	case u.instead && parted, w.putRight(u), w.correct, w.same:
		return nil
	case u.scratch, u.underVerb(n, parted), parted && w.sep != colon && u.goesOn(n) && !w.strangeBefore(u):
	default:
		return nil
	}
	return u
}

// strangeBefore reports that the list so far is a word that is not known, of somebody or the like: "he's tall, the post
// is cracked".
func (w *walk) strangeBefore(u *unit) bool {
	last := u.parts[len(u.parts)-1]
	return last.noPlace && w.segments[last.segment].hasKind()
}

// instead reports that a correction with a pronoun waits for its part: "no, that's the front hub".
func (w *walk) instead(u *unit) bool {
	return u.correct && u.pronoun && len(u.marks) > 0 && !w.items[u.marks[0].first].s.is(scratch) && len(u.parts) == 0 && len(u.says) == 0
}

// putRight reports that the part alone was put right, and what follows is new: "sorry, rear tyre, and the front tyre's
// fine".
func (w *walk) putRight(u *unit) bool {
	return u.correct && w.sep == comma && len(u.parts) == 1 && len(u.says) == 0 && u.verb == nil && u.parts[0].head != nil
}

// underVerb reports that a part goes on in the list under a verb: "renew the chain, the tyres".
func (u *unit) underVerb(n *nounPhrase, parted bool) bool {
	return u.verb != nil && len(u.says) == 0 && (parted || len(u.parts) == 0 || n.head != nil && !u.pending)
}

// goesOn reports that a part goes on in a list of which nothing has been said yet: "chain, cassette".
func (u *unit) goesOn(n *nounPhrase) bool {
	return u.verb == nil && len(u.says) == 0 && len(u.parts) > 0 && !u.parts[len(u.parts)-1].bare() && !n.bare() && !u.parts[len(u.parts)-1].isRead()
}

// isRead reports that a reading stands before a part, so that it needs none from the end of a list: "nine quarter-inch
// balls a side, and the chain is fine".
func (n *nounPhrase) isRead() bool {
	return slices.ContainsFunc(n.before, func(pr *predicate) bool { return len(pr.readings) > 0 })
}

// lendEnd gives a cable the end or the brake that is told with its housing: "shift cable and housing rear", "inners and
// outers for both brakes".
func (w *walk) lendEnd(u *unit, n *nounPhrase) {
	k := len(u.parts)
	if k == 0 || w.join != and || n.mod&ends == 0 && n.system == nil || n.head == nil || n.head.family != "cable-outer" || len(u.says) > 0 {
		return
	}
	if last := u.parts[k-1]; last.head != nil && last.head.family == "cable-inner" && last.mod&ends == 0 && last.system == nil {
		last.mod |= n.mod & ends
		last.system = n.system
		last.every = last.every || n.every && n.system != nil
	}
}

// likeCables makes of "outers" after "brake cables" those of the brakes.
func (w *walk) likeCables(u *unit, n *nounPhrase) {
	k := len(u.parts)
	if k == 0 || n.head == nil || n.head.family != "cable-outer" || n.system != nil || u.parts[k-1].head == nil || u.parts[k-1].head.family != "cable-inner" || u.parts[k-1].mod&ends != 0 || u.parts[k-1].every {
		return
	}
	for _, word := range []string{"brake cables", "gear cables"} {
		kind := w.l.phrase(word).head.places
		if slices.Equal(u.parts[k-1].head.places, kind) && !slices.Equal(n.head.places, kind) {
			outers := *w.l.phrase(strings.Replace(word, "cables", "outers", 1)).head
			outers.many = n.head.many
			n.head = &outers
		}
	}
}

// rightsLast reports that a part after "Wrong side." is another of the kind that was spoken of last.
func (w *walk) rightsLast(u *unit, n *nounPhrase) bool {
	return w.alone && len(w.units) == 1 && len(u.parts) == 1 && w.last != nil && len(w.last.parts) == 1 && n.head != nil && n.head == w.last.parts[0].head
}
