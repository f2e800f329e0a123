package substitution

import (
	"fmt"
	"slices"
	"strings"
)

// Test is what a rule asks. The kinds are few and closed: Match, Share, Limit, Span, Lookup, Is and Same ask what their
// names say; Custom is for what none of them can put.
type Test interface {
	// scope lists the places that the test looks at, its own first.
	scope(at Place) []Place
	// judge answers in a scene where no place of the scope is open. The zero Judgement says that it does not apply.
	judge(s Scene, at Place) Judgement
	// narrow gives the conditions that the part chosen for one place must meet, or none.
	narrow(s Scene, at, choosing Place) []Condition
}

// side is one end of a comparison, looked up in a scene.
type side struct {
	place    Place
	dim      string
	now, was Value
	recorded bool // the bike has the place
	known    bool
	wasKnown bool
	changed  bool
	old      bool // it is the part that was there
}

func (s Scene) side(ref Ref, self Place) side {
	p, dim := ref.at(self)
	if ref.Old {
		return s.oldSide(p, dim)
	}
	now, recorded := s.Now[p]
	was := s.Was[p]
	d := side{place: p, dim: dim, recorded: recorded, changed: now != was}
	d.now, d.known = now.Get(dim)
	d.was, d.wasKnown = was.Get(dim)
	return d
}

// oldSide is a dimension of the part that was there; of a kept part it says nothing.
func (s Scene) oldSide(p Place, dim string) side {
	d := side{place: p, dim: dim, old: true}
	if !s.kept(p) {
		d.now, d.known = s.Was[p].Get(dim)
	}
	d.was, d.wasKnown, d.recorded = d.now, d.known, !s.kept(p) && s.Was[p] != nil
	return d
}

// first is the first ref whose place the bike has; if it has none of them, the first ref. Without refs it is a side
// that is never known and stays as it is.
func (s Scene) first(refs []Ref, self Place) side {
	if len(refs) == 0 {
		return side{}
	}
	for _, r := range refs {
		if d := s.side(r, self); d.recorded {
			return d
		}
	}
	return s.side(refs[0], self)
}

// dimension describes the side's dimension by the family that sits at its place.
func (d side) dimension() Dimension {
	if site, err := SiteOf(d.place); err == nil {
		if t, err := TableOf(site.Family); err == nil {
			if dim, ok := t.Dimension(d.dim); ok {
				return dim
			}
		}
	}
	panic(fmt.Sprintf("substitution: a rule names %s of %s, which has no such dimension", d.dim, d.place))
}

// saysNoMore tells whether the old part said something that the new one in its place does not say.
func (d side) saysNoMore() bool { return d.changed && d.wasKnown && !d.known }

func (d side) missing() Missing {
	return Missing{Place: d.place, Dimension: d.dim, Measure: d.dimension().Measure, Old: d.old}
}

// part is what the side is of: "crankset", "old chain".
func (d side) part() string {
	if d.old {
		return "old " + d.place.words()
	}
	return d.place.words()
}

// words of the side: "crankset BCD 110 mm".
func (d side) words() string {
	dim := d.dimension()
	if dim.Name == "speeds" {
		return dim.Show(d.now) + " " + d.part()
	}
	return d.partsOwn() + " " + dim.Show(d.now)
}

// partsOwn names the dimension as the part's: "crankset BCD". A word with which the part's name ends and the dimension's
// begins is said once: "brake rotor diameter".
func (d side) partsOwn() string {
	part, dim := d.part(), d.dimension().Plain()
	shared, rest, _ := strings.Cut(dim, " ")
	if part != shared && !strings.HasSuffix(part, " "+shared) {
		return part + " " + dim
	}
	return strings.TrimSuffix(part+" "+rest, " ")
}

// untold is the can't-tell for sides that are not known.
func untold(sides ...side) Judgement {
	j := Judgement{Answer: CantTell}
	var names []string
	for _, d := range sides {
		if d.known {
			j.Found = d.words()
			continue
		}
		j.Missing = append(j.Missing, d.missing())
		names = append(names, d.dimension().Plain()+" of the "+d.part())
	}
	j.Words = "not known: " + strings.Join(names, ", ")
	return j
}

// untoldOld is the can't-tell of a part that only the old part could vouch for.
func untoldOld(me side) Judgement {
	if !me.known {
		return untold(me)
	}
	d := me.dimension()
	missing := me.missing()
	missing.Old = true
	return Judgement{Answer: CantTell, Found: me.words(), Missing: []Missing{missing},
		Words: "not known: " + d.Plain() + " of the old " + me.place.words()}
}

func scopeOf(at Place, refs ...Ref) []Place {
	out := []Place{at}
	for _, r := range refs {
		if p := resolve(r.Place, at); !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}
