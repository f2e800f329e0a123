package note

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// otherWords takes back what was denied only to be said in another word: "isn't bent, it's warped".
func (p *parser) otherWords(says []*predicate) {
	p.last.says = slices.DeleteFunc(slices.Clone(p.last.says), func(old *predicate) bool {
		return old.negated && slices.ContainsFunc(says, func(pr *predicate) bool {
			return !pr.negated && (alike(old, pr) || old.straight && pr.bend)
		})
	})
}

// overrule takes out of a copied statement what "but that one's smooth" contradicts, and what was decided for the other.
func (p *parser) overrule(says []*predicate) {
	var left []*predicate
	for _, pr := range p.last.says {
		c := *pr
		c.action = ""
		c.readings = slices.DeleteFunc(slices.Clone(c.readings), func(r fact) bool { return named(says, r.name) || anyKeep(says) })
		if c.bend || c.straight {
			c.bend, c.straight, c.readings = false, false, nil
		}
		if len(c.readings)+len(c.facts) > 0 {
			left = append(left, &c)
		}
	}
	p.last.says = left
}

// anyKeep reports that a part is said to be fine.
func anyKeep(says []*predicate) bool {
	return slices.ContainsFunc(says, func(pr *predicate) bool { return pr.action == inspection.Keep })
}

func named(says []*predicate, reading string) bool {
	for _, pr := range says {
		for _, r := range pr.readings {
			if r.name == reading {
				return true
			}
		}
	}
	return false
}

func sameMeaning(a, b []resolved) bool {
	return slices.EqualFunc(a, b, func(x, y resolved) bool { return slices.Equal(x.places, y.places) })
}

// copyLast says of another part what was said of the last one.
func (p *parser) copyLast(u *unit, parts []*nounPhrase, means []resolved) {
	if p.last == nil || u.sameAs != nil && !p.lastIs(u.sameAs) || p.pieceOfSuch(parts) {
		return
	}
	marks := append(slices.Clone(u.marks), u.sameAt)
	var says []*predicate
	for _, st := range p.spokenLast() {
		for _, pr := range st.says {
			c := *pr
			c.only(u.sameOf)
			says = append(says, &c)
		}
	}
	if p.last.copied {
		says = p.last.says
	}
	st := &statement{parts: parts, means: means, says: says, marks: marks, copied: true}
	had := len(p.statements)
	p.keepAll(st)
	if len(p.statements) > had && len(st.says) != len(says) {
		st.says = nil // it cannot have all of it: then it is not the same
	}
}

// pieceOfSuch reports that what was spoken of last is a piece of such a part: "front hub: cones pitted, axle fine. Rear
// hub the same." is more than the axle.
func (p *parser) pieceOfSuch(parts []*nounPhrase) bool {
	return slices.ContainsFunc(placesIn(p.last.means), func(q substitution.Place) bool {
		return slices.ContainsFunc(parts, func(n *nounPhrase) bool { return n.head != nil && slices.Contains(n.head.places, houseOf(q)) })
	})
}

// copyEnd says of one end all that was said of the other under its heading, "Front: rotor 1.7, pads 1.5. Same at the
// back.", or in the sentence before: "Front pads past the line, cable frayed. Same at the back." Of "rear brake the
// same" it is what was said of the front brake's parts. It reports false where no end was a heading, or only one part
// stands under it.
func (p *parser) copyEnd(u *unit, n *nounPhrase, killed bool) bool {
	end := n.mod & ends
	from, apart := p.begun, false
	if from == len(p.statements) {
		from, apart = p.begunLast, true
	}
	spoken := slices.Clone(p.statements[from:])
	least := 2
	if n.head != nil {
		spoken, least = ofBrake(spoken, n.head), 1
	}
	headed := p.carriedBy == nil || apart || n.head != nil
	if end == 0 || both(end) || p.carried != ends&^end || !headed || len(spoken) < least || killed || len(u.sameOf) > 0 || u.sameAs != nil {
		return false
	}
	had, before, last := p.carried, len(p.statements), p.last
	p.carried, p.carriedSpans = end, n.spans
	for _, st := range spoken {
		if !p.copyTo(end, had, st, append(append(slices.Clone(u.marks), u.sameAt), n.spans...)) {
			p.statements, p.last = p.statements[:before], last // it cannot have all of it: then it is not the same
			break
		}
	}
	return true
}

// ofBrake are the statements of a brake's parts; none where it was spoken of itself.
func ofBrake(spoken []*statement, brake *head) []*statement {
	if brake.family != "brake-caliper" {
		return nil
	}
	return slices.DeleteFunc(spoken, func(st *statement) bool {
		places := placesIn(st.means)
		return len(ofSystem(places, brake)) != len(places)
	})
}

