package substitution

import (
	"fmt"
	"slices"
)

// Instance is a rule where it applies: the chainring's bolt circle at the outer ring. A solver asks each instance
// once for all parts that look alike to it, instead of every rule for every combination of parts.
type Instance struct{ in *instance }

// Instances are the rules that look at one of the places, each once, in the same order every time.
func Instances(places ...Place) []Instance {
	var out []Instance
	seen := map[*instance]bool{}
	for _, p := range places {
		for _, in := range instances[p] {
			if !seen[in] {
				seen[in] = true
				out = append(out, Instance{in})
			}
		}
	}
	return out
}

// Rule is the rule that applies.
func (i Instance) Rule() *Rule { return i.in.rule }

// At is the place of the part that the rule belongs to.
func (i Instance) At() Place { return i.in.at }

// Places are those that the rule looks at, its own first.
func (i Instance) Places() []Place { return i.in.scope }

// Reads are the dimensions on which the answer depends, each with the place where it is read. An empty dimension
// stands for all that is known of the part there.
func (i Instance) Reads() []Ref {
	refs := i.in.rule.refs()
	out := make([]Ref, len(refs))
	for k, r := range refs {
		out[k].Place, out[k].Dimension = r.at(i.in.at)
	}
	if slices.ContainsFunc(ringPlaces, func(r ringPlace) bool { return slices.Contains(i.Places(), r.place) }) {
		out = append(out, Ref{Place: "crank"}) // it may bring its rings
	}
	return out
}

// ReadsAt are the dimensions that the rule reads at any of the places; an empty one stands for all that is known there.
func (i Instance) ReadsAt(places ...Place) []string {
	var dims []string
	for _, r := range i.Reads() {
		if slices.Contains(places, r.Place) && !slices.Contains(dims, r.Dimension) {
			dims = append(dims, r.Dimension)
		}
	}
	return dims
}

// Judge is what Check finds for this one rule. The zero Judgement says that it waits for an open place or does not
// apply.
func (s Scene) Judge(i Instance) Judgement {
	s = s.withNewRings()
	if s.waits(i.in) || s.ringsStay(i.in) {
		return Judgement{}
	}
	return i.in.judge(s)
}

// refs are the dimensions that a rule names, its test's and those of its When.
func (r *Rule) refs() []Ref {
	var refs []Ref
	for _, w := range r.When {
		refs = append(refs, w.Of...)
	}
	switch t := r.Test.(type) {
	case Match:
		return append(append(refs, mine(t.Mine)), t.Theirs...)
	case Share:
		if t.Free != nil {
			refs = append(refs, mine(t.Free.Dimension))
		}
		return append(append(refs, mine(t.Mine)), t.Theirs...)
	case Limit:
		bound, _ := t.bound()
		return append(append(refs, bound...), termRefs(t.Sum)...)
	case Span:
		return append(refs, termRefs(t.Sum)...)
	case Lookup:
		return append(refs, t.Of...)
	case Is:
		return append(refs, mine(t.Mine))
	case Same:
		for _, dim := range t.Mine {
			refs = append(refs, mine(dim))
		}
		return refs
	case Custom:
		return append(refs, t.Of...)
	}
	panic(fmt.Sprintf("substitution: rule %s has a test of an unknown kind", r.ID))
}

func termRefs(terms []Term) []Ref {
	var refs []Ref
	for _, term := range terms {
		refs = append(refs, term.Refs...)
	}
	return refs
}
