package substitution

import (
	"maps"
	"slices"
)

// Build says what is fitted where on one bike. A place that is absent was not recorded, or the bike has none; a place
// with a nil part has a part of which nothing is known yet.
type Build map[Place]*Part

// With is a copy of the build with a part put in a place.
func (b Build) With(p Place, part *Part) Build {
	c := maps.Clone(b)
	if c == nil {
		c = Build{}
	}
	c[p] = part
	return c
}

// Places are the recorded places in the order of Sites.
func (b Build) Places() []Place {
	order := func(p Place) int { return slices.IndexFunc(sites, func(s Site) bool { return s.Place == p }) }
	return slices.SortedFunc(maps.Keys(b), func(p, q Place) int { return order(p) - order(q) })
}

// ringPlaces are where a crankset's rings sit, with the crankset's own dimension that names their teeth.
var ringPlaces = []struct {
	place Place
	teeth string
}{{"crank.outer-ring", "teeth_outer"}, {"crank.middle-ring", "teeth_middle"}, {"crank.inner-ring", "teeth_inner"}}

// Complete adds what follows from the rest: the teeth of rings that a crankset came with, where no ring is recorded.
// What is recorded is never changed.
func (b Build) Complete() Build {
	crank, c := b["crank"], maps.Clone(b)
	if crank == nil {
		return c
	}
	_, double := crank.Get("teeth_inner")
	for _, ring := range ringPlaces {
		teeth, known := crank.Get(ring.teeth)
		if !known || c[ring.place] != nil {
			continue
		}
		place := ring.place
		if _, middle := crank.Get("teeth_middle"); place == "crank.outer-ring" && !double && !middle {
			place = "crank.ring"
			if c[place] != nil {
				continue
			}
		}
		c[place] = &Part{Family: "chainring", Spec: Spec{"teeth": {Value: teeth, Origin: crank.Spec[ring.teeth].Origin}}}
	}
	return c
}

// Scene is a bike before and after a job, as far as the choice has got. Parts in Now that are the same as in Was are
// kept; places in Open are still to be chosen, and rules that touch them wait.
type Scene struct {
	Was  Build
	Now  Build
	Open map[Place]bool
}

// Choose is the scene with a part chosen for a place, which is then no longer open.
func (s Scene) Choose(p Place, part *Part) Scene {
	open := maps.Clone(s.Open)
	delete(open, p)
	return Scene{Was: s.Was, Now: s.Now.With(p, part), Open: open}
}

// kept reports whether the part at a place stays as it was.
func (s Scene) kept(p Place) bool { return s.Now[p] == s.Was[p] }