// notCopied takes out of what was copied from the other end what is now said of the part in its own words: "rear the
// same, but the lever's firm".
func (s *settling) notCopied() bool {
	for _, st := range s.statements[min(s.begun, len(s.statements)):] {
		if st.copied && sameMeaning(st.means, s.means) {
			had := s.last
			s.last = st
			s.overrule(s.says)
			s.last = had
		}
	}
	return false
}

// copyTo says a statement of one end of the other. It reports false where the other end cannot have it.
func (p *parser) copyTo(end, had mod, st *statement, marks []span) bool {
	again := &statement{says: st.says, marks: marks, copied: true}
	for i, part := range st.parts {
		if len(within(st.means[i].places, had)) != len(st.means[i].places) {
			return true // of the bike as a whole
		}
		other := *part
		other.mod, other.again = other.mod&^ends|end, true
		r, ok := p.atEnd(&other, st.means[i], had, end)
		if !ok {
			return false
		}
		again.parts, again.means = append(again.parts, &other), append(again.means, r)
	}
	kept := len(p.statements)
	p.keepAll(again)
	return len(p.statements) > kept && len(again.says) == len(st.says)
}

// atEnd is what a part means at the other end. A cable keeps what it is of, though only its brake was named: "front
// brake: cable frayed".
func (p *parser) atEnd(n *nounPhrase, m resolved, had, end mod) (resolved, bool) {
	if n.head == nil || n.head.family != "cable-inner" && n.head.family != "cable-outer" {
		return p.resolve(n)
	}
	names := map[mod]string{front: "front.", rear: "rear."}
	var out resolved
	for _, q := range m.places {
		out.places = append(out.places, substitution.Place(strings.Replace(string(q), names[had], names[end], 1)))
	}
	return out, len(out.places) > 0
}

// spokenLast are the statements of the part that was spoken of last, back to where another was.
func (p *parser) spokenLast() []*statement {
	i := len(p.statements)
	for i > 0 && i > len(p.statements)-farBack {
		st := p.statements[i-1]
		if len(st.says) > 0 && (st.copied || !sameMeaning(st.means, p.last.means)) {
			break
		}
		i--
	}
	return p.statements[i:]
}

// elided says of another part what was denied or said of the last one: "front isn't cut, rear is".
func (p *parser) elided(u *unit, parts []*nounPhrase, means []resolved) {
	if p.spared != "" {
		if u.elided == is {
			p.keepAll(&statement{parts: parts, means: means, says: []*predicate{{action: p.spared, spans: u.marks}}})
		}
		return
	}
	if p.last == nil {
		return
	}
	var says []*predicate
	for _, pr := range p.last.says {
		c := *pr
		c.readings = slices.Clone(pr.readings)
		switch {
		case u.elided == is && pr.negated:
			plain := *pr.plain
			plain.spans = pr.spans
			c = plain
		case u.elided == isNot && !pr.negated:
			works := len(c.readings) == 1 && c.readings[0].name == "lit" && len(pr.spans) > 0 && strings.HasPrefix(p.at(pr.spans[len(pr.spans)-1].first).text, "work")
			switch c.negate(); {
			case works:
				c.void, c.readings = false, []fact{{"lit", substitution.Text("dark")}} // "front lamp works, rear doesn't"
			case c.void && p.noneOf(u, pr):
				c.void, c.readings = false, []fact{{"play", substitution.Text("none")}}
			case c.void:
				return
			}
		}
		says = append(says, &c)
	}
	p.keepAll(&statement{parts: parts, means: means, says: says, marks: u.marks})
}

// noneOf reports that a play is denied of another part whatever its degree: "the front has slight play, the rear has none". That
// one hasn't such play leaves open whether it has another.
func (p *parser) noneOf(u *unit, pr *predicate) bool {
	return len(pr.readings) == 1 && pr.readings[0].name == "play" && p.at(u.marks[len(u.marks)-1].first).text == "none"
}

// lastIs reports that "the same as the front" goes back to what was spoken of last.
func (p *parser) lastIs(n *nounPhrase) bool {
	if n.noPlace || n.wheel {
		return false
	}
	for _, m := range p.last.means {
		if len(within(m.places, n.mod)) != len(m.places) {
			return false
		}
	}
	return n.head == nil && !n.other || n.head == p.last.parts[0].head
}

// only leaves of a predicate what "the same size" or "the same stamp" can mean; all of it where nothing is named.
func (pr *predicate) only(names []string) {
	if len(names) == 0 {
		return
	}
	pr.action, pr.bend, pr.straight = "", false, false
	pr.readings = slices.DeleteFunc(slices.Clone(pr.readings), func(f fact) bool { return !slices.Contains(names, f.name) })
	pr.facts = slices.DeleteFunc(slices.Clone(pr.facts), func(f fact) bool {
		size := f.name == "designation" || f.name == "thread" || f.name == "chain_width" || strings.HasSuffix(f.name, "_mm")
		return !slices.Contains(names, f.name) && !(size && slices.Contains(names, anySize))
	})
}
