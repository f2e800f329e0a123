package note

import (
	"slices"

	"stead/substitution"
	"stead/substitution/inspection"
)

// understood marks items as read, though they claim nothing any more: what was taken back is not unread.
func (p *parser) understood(items []span) {
	for _, s := range items {
		for i := p.items[s.first].first; s.last > s.first && i < p.items[s.last-1].last; i++ {
			p.read[i] = true
		}
	}
}

// withdraw takes back the last thing that was said, which is then read.
func (p *parser) withdraw() {
	if p.last == nil {
		return
	}
	p.understood(p.lastSpans())
	p.handBack()
}

// lastSpans are the words of the last thing that was said.
func (p *parser) lastSpans() (out []span) {
	if p.last == nil {
		return nil
	}
	for _, n := range p.last.parts {
		out = append(out, n.spans...)
	}
	for _, pr := range p.last.says {
		out = append(out, pr.spans...)
	}
	return out
}

// handBack takes back the last thing that was said, where what is said instead is not understood: it is handed back with it.
func (p *parser) handBack() {
	if p.last == nil {
		return
	}
	for _, had := range p.statements {
		if had != p.last && sameMeaning(had.means, p.last.means) {
			had.says = slices.DeleteFunc(slices.Clone(had.says), p.deniedLast) // "cracked. Not cracked, sorry"
		}
	}
	p.last.says = nil
	p.last = nil
}

// deniedLast reports that the last thing that was said denies this.
func (p *parser) deniedLast(old *predicate) bool {
	return slices.ContainsFunc(p.last.says, func(pr *predicate) bool { return pr.negated && !old.negated && alike(old, pr) })
}

// exchange gives each of the two parts that were spoken of last what was said of the other: "front 1.1, rear 1.5, no, the
// other way round". Where they are not two of a kind, nothing of it stands.
func (p *parser) exchange(marks []span) {
	p.understood(marks)
	n := len(p.statements)
	if n < 2 {
		p.withdraw()
		return
	}
	a, b := p.statements[n-2], p.statements[n-1]
	if len(a.parts) == 1 && len(b.parts) == 1 && placesOf(a.means) == 1 && placesOf(b.means) == 1 && a.means[0].places[0] != b.means[0].places[0] &&
		len(a.says) > 0 && len(b.says) > 0 && len(families([]substitution.Place{a.means[0].places[0], b.means[0].places[0]})) == 1 {
		a.says, b.says = b.says, a.says
		return
	}
	p.takeBack(placesIn(a.means))
	p.takeBack(placesIn(b.means))
}

// placesIn are the places that parts mean.
func placesIn(means []resolved) (out []substitution.Place) {
	for _, m := range means {
		out = append(out, m.places...)
	}
	return out
}

// takeBack forgets all that was said of places.
func (p *parser) takeBack(places []substitution.Place) {
	for _, st := range p.statements {
		for i, m := range st.means {
			st.means[i].places = slices.DeleteFunc(slices.Clone(m.places), func(q substitution.Place) bool { return slices.Contains(places, q) })
		}
	}
}

// takeBackLast forgets what was said last of places.
func (p *parser) takeBackLast(places []substitution.Place) {
	for i, m := range p.last.means {
		p.last.means[i].places = slices.DeleteFunc(slices.Clone(m.places), func(q substitution.Place) bool { return slices.Contains(places, q) })
	}
}

// except forgets what this sentence has said of places: "tyres fine except the front".
func (p *parser) except(places []substitution.Place) {
	for _, st := range p.statements[p.begun:] {
		for i, m := range st.means {
			st.means[i].places = slices.DeleteFunc(slices.Clone(m.places), func(q substitution.Place) bool { return slices.Contains(places, q) })
		}
	}
}

