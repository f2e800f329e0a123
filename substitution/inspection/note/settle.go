package note

import (
	"slices"
	"strings"
)

// statement is what the note says of one part or a list of them, after all that takes back or denies it.
type statement struct {
	parts  []*nounPhrase
	means  []resolved
	says   []*predicate
	marks  []span // words that bind it to its part: "the same", "sorry, right"
	copied bool   // "the same" as another
}

// settle takes away what a sentence does not say outright, and keeps the rest as statements.
func (w *walk) settle(asked bool) {
	killed := w.killed(asked)
	w.doubted = w.guessed()
	w.parser.stray = make([]bool, len(w.segments))
	for i, s := range w.segments {
		w.parser.stray[i] = s.dirty && s.part && !s.said
	}
	w.corrects = false
	for _, u := range w.units {
		w.settleUnit(u, killed)
	}
	if slices.ContainsFunc(w.segments, func(s segment) bool { return s.kinds[otherBike] }) {
		w.forget() // "this one" is none of that bike's parts
	}
}

// killed tells of each segment whether it says nothing: a hedge takes away its own clause, a condition, a question and
// another's words all that follows until the mechanic speaks again, another bike the whole sentence.
func (w *walk) killed(asked bool) []bool {
	out, last := make([]bool, len(w.segments)), w.lastSegment()
	all := w.ofOthers(asked)
	stands := w.beforeQuestion(asked)
	under := noRole
	for i := range w.segments {
		s := &w.segments[i]
		if under == speech && w.contradicts(i) {
			under = noRole
		}
		under = s.under(under)
		if all && i >= stands || under != noRole || s.dirty || s.kinds[hedge] || s.kinds[plan] || s.kinds[history] || s.kinds[stock] {
			out[i] = true
		}
		if i > 0 && (s.tail() && w.takesWithIt(i) || s.kinds[condition] && i == last && (w.segments[i-1].action || s.tail())) {
			out[i-1] = true
		}
	}
	return out
}

// contradicts reports that after "but" something is said of the very part of which another's words were told: "he says
// the headset clicks but the headset's smooth".
func (w *walk) contradicts(i int) bool {
	if s := w.segments[i]; s.joined != but || !s.stands() {
		return false
	}
	of := func(k int) *head {
		for _, u := range w.units {
			for _, n := range u.parts {
				if n.segment == k && n.head != nil {
					return n.head
				}
			}
		}
		return nil
	}
	here := of(i)
	for k := range i {
		if w.segments[k].kinds[speech] && here != nil && of(k) == here {
			return true
		}
	}
	return false
}

// beforeQuestion is the first segment of what is asked at the end of a sentence that says outright before it what was
// measured or seen: "rear tyre split, replace it?"
func (w *walk) beforeQuestion(asked bool) int {
	last := len(w.segments) - 1
	for last > 0 && !w.segments[last].part && !w.segments[last].said {
		last--
	}
	if !asked || last == 0 || !w.segments[last].action && !w.segments[last].wish || w.segments[last].known || w.segments[last].hasKind() || w.items[w.segments[last].first-1].text != "," {
		return 0
	}
	for _, s := range w.segments[:last] {
		if !s.stands() || s.action {
			return 0
		}
	}
	return last
}

// guessed tells of each segment whether its part is only guessed at, though what is said of it stands apart: "possibly the
// cassette, hooked", "the cassette is, possibly, hooked".
func (w *walk) guessed() []bool {
	out := make([]bool, len(w.segments))
	for i := range w.segments {
		s := &w.segments[i]
		switch {
		case !s.kinds[hedge] && !s.kinds[plan] || s.dirty || s.said:
		case s.part:
			out[i] = s.kinds[hedge]
		case i > 0 && i+1 < len(w.segments) && s.joined == noRole && w.segments[i-1].part && (!w.segments[i-1].said || w.itemAt(s.first-2).s.is(copula)):
			out[i-1] = true
		}
	}
	return out
}

// ofOthers reports that nothing of a sentence is the mechanic's own word of this bike.
func (w *walk) ofOthers(asked bool) bool {
	last := &w.segments[len(w.segments)-1]
	if last.kinds[speech] && last.tail() && !last.theirs && !last.likes && !w.reasonToKeep(len(w.segments)-1) {
		return true
	}
	questioned := false
	for _, s := range w.segments {
		if s.kinds[otherBike] {
			return true
		}
		questioned = questioned || s.kinds[question]
	}
	return asked && !questioned
}

