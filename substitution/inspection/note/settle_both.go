package note

import (
	"slices"
)

// paired is a part with what it means.
type paired struct {
	part  *nounPhrase
	means resolved
}

// ofBoth settles what is said of both of two parts, or of all.
func (p *parser) ofBoth(u *unit, n *nounPhrase, both []paired, says []*predicate, verb *predicate) {
	if verb != nil {
		says = append([]*predicate{verb}, says...)
	}
	if len(says) == 0 {
		return
	}
	marks := append(slices.Clone(u.marks), n.spans...)
	st := &statement{says: says, marks: marks}
	for _, one := range both {
		st.parts, st.means = append(st.parts, one.part), append(st.means, one.means)
	}
	p.several, p.subjects, p.ofSubjects = true, slices.Clone(st.means), st.parts
	p.keepAll(st)
}

// pair gives for a bare "both" the two parts that this sentence, or else the one before it, names, and for a bare "all"
// those of this sentence.
func (p *parser) pair(n *nounPhrase) []paired {
	switch {
	case !n.every || n.mod != 0 || n.head != nil || n.sides:
		return nil
	case n.all:
		return p.allNamed(n)
	}
	named := p.pairs[1]
	if len(named) == 0 {
		if named = p.pairs[0]; len(named) == 1 && len(p.earlier) == 1 {
			named = []paired{p.earlier[0], named[0]} // "cassette hooked. Chain 1.1. Replace both."
		}
	}
	named = withoutMany(withoutHouses(withoutOpen(named)))
	if len(named) != 2 || len(named[0].means.places) != 1 || len(named[1].means.places) != 1 || named[0].means.places[0] == named[1].means.places[0] {
		return nil
	}
	return named
}

// allNamed are the parts that "all" stands for, if each of them is settled.
func (p *parser) allNamed(n *nounPhrase) []paired {
	named := p.pairs[1]
	if n.counted > 0 && len(named) == 0 {
		named = p.pairs[0] // "chain shot, cassette hooked, ring hooked. Replace all three."
	}
	if n.counted == 0 && len(named) == 1 && p.subject != nil && p.subject.head != nil && (p.subject.head.many || p.subject.head.set) && len(p.subjects) == 1 {
		return []paired{{p.subject, p.subjects[0]}} // "rear nipples corroded, replace them all"
	}
	unsettled := func(q paired) bool { return len(q.means.places) == 0 || q.part.noPlace }
	if len(named) < 2 || n.counted > 0 && n.counted != len(named) || slices.ContainsFunc(named, unsettled) {
		return nil
	}
	return named
}

// withoutOpen leaves out the rotor of "rotor thickness: front 1.7, rear 1.6, both …", of which it is open which is meant.
func withoutOpen(named []paired) []paired {
	return slices.DeleteFunc(slices.Clone(named), func(open paired) bool {
		return len(open.means.places) == 0 && slices.ContainsFunc(named, func(q paired) bool { return q.part.head == open.part.head && len(q.means.places) > 0 })
	})
}

// withoutHouses leaves out the hub of "rear hub: left rough, right rough, both …".
func withoutHouses(named []paired) []paired {
	return slices.DeleteFunc(slices.Clone(named), func(house paired) bool {
		return slices.ContainsFunc(named, func(in paired) bool { return len(inHouse(in.means.places, house.means.places)) > 0 })
	})
}

// withoutMany leaves out the bearings of "bearings: left rough, right notchy, both …".
func withoutMany(named []paired) []paired {
	if len(named) != 3 {
		return named
	}
	all := slices.Clone(named)
	return slices.DeleteFunc(named, func(many paired) bool {
		others := func(one paired) bool {
			return len(one.means.places) == 1 && !slices.Contains(many.means.places, one.means.places[0])
		}
		return len(many.means.places) == 2 && !slices.ContainsFunc(all, others)
	})
}