// correctSays puts what is said now in the place of what was said last: the same reading of the same part, else the
// last one.
func (p *parser) correctSays(says []*predicate, marks []span) {
	if p.last == nil {
		return
	}
	st, kept := p.last, len(p.statements)
	taken := slices.Clone(marks)
	found := false
	denied := true
	for _, pr := range says {
		denied = denied && pr.negated
		for i := 0; i < len(st.says); i++ {
			old := st.says[i]
			if alike(old, pr) {
				found = true
				if sameSaid(old, pr) {
					continue // "no, not stiff, just frayed" says of the fraying what was said
				}
				taken = append(taken, old.spans...)
				st.says = slices.Delete(slices.Clone(st.says), i, i+1)
				i--
			}
		}
	}
	if !found && !denied && len(st.says) > 0 {
		taken = append(taken, st.says[len(st.says)-1].spans...)
		st.says = slices.Clone(st.says[:len(st.says)-1])
	}
	if p.keep(&statement{parts: st.parts, means: st.means, says: says}); len(p.statements) > kept {
		p.understood(taken)
	}
}

// speaksOf reports that something said now is of what was said last: the same reading, the same dimension, or both an
// action.
func (p *parser) speaksOf(says []*predicate) bool {
	return slices.ContainsFunc(says, func(pr *predicate) bool {
		return slices.ContainsFunc(p.last.says, func(old *predicate) bool { return alike(old, pr) })
	})
}

// unsay takes back of parts that are named again in the sentence of a correction what they cannot be as well: "big ring
// hooked, little ring fine, correction, little ring hooked, big ring fine".
func (p *parser) unsay(means []resolved, says []*predicate) {
	for _, m := range means {
		for _, st := range p.statements {
			if anyKeep(st.says) == anyKeep(says) {
				continue
			}
			for i, had := range st.means {
				left := slices.DeleteFunc(slices.Clone(had.places), func(q substitution.Place) bool { return slices.Contains(m.places, q) })
				if len(left) < len(had.places) {
					p.understood(st.parts[i].spans)
					st.means[i].places = left
				}
			}
		}
	}
}

// verbs is the verb, if there is one.
func verbs(verb *predicate) []*predicate {
	if verb == nil {
		return nil
	}
	return []*predicate{verb}
}

// sameSaid reports that two predicates give the same readings.
func sameSaid(a, b *predicate) bool {
	return a.action == b.action && len(a.readings) > 0 && len(a.facts)+len(b.facts) == 0 &&
		slices.EqualFunc(a.readings, b.readings, func(x, y fact) bool { return x.name == y.name && x.value.Equal(y.value) })
}

// alike reports that two predicates are of the same thing: one reading, one dimension, or both an action.
func alike(a, b *predicate) bool {
	if a.action != "" && b.action != "" {
		return true
	}
	for _, x := range a.readings {
		for _, y := range b.readings {
			if x.name == y.name {
				return true
			}
		}
	}
	for _, x := range a.facts {
		for _, y := range b.facts {
			if x.name == y.name {
				return true
			}
		}
	}
	return a.action == inspection.Keep && len(b.readings) > 0 && anyBad(b)
}

// anyBad reports a reading beside which "fine" cannot stand after a correction.
func anyBad(pr *predicate) bool { return !pr.negated }

// correctPart puts another part, or another side of it, in the place of the one that was named last.
func (p *parser) correctPart(n *nounPhrase, m resolved, open bool, marks []span) {
	st := p.last
	says := st.says
	taken, kept := p.lastSpans(), len(p.statements)
	p.handBack()
	if open {
		return
	}
	fresh := &statement{parts: []*nounPhrase{n}, means: []resolved{m}, says: says, marks: marks}
	if old := st.parts[0]; n.head == old.head && len(st.parts) == 1 {
		fresh.marks = append(fresh.marks, p.headWords(old)...)
	}
	if p.keepAll(fresh); len(p.statements) > kept {
		p.understood(taken)
	}
}

// headWords are the words of a noun phrase without its end, side and level.
func (p *parser) headWords(n *nounPhrase) []span {
	var out []span
	for _, sp := range n.spans {
		for i := sp.first; i < sp.last; i++ {
			if s := p.items[i].s; s != nil && s.head != nil {
				out = append(out, span{i, i + 1})
			}
		}
	}
	return out
}