// under is what a segment stands under, after what stood before it: another's words and a question hold on until the
// mechanic speaks of a finding, a condition until a "but", a word about somebody until something is said of a part.
func (s *segment) under(before role) role {
	if s.own {
		before = noRole
	}
	switch {
	case s.kinds[speech], s.kinds[question], s.heads:
		return speech // "next service: new chain, new tyres"
	case before == speech:
		return speech
	case s.kinds[condition]:
		return condition
	case before == condition && !(s.joined == but && s.stands()):
		return condition
	case s.kinds[person]:
		return person
	case before == person && !s.stands():
		return person
	}
	return noRole
}

// stands reports that a segment says something of a part that it names, outright.
func (s *segment) stands() bool { return s.known && s.said && !s.wish && !s.hasKind() }

// lastSegment is the last segment in which something stands: after a closing bracket there may be one with nothing.
func (w *walk) lastSegment() int {
	last := len(w.segments) - 1
	for last > 0 && w.segments[last].empty() {
		last--
	}
	return last
}

// empty reports that nothing stands in a segment.
func (s *segment) empty() bool { return !s.part && !s.said && !s.dirty && !s.hasKind() }

// tail reports that a segment only goes on about the one before it: "rear tyre cut, I think".
func (s *segment) tail() bool { return !s.known && !s.said && (!s.wish || s.kinds[plan]) }

// takesWithIt reports that a tail takes away what stands before it.
func (w *walk) takesWithIt(i int) bool {
	s := &w.segments[i]
	if w.reasonToKeep(i) {
		return false
	}
	put := s.kinds[plan] && w.segments[i-1].action && !(s.kinds[person] && !w.segments[i-1].order) // "worn out, he's collecting it Tuesday"
	return s.kinds[hedge] && !s.action && !(s.joined != noRole && s.part) || put || s.kinds[history] || s.kinds[speech] && !s.theirs && !s.likes
}

// reasonToKeep reports that a tail only says why a part before it is kept: "the saddle stays, it was his".
func (w *walk) reasonToKeep(i int) bool {
	if s := w.itemAt(w.segments[i].first).s; !s.is(it) {
		return false
	}
	for _, u := range w.units {
		for _, pr := range u.says {
			if pr.segment == i-1 && strings.HasPrefix(w.items[pr.spans[0].first].text, "stay") {
				return true
			}
		}
	}
	return false
}

// settleUnit makes a statement of a unit, as far as its segments stand.
func (w *walk) settleUnit(u *unit, killed []bool) {
	p := w.parser
	if u.scratch {
		p.withdraw()
		return
	}
	if u.exchange {
		p.exchange(u.marks)
		return
	}
	var says []*predicate
	for _, pr := range u.says {
		if !killed[pr.segment] && !pr.void {
			if u.wanted && (u.verb == nil || pr.spans[0].first > u.verb.spans[0].first) {
				pr.facts = nil
			}
			says = append(says, pr)
		}
	}
	verb := u.verb
	if verb != nil && (killed[verb.segment] || verb.void || w.putOff(u, killed)) {
		verb = nil
	}
	whole := !killed[u.segment]
	if u.ofOwner() {
		p.forget()
		return
	}
	if len(u.parts) == 0 {
		p.ofSubject(u, says, whole)
		return
	}
	p.askHow(u, killed)
	p.ofParts(u, says, verb, killed)
}

// putOff reports that a word after the last of a list under a verb puts it off, or makes it depend, so that it may hold for
// the whole: "change the chain and the cassette next time".
func (w *walk) putOff(u *unit, killed []bool) bool {
	k := len(u.parts)
	if k < 2 || len(u.says) > 0 {
		return false
	}
	last := u.parts[k-1]
	if last.joined != and || last.comma || !killed[last.segment] || len(last.spans) == 0 {
		return false
	}
	for i := u.verb.spans[0].first; i < w.segments[last.segment].last && i < w.end; i++ {
		switch s := w.items[i].s; {
		case w.items[i].text == "now", w.items[i].text == "today", w.items[i].text == "straight away":
			return false
		case i >= last.spans[len(last.spans)-1].last && (s.is(plan) || s.is(condition) || s.is(history)):
			return true
		}
	}
	return false
}

// ofOwner reports that one of a unit's parts only says whose something is: what is said after it, or after the next mark, is
// of that thing, "cap of the headset cracked, replace".
func (u *unit) ofOwner() bool {
	return slices.ContainsFunc(u.parts, func(n *nounPhrase) bool { return n.owner })
}
