package describe

import (
	"slices"

	"stead/substitution"
)

// longer is a phrase of several words and the node that it ends on.
type longer struct {
	phrase string
	node   int32
}

// inherit gives a name of several words what its words say: a "suspension seatpost" is a seatpost with a suspension,
// though each table may have named but one of the two. What the tables say of the whole phrase stands.
func (l *lexicon) inherit() {
	var s scratch
	for _, long := range l.longer {
		whole := l.senses[long.node]
		if whole.none || whole.not || whole.noise || whole.aside || whole.opens != mainClause {
			continue
		}
		s.lex(long.phrase)
		for i := range s.tokens {
			s.tokens[i].id = l.ids[string(s.lower(&s.tokens[i]))]
		}
		whole.inherit(l.parts(&s, whole))
	}
	l.longer = nil
	for text, id := range l.ids {
		if whole := l.alone(id); whole != nil && grammars()[whole.family] != nil && len(text) >= shortest {
			whole.inheritCompound(l, []byte(text))
		}
	}
}

// inheritCompound gives a compound that is a part's name what its first word says, where the second is a name of that part:
// "Ledergriffe" are of leather.
func (s *sense) inheritCompound(l *lexicon, text []byte) {
	for at := shortestBefore; at+shortestBefore <= len(text); at++ {
		head, first := l.alone(l.ids[string(text[at:])]), l.alone(l.firstOf(text[:at]))
		if head == nil || head.family != s.family || first == nil || !first.isAttribute() {
			continue
		}
		for _, says := range first.says {
			if says.speaksOf(s.family) && (says.in != nil || grammars()[s.family].gives(says.dimension)) && !s.saysOf(says.dimension) {
				says.in = []substitution.Family{s.family}
				s.says = append(s.says, says)
			}
		}
	}
}

// parts are what the words of a phrase mean, read as in a text but for the phrase itself.
func (l *lexicon) parts(s *scratch, whole *sense) []*sense {
	var out []*sense
	for i := 0; i < len(s.tokens); {
		part, end := l.find(s, i)
		for part != nil && end-i > 1 && (part == whole || part.saysNothing()) { // a shorter beginning may say something
			all := s.tokens
			s.tokens = all[:end-1]
			part, end = l.find(s, i)
			s.tokens = all
		}
		if part != nil {
			out = append(out, part)
		}
		i = max(end, i+1)
	}
	return out
}

// saysNothing reports whether a phrase names no family and gives no dimension: it only hints, or is understood.
func (s *sense) saysNothing() bool { return s.family == "" && len(s.says) == 0 }

// inherit adds the family that the last of the parts names, where the whole names none and speaks of that family only,
// and every dimension of the family that a part gives and the whole does not: its finish only beside the family's own
// name, for a "carbon paste" is not of carbon, though a "cork bar tape" is of cork.
func (s *sense) inherit(parts []*sense) {
	if s.family == "" {
		var last substitution.Family
		for _, part := range parts {
			if part.family != "" {
				last = part.family
			}
		}
		if last != "" && !isKind(last) && slices.ContainsFunc(s.says, func(says says) bool { return says.in != nil && says.speaksOf(last) }) {
			s.family = last
		}
	}
	g := grammars()[s.family]
	if g == nil {
		return
	}
	family := s.family
	if g.of != "" {
		family = g.of
	}
	named := slices.ContainsFunc(parts, func(part *sense) bool { return part.family == s.family })
	for _, part := range parts {
		for _, says := range part.says {
			if isFinish(says.dimension) && (!named || g.unfinished) || says.in == nil && !g.gives(says.dimension) || !says.speaksOf(family) || s.saysOf(says.dimension) {
				continue
			}
			says.in = []substitution.Family{family}
			s.says = append(s.says, says)
		}
	}
}

// saysOf reports whether the phrase gives the dimension already.
func (s *sense) saysOf(dim string) bool {
	return slices.ContainsFunc(s.says, func(says says) bool { return says.dimension == dim })
}
