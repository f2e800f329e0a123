package note

import (
	"slices"

	"stead/substitution"
)

// settling is a unit on its way to statements.
type settling struct {
	*parser
	u      *unit
	says   []*predicate
	verb   *predicate
	killed []bool
	parts  []*nounPhrase
	means  []resolved
	open   bool   // what one of the parts means is not settled
	taken  []span // what a correction took back: read, where what is said instead is kept
	kept   int    // how many statements there were then
}

// stages are what becomes of a unit whose parts have their places, in this order; one that reports true was the last.
var stages = []func(*settling) bool{
	(*settling).takenBack, (*settling).saidBefore, (*settling).shortened, (*settling).asAnother, (*settling).corrected, (*settling).underVerb,
	(*settling).eachDenied, (*settling).notCopied, (*settling).ofList,
}

// ofParts settles what is said of the parts that a unit names.
func (p *parser) ofParts(u *unit, says []*predicate, verb *predicate, killed []bool) {
	s := &settling{parser: p, u: u, says: says, verb: verb, killed: killed}
	if !s.whole() || !s.leadIn() {
		return
	}
	s.place()
	for _, stage := range stages {
		if stage(s) {
			break
		}
	}
	if len(s.statements) > s.kept {
		s.understood(s.taken)
	}
	p.name(s.parts, s.means)
}

// nothingSaid reports that the unit only names parts.
func (s *settling) nothingSaid() bool { return len(s.says) == 0 && s.verb == nil }

// whole gives bare ends and pronouns the part that they stand for. It reports false where nothing is left to settle.
func (s *settling) whole() bool {
	u := s.u
	said := len(u.says) > 0 || u.excepted || u.same || u.forget || u.correct || u.elided != 0 || s.verb != nil && len(u.parts) == 1
	for k, n := range u.parts {
		if len(u.parts) == 1 && !n.bare() && s.sameEnd(n) {
			return false
		}
		if n.bare() {
			if len(u.parts) == 1 && s.ofSeveral(n) {
				return false
			}
			full := s.ballsAt(n, s.says)
			if full == nil && said {
				full = s.complete(n)
			}
			if full == nil {
				s.setEnd(n)
				if said {
					s.forget()
					return false
				}
				if k == len(u.parts)-1 && s.verb == nil {
					return false
				}
				continue
			}
			n = full
		}
		s.parts = append(s.parts, s.asArms(n))
	}
	return true
}

// ofSeveral settles what is said of "both", or the same of an end as of the other.
func (s *settling) ofSeveral(n *nounPhrase) bool {
	if both := s.pair(n); len(both) > 0 && !s.killed[n.segment] {
		s.ofBoth(s.u, n, both, s.says, s.verb)
		return true
	}
	return s.u.same && s.nothingSaid() && s.copyEnd(s.u, n, s.killed[n.segment])
}

// sameEnd settles "the rear wheel the same" and "rear brake the same".
func (s *settling) sameEnd(n *nounPhrase) bool {
	wheel := n.wheel && n.head == nil
	return (wheel || n.head != nil) && s.u.same && s.nothingSaid() && s.copyEnd(s.u, n, s.killed[n.segment])
}

// leadIn keeps a house or a wheel that is named before what is in it, and takes it from the list. It reports false
// where nothing else is named.
func (s *settling) leadIn() bool {
	for len(s.parts) > 1 && s.leadsTo(s.parts[0], s.parts[1]) {
		s.setHouse(s.parts[0])
		s.parts = s.parts[1:]
	}
	if len(s.parts) == 1 && s.parts[0].wheel && s.nothingSaid() {
		s.setHouse(s.parts[0])
		return false
	}
	return len(s.parts) > 0
}

