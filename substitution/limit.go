package substitution

import (
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Term is a number taken from the bike with its sign: the first of the refs that the bike has.
type Term struct {
	Sign float64 // +1 or -1
	Refs []Ref
}

func plus(refs ...Ref) Term  { return Term{1, refs} }
func minus(refs ...Ref) Term { return Term{-1, refs} }

// Limit asks that a sum over the bike be at most, or at least, a bound that a part sets:
// rings' difference plus sprockets' difference at most the derailleur's capacity.
//
// Where something was never measured and stays on the bike, the sum may not come nearer to the bound than it was.
type Limit struct {
	Sum      []Term
	AtMost   []Ref   // the part that sets the bound; the first of these that the bike has
	AtLeast  []Ref   // likewise, for a lower bound; exactly one of the two is given
	Plus     float64 // how far beyond the bound the source allows
	Optional bool    // the bike may have no part that sets the bound, or none to sum
	Strict   bool    // a bike that came over the limit may not stay there
	Rare     bool    // where nothing of the sum or the bound is known, nor was, the rule is silent
	Doubt    float64 // how far beyond the bound it is not broken yet but asked
	Ask      string  // what to see to then
	Lowest   float64 // no part sets the bound lower than this: a sum up to it holds whatever the bound is
}

// bound is the part that sets the limit, and which way it points: +1 at most, -1 at least.
func (t Limit) bound() ([]Ref, float64) {
	if t.AtMost != nil {
		return t.AtMost, 1
	}
	return t.AtLeast, -1
}

// balance lists what makes the room that is left: the bound for, the sum against.
func (t Limit) balance() iter.Seq[Term] {
	return func(yield func(Term) bool) {
		refs, way := t.bound()
		if !yield(Term{way, refs}) {
			return
		}
		for _, term := range t.Sum {
			if !yield(Term{-way * term.Sign, term.Refs}) {
				return
			}
		}
	}
}

func (t Limit) scope(at Place) []Place {
	var refs []Ref
	for term := range t.balance() {
		refs = append(refs, term.Refs...)
	}
	return scopeOf(at, refs...)
}

// room is how much is left to the limit, and how much of it the change made.
type room struct {
	left, gained           float64
	leftKnown, gainedKnown bool
	changed, recorded      bool
	anyKnown               bool // of what is now or was
	unmeasured             bool // an old part that sets the bound was there and nobody measured it
	missing                []side
}

// weigh adds up the room over every term whose place is not skipped; the part that was there is no part to choose.
func (t Limit) weigh(s Scene, at Place, skip Place) room {
	r := room{leftKnown: true, gainedKnown: true, recorded: true}
	for term := range t.balance() {
		d := s.first(term.Refs, at)
		if d.place == skip && !d.old {
			continue
		}
		r.recorded = r.recorded && d.recorded && (d.known || !d.old)
		r.unmeasured = r.unmeasured || d.old && d.recorded && !d.known
		r.changed = r.changed || d.changed
		r.anyKnown = r.anyKnown || d.known || d.wasKnown
		if d.known {
			r.left += term.Sign * d.now.number
		} else {
			r.leftKnown = false
			r.missing = append(r.missing, d)
		}
		if d.changed {
			r.gainedKnown = r.gainedKnown && d.known && d.wasKnown
			r.gained += term.Sign * (d.now.number - d.was.number)
		}
	}
	return r
}

func (t Limit) judge(s Scene, at Place) Judgement {
	r := t.weigh(s, at, "")
	notWorse := r.changed && r.gainedKnown && r.gained >= -rounding
	if r.leftKnown {
		refs, way := t.bound()
		bound := s.first(refs, at).now.number
		j := Judgement{Answer: Holds, Found: figure(bound - way*r.left), Wanted: t.relation() + " " + figure(bound+way*t.Plus)}
		j.Words = t.sums(s, at)
		if len(t.Sum) > 1 {
			j.Words += " is " + j.Found
		}
		j.Words += ", and the " + t.setter(s, at) + " wants " + j.Wanted
		if r.left+t.Plus < -rounding {
			if notWorse && !t.Strict {
				j.Before = true
				j.Words += "; beyond the limit as the bike came, and no further now"
				return j
			}
			j.Answer = Breaks
			if r.left+t.Plus+t.Doubt >= -rounding {
				j.Answer = CantTell
				j.Words += ": " + t.Ask
				if refs := t.Sum[0].Refs; len(refs) > 0 {
					d := s.first(refs, at)
					j.Missing = []Missing{{Place: d.place, Dimension: d.dim, Measure: t.Ask}}
				}
			}
		}
		return j
	}
	if notWorse {
		return Judgement{Answer: Holds, Before: true, Words: t.sums(s, at) + " comes no nearer to the limit of the " + t.setter(s, at) + " than it was"}
	}
	if j, ok := t.underAll(s, at); ok {
		return j
	}
	if j, ok := t.overAlready(s, at, r); ok {
		return j
	}
	refs, _ := t.bound()
	byOld := slices.ContainsFunc(refs, func(ref Ref) bool { return ref.Old })
	if t.Optional && !r.recorded && !(r.unmeasured && r.anyKnown) || (t.Rare || t.Optional && byOld) && !r.anyKnown {
		return Judgement{}
	}
	return untold(r.missing...)
}

// underAll judges a sum that is so small that it lies under every bound, known or not.
func (t Limit) underAll(s Scene, at Place) (Judgement, bool) {
	sum := Limit{Sum: t.Sum}.weigh(s, at, "")
	if t.Lowest == 0 || !sum.leftKnown || sum.left > t.Lowest+rounding {
		return Judgement{}, false
	}
	return Judgement{Answer: Holds, Found: figure(sum.left), Wanted: t.relation() + " " + figure(t.Lowest), Words: t.sums(s, at) + ", and no " + t.setter(s, at) + " wants less than " + figure(t.Lowest)}, true
}

// overAlready judges a sum of which the new part's own is more than the bound allows: what is not known only adds to it.
func (t Limit) overAlready(s Scene, at Place, r room) (Judgement, bool) {
	bound := s.first(t.AtMost, at)
	own := slices.ContainsFunc(t.Sum, func(term Term) bool {
		d := s.first(term.Refs, at)
		return d.place == at && d.known && d.changed && !d.wasKnown
	})
	adds := !slices.ContainsFunc(t.Sum, func(term Term) bool { return term.Sign < 0 })
	if t.AtMost == nil || !bound.known || len(t.Sum) < 2 || !adds || !own || !r.changed || r.left+t.Plus+t.Doubt >= -rounding {
		return Judgement{}, false
	}
	return Judgement{Answer: Breaks, Found: figure(bound.now.number - r.left), Wanted: "at most " + figure(bound.now.number+t.Plus),
		Words: t.sums(s, at) + ", and the " + bound.part() + " wants at most " + figure(bound.now.number+t.Plus)}, true
}

func (t Limit) relation() string {
	if t.AtMost != nil {
		return "at most"
	}
	return "at least"
}

func (t Limit) setter(s Scene, at Place) string {
	refs, _ := t.bound()
	return s.first(refs, at).part()
}

// sums names the sum, with figures where they are known: "outer chainring teeth 50T − inner chainring teeth 34T".
func (t Limit) sums(s Scene, at Place) string {
	var b strings.Builder
	for i, term := range t.Sum {
		switch {
		case term.Sign < 0:
			b.WriteString(" − ")
		case i > 0:
			b.WriteString(" + ")
		}
		d := s.first(term.Refs, at)
		b.WriteString(d.partsOwn())
		if d.known {
			b.WriteString(" " + d.dimension().Show(d.now))
		}
	}
	return strings.TrimSpace(b.String())
}

// figure is a number as it is written: 35 − 0.4 is 34.6 and not a hair less.
func figure(x float64) string { return strconv.FormatFloat(math.Round(x*1e6)/1e6, 'f', -1, 64) }

// narrow weighs what the chosen part would add against the room that the rest leaves. A part that only makes no less
// room than the old one is accepted by judge as well, so the wider of the two rooms counts.
func (t Limit) narrow(s Scene, at, choosing Place) []Condition {
	var own []WeightedTerm
	was, wasKnown := 0.0, true
	for term := range t.balance() {
		if d := s.first(term.Refs, at); d.place == choosing && !d.old {
			own = append(own, WeightedTerm{-term.Sign, d.dim})
			was -= term.Sign * d.was.number
			wasKnown = wasKnown && d.wasKnown
		}
	}
	rest := t.weigh(s, at, choosing)
	byLimit := rest.leftKnown
	byBefore := wasKnown && rest.gainedKnown && !(t.Strict && rest.leftKnown)
	limit, before := rest.left+t.Plus+t.Doubt, max(was+rest.gained, t.Lowest)
	switch {
	case len(own) == 0, t.Optional && !rest.recorded:
		return nil
	case byLimit && byBefore:
		return []Condition{Weighted{own, max(limit, before) + rounding}}
	case byLimit:
		return []Condition{Weighted{own, limit + rounding}}
	case byBefore:
		return []Condition{Weighted{own, before + rounding}}
	}
	return nil
}
