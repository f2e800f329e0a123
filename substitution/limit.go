package substitution

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Pick says which of several places a term takes its number from.
type Pick int

const (
	First    Pick = iota // the first place that the bike has
	Largest              // the largest over the places that the bike has
	Smallest             // the smallest over them
)

// Term is a number taken from the bike with its sign.
type Term struct {
	Sign int // +1 or -1
	Pick Pick
	Refs []Ref
}

// Limit asks that a sum over the bike be at most, or at least, a bound that a part sets:
// rings' difference plus sprockets' difference at most the derailleur's capacity.
//
// Where something was never measured and stays on the bike, the sum may not come nearer to the bound than it was.
type Limit struct {
	Sum      []Term
	AtMost   []Ref   // the part that sets the bound; the first of these that the bike has
	AtLeast  []Ref   // likewise, for a lower bound; exactly one of the two is given
	Plus     float64 // added to the bound: a tolerance that the source allows
	Optional bool    // the bike may have no part that sets the bound, or none to sum
	Strict   bool    // a bike that came over the limit may not stay there
}

func (t Limit) bound() ([]Ref, float64) {
	if t.AtMost != nil {
		return t.AtMost, 1
	}
	return t.AtLeast, -1
}

func (t Limit) scope(at Place) []Place {
	refs, _ := t.bound()
	for _, term := range t.Sum {
		refs = append(slices.Clip(refs), term.Refs...)
	}
	return scopeOf(at, refs...)
}

// reading is a term's number in a scene.
type reading struct {
	value, was      float64
	known, wasKnown bool
	changed         bool
	recorded        bool
	missing         []side
}

func (t Term) read(s Scene, at Place) reading {
	var now, was []float64
	r := reading{known: true, wasKnown: true}
	for _, ref := range t.Refs {
		d := s.side(ref, at)
		_, hadIt := s.Was[d.place]
		if !d.recorded && !hadIt {
			continue
		}
		r.recorded = r.recorded || d.recorded
		r.changed = r.changed || d.changed
		if d.recorded {
			if d.known {
				now = append(now, d.now.number)
			} else {
				r.known = false
				r.missing = append(r.missing, d)
			}
		}
		if hadIt {
			if d.wasKnown {
				was = append(was, d.was.number)
			} else {
				r.wasKnown = false
			}
		}
		if t.Pick == First {
			break
		}
	}
	if len(now) == 0 {
		r.known = false
	}
	if len(was) == 0 {
		r.wasKnown = false
	}
	pick := func(xs []float64) float64 {
		if t.Pick == Smallest {
			return slices.Min(xs)
		}
		return slices.Max(xs)
	}
	if r.known {
		r.value = pick(now)
	}
	if r.wasKnown {
		r.was = pick(was)
	}
	if len(r.missing) == 0 && !r.known {
		r.missing = append(r.missing, s.first(t.Refs, at))
	}
	return r
}

// weigh sums up the demand and the bound, and how far they moved: slack is bound less demand, turned so that a
// negative slack breaks the limit.
func (t Limit) weigh(s Scene, at Place) (demand, bound reading, move float64, moveKnown bool) {
	refs, sign := t.bound()
	b := Term{Sign: 1, Refs: refs}.read(s, at)
	demand = reading{known: true, wasKnown: true, recorded: true}
	moveKnown = true
	move = 0
	add := func(r reading, weight float64) {
		if !r.changed {
			return
		}
		if !r.known || !r.wasKnown {
			moveKnown = false
			return
		}
		move += weight * (r.value - r.was)
	}
	for _, term := range t.Sum {
		r := term.read(s, at)
		demand.value += float64(term.Sign) * r.value
		demand.known = demand.known && r.known
		demand.recorded = demand.recorded && r.recorded
		demand.changed = demand.changed || r.changed
		demand.missing = append(demand.missing, r.missing...)
		add(r, -sign*float64(term.Sign))
	}
	add(b, sign)
	return demand, b, move, moveKnown
}

func (t Limit) judge(s Scene, at Place) Judgement {
	demand, bound, move, moveKnown := t.weigh(s, at)
	_, sign := t.bound()
	changed := demand.changed || bound.changed
	notWorse := changed && moveKnown && move >= -rounding
	if demand.known && bound.known {
		j := Judgement{Answer: Holds, Found: figure(demand.value)}
		j.Wanted = t.relation() + " " + figure(bound.value+sign*t.Plus)
		j.Words = t.sums(s, at) + " is " + j.Found + ", " + j.Wanted + " wanted by the " + t.setter(s, at)
		if slack := sign * (bound.value - demand.value); slack+t.Plus < -rounding {
			if notWorse && !t.Strict {
				j.Before = true
				j.Words += "; beyond the limit as the bike came, and no further now"
				return j
			}
			j.Answer = Breaks
		}
		return j
	}
	if notWorse {
		return Judgement{Answer: Holds, Before: true, Words: t.sums(s, at) + " comes no nearer to the limit of the " + t.setter(s, at) + " than it was"}
	}
	if t.Optional && (!demand.recorded || !bound.recorded) {
		return Judgement{}
	}
	return untold(slices.Concat(demand.missing, bound.missing)...)
}

func (t Limit) relation() string {
	if t.AtMost != nil {
		return "at most"
	}
	return "at least"
}

func (t Limit) setter(s Scene, at Place) string {
	refs, _ := t.bound()
	return s.first(refs, at).place.words()
}

// sums names the sum: "outer chainring teeth − inner chainring teeth + …".
func (t Limit) sums(s Scene, at Place) string {
	var b strings.Builder
	for i, term := range t.Sum {
		if i > 0 || term.Sign < 0 {
			b.WriteString(map[bool]string{true: " − ", false: " + "}[term.Sign < 0])
		}
		d := s.first(term.Refs, at)
		switch term.Pick {
		case Largest:
			fmt.Fprintf(&b, "largest %s", d.dimension().Plain())
		case Smallest:
			fmt.Fprintf(&b, "smallest %s", d.dimension().Plain())
		default:
			fmt.Fprintf(&b, "%s %s", d.place.words(), d.dimension().Plain())
		}
	}
	return strings.TrimSpace(b.String())
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// narrow is exact when the place to be chosen enters the sum by terms of its own; where it shares a largest or
// smallest with other places, it does not narrow.
func (t Limit) narrow(s Scene, at, choosing Place) []Condition {
	refs, sign := t.bound()
	var own []WeightedTerm
	rest := 0.0
	take := func(term Term, weight float64) bool {
		for _, ref := range term.Refs {
			p, dim := ref.at(at)
			if p == choosing && (term.Pick == First || len(term.Refs) == 1) {
				own = append(own, WeightedTerm{weight, dim})
				return true
			} else if p == choosing {
				return false
			}
			if _, recorded := s.Now[p]; recorded && term.Pick == First {
				break
			}
		}
		r := term.read(s, at)
		rest += weight * r.value
		return r.known
	}
	for _, term := range t.Sum {
		if !take(term, sign*float64(term.Sign)) {
			return nil
		}
	}
	if !take(Term{Sign: 1, Refs: refs}, -sign) || len(own) == 0 {
		return nil
	}
	room := t.Plus - rest
	// The old part may have been beyond the limit already; a new one that is no further is accepted by judge.
	if !t.Strict {
		old := 0.0
		for _, term := range own {
			v, known := s.Was[choosing].Get(term.Dimension)
			if !known {
				old = room
				break
			}
			old += term.Weight * v.number
		}
		room = max(room, old)
	}
	return []Condition{Weighted{own, room + rounding}}
}