// place finds the places of the parts, and what each tells of where the next one is.
func (s *settling) place() {
	s.means = make([]resolved, len(s.parts))
	for i, n := range s.parts {
		if n.head != nil && s.wheel && isBearing(n.head) && len(n.houses) == 0 {
			s.inWheel(n)
		} else {
			s.wheel = false
		}
		r, ok := s.resolve(n)
		if !ok {
			r, ok = s.again(n)
		}
		if n.again {
			r.carried = nil // its end was said with the part before
		}
		switch {
		case ok && !(n.either && !allDenied(s.says) && !s.nothingWrong()):
			s.means[i] = r
			s.named = r.places
		case s.nothingSaid():
			s.open = true
		default:
			s.open = true
			s.ask(n)
		}
		s.setEnd(n)
		s.setHouse(n)
		s.setBrake(n, s.nothingSaid())
	}
}

// nothingWrong reports that the parts stand under "nothing wrong with".
func (s *settling) nothingWrong() bool {
	return s.verb != nil && len(s.says) == 0 && s.at(s.verb.spans[0].first).s.is(nothingWith)
}

// takenBack forgets what was said of parts that are excepted now, or of which all is taken back.
func (s *settling) takenBack() bool {
	for i := range s.parts {
		if s.u.excepted {
			s.except(s.means[i].places)
		}
		if s.u.forget {
			s.takeBack(s.means[i].places)
		}
	}
	return s.u.forget
}

// saidBefore keeps what stands before a part: "a tubeless tyre".
func (s *settling) saidBefore() bool {
	for i, n := range s.parts {
		for _, pr := range n.before {
			if !s.killed[n.segment] && !s.u.wanted && !pr.void {
				s.keep(&statement{parts: []*nounPhrase{n}, means: s.means[i : i+1 : i+1], says: []*predicate{pr}})
			}
		}
	}
	return false
}

// shortened says "the rear is" of the rear.
func (s *settling) shortened() bool {
	if s.u.elided == 0 || !s.nothingSaid() {
		return false
	}
	if !s.open && !s.killed[s.u.segment] {
		s.elided(s.u, s.parts, s.means)
	}
	return true
}

// asAnother says "the same" of a part, and what is said otherwise of it.
func (s *settling) asAnother() bool {
	if !s.u.same || s.verb != nil || len(s.says) > 0 && len(s.u.sameOf) == 0 && !s.says[0].but {
		return false
	}
	had := len(s.statements)
	if (len(s.parts) == 1 || s.parts[len(s.parts)-1].joined == and && s.u.sameAs == nil) && !s.open && !s.killed[s.parts[0].segment] {
		s.copyLast(s.u, s.parts, s.means)
	}
	if len(s.says) > 0 && len(s.statements) > had {
		s.overrule(s.says)
	}
	return len(s.says) == 0
}

// corrected puts a part, or what is said of it, in the place of what was said last.
func (s *settling) corrected() bool {
	before := s.corrects
	s.corrects = before || s.u.correct
	now := append(slices.Clone(s.says), verbs(s.verb)...)
	if s.u.correct && s.last != nil {
		switch {
		case s.nothingSaid():
			if len(s.parts) == 1 && !s.killed[s.parts[0].segment] {
				s.correctPart(s.parts[0], s.means[0], s.open, s.u.marks)
			} else {
				s.handBack()
			}
			return true
		case sameMeaning(s.last.means, s.means) && s.speaksOf(now):
			s.correctSays(now, s.u.marks) // "replace it, no, leave the cassette"
			return true
		case s.someOfLast() && s.speaksOf(now):
			s.takeBackLast(placesIn(s.means)) // "replace the saddle and the post, no, leave the post"
			return false
		}
		s.taken, s.kept = s.lastSpans(), len(s.statements)
		s.handBack()
	}
	if before && !s.nothingSaid() {
		s.unsay(s.means, now)
	}
	return false
}

// someOfLast reports that the parts are some of those that were spoken of last.
func (s *settling) someOfLast() bool {
	had, now := placesIn(s.last.means), placesIn(s.means)
	return len(now) > 0 && len(now) < len(had) && !slices.ContainsFunc(now, func(q substitution.Place) bool { return !slices.Contains(had, q) })
}

