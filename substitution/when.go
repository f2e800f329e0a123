package substitution

import "slices"

// When is what must be so for a rule to be asked: of a brake on a cable nobody asks which fluid it takes.
type When struct {
	Of      []Ref    // the first of these that the bike has
	Is      []string // it is one of these; where it is not known the rule is asked, unless it must be Known
	Not     []string // it is none of these, as far as known
	Known   bool     // it is known
	Unknown bool     // it is not known
	Fitted  []Place  // the bike has one of these; the rest of it need then not be given
}

// with asks a rule only on a bike that has one of some places.
func with(places ...Place) When { return When{Fitted: places} }

// given asks a rule only of parts of which a dimension is known.
func given(dimension string) When { return When{Of: []Ref{mine(dimension)}, Known: true} }

// notGiven asks a rule only of parts of which a dimension is not known.
func notGiven(dimension string) When { return When{Of: []Ref{mine(dimension)}, Unknown: true} }

// being asks a rule of parts that are, or may be, one of some words.
func being(dimension string, words ...string) When {
	return When{Of: []Ref{mine(dimension)}, Is: words}
}

// unless asks a rule of all parts but those known to be one of some words.
func unless(dimension string, words ...string) When {
	return When{Of: []Ref{mine(dimension)}, Not: words}
}

func (w When) met(s Scene, at Place) bool {
	if len(w.Fitted) > 0 {
		return slices.ContainsFunc(w.Fitted, func(p Place) bool { _, fitted := s.Now[resolve(p, at)]; return fitted })
	}
	d := s.first(w.Of, at)
	if !d.known {
		return !w.Known
	}
	is := func(word string) bool { return keyed(word, d.now) }
	return !w.Unknown && (len(w.Is) == 0 || slices.ContainsFunc(w.Is, is)) && !slices.ContainsFunc(w.Not, is)
}

// places are those that it looks at.
func (w When) places(at Place) []Place {
	out := scopeOf(at, w.Of...)
	for _, p := range w.Fitted {
		out = append(out, resolve(p, at))
	}
	return out
}

// asks tells whether all that a rule's When wants is so.
func (r *Rule) asks(s Scene, at Place) bool {
	for _, w := range r.When {
		if !w.met(s, at) {
			return false
		}
	}
	return true
}

// mayBeSilenced gives what is not known of a new neighbour and may say that the rule is none of the part's: a new hanger may
// have a thread of its own, and then nobody asks what the frame's is; a new rim may have a wider hole for the valve than
// the old tube tells of. For a neighbour that stays the old part vouches, and what is known of a new one decides.
func (r *Rule) mayBeSilenced(s Scene, at Place) (side, bool) {
	for _, w := range r.When {
		if len(w.Is) == 0 && !w.Unknown {
			continue // an exception, which is told of a part that is one
		}
		if d := s.first(w.Of, at); d.place != at && !d.known && d.changed && !r.knows(s, at, d.place) {
			return d, true
		}
	}
	return side{}, false
}

// knows tells whether anything that the rule reads of the part at a place is known.
func (r *Rule) knows(s Scene, at, place Place) bool {
	return slices.ContainsFunc(r.refs(), func(ref Ref) bool { d := s.side(ref, at); return d.place == place && d.known })
}

// narrow gives the rule's conditions for the part chosen for a place. Where that part itself decides whether the rule is
// asked there are none: the rule may be silent about it.
func (in *instance) narrow(s Scene, choosing Place) []Condition {
	for _, w := range in.rule.When {
		for _, ref := range w.Of {
			if resolve(ref.Place, in.at) == choosing {
				return nil
			}
		}
	}
	if !in.rule.asks(s, in.at) {
		return nil
	}
	return in.rule.Test.narrow(s, in.at, choosing)
}