// underVerb says a verb of its list, and what follows of the last of it.
func (s *settling) underVerb() bool {
	if s.verb == nil {
		return len(s.says) == 0
	}
	s.verbOf(s.u, s.verb, s.parts, s.means, s.killed)
	if len(s.says) > 0 {
		s.keepFrom(len(s.parts) - 1)
	}
	return true
}

// eachDenied says of each part what was denied before they were named: "no damage to frame or fork".
func (s *settling) eachDenied() bool {
	if !s.u.inverted {
		return false
	}
	for i, n := range s.parts {
		if !s.killed[n.segment] {
			s.keepAll(&statement{parts: s.parts[i : i+1], means: s.means[i : i+1], says: s.says, marks: s.u.marks})
		}
	}
	return true
}

// ofList says of a list what stands at its end.
func (s *settling) ofList() bool {
	first := shared(s.parts)
	if s.says[0].listed {
		first = 0
	}
	for len(s.parts)-first > 1 && s.killed[s.parts[first].segment] {
		first++ // "pedals might do, and the headset is fine"
	}
	if s.doubted[s.parts[len(s.parts)-1].segment] {
		return true // "chain, possibly cassette, need replacing", "possibly the cassette, hooked"
	}
	if s.stray[s.parts[len(s.parts)-1].segment] {
		s.says = slices.DeleteFunc(slices.Clone(s.says), s.bareFigure) // "bottom bracket's thimbled: nine a side"
	}
	if len(s.says) > 0 {
		s.keepFrom(first)
	}
	return true
}

// bareFigure reports a figure that no word beside it names: what it is of, a word of the part that is not known may decide.
func (p *parser) bareFigure(pr *predicate) bool {
	if !pr.balls && !slices.ContainsFunc(pr.facts, func(f fact) bool { return f.value.Form() == substitution.Number }) {
		return false
	}
	for _, sp := range pr.spans {
		for i := sp.first; i < sp.last; i++ {
			if s := p.at(i).s; s != nil && (len(s.measures) > 0 || s.unit != "" && s.unit != "mm" && s.unit != "inch") {
				return false
			}
		}
	}
	return true
}

// keepFrom says what is said of the parts from the first on.
func (s *settling) keepFrom(first int) {
	s.keepAll(&statement{parts: s.parts[first:], means: s.means[first:], says: s.says, marks: s.u.marks})
}

// allDenied reports that all that is said is denied: "front or rear" is then both.
func allDenied(says []*predicate) bool {
	for _, pr := range says {
		if !pr.negated && !(len(pr.readings) == 1 && pr.readings[0].name == "play" && pr.readings[0].value.Equal(substitution.Text("none"))) {
			return false
		}
	}
	return len(says) > 0
}

// verbOf keeps an action for each part of a list that stands.
func (p *parser) verbOf(u *unit, verb *predicate, parts []*nounPhrase, means []resolved, killed []bool) {
	st := &statement{says: []*predicate{verb}, marks: u.marks}
	for i, n := range parts {
		if !killed[n.segment] && len(means[i].places) > 0 && p.fitting(&statement{parts: parts[i : i+1], means: means[i : i+1]}, verb) != nil {
			st.parts = append(st.parts, n)
			st.means = append(st.means, means[i])
		}
	}
	if len(st.parts) > 0 {
		p.keep(st)
	}
}

// shared is where the list begins of which a predicate at its end is said: "chain and cassette shot" is both, of
// "chain, cassette fine" only the last is sure.
func shared(parts []*nounPhrase) int {
	last := len(parts) - 1
	if last == 0 {
		return 0
	}
	if parts[last].joined == and || len(parts) >= surelyList || parts[last].lists {
		return 0
	}
	return last
}

// surelyList is how many parts, one after another, are a list without an "and": "stem, bars, tape fine".
const surelyList = 3

// leadsTo reports that a part is named only to say where the next one is.
func (p *parser) leadsTo(house, n *nounPhrase) bool {
	if n.head == nil || house.every {
		return false
	}
	return house.wheel || house.head != nil && inside(house.head, n.head) && n.joined != and && !n.comma
}
