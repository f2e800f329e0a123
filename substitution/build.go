package substitution

import (
	"maps"
	"slices"

	"stead/substitution/standard"
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

// Without is a copy without a record of a place.
func (b Build) Without(p Place) Build {
	c := maps.Clone(b)
	delete(c, p)
	return c
}

// Places are the recorded places in the order of Sites.
func (b Build) Places() []Place {
	order := func(p Place) int { return slices.IndexFunc(sites, func(s Site) bool { return s.Place == p }) }
	return slices.SortedFunc(maps.Keys(b), func(p, q Place) int { return order(p) - order(q) })
}

type ringPlace struct {
	place    Place
	teeth    string
	position string
}

// ringPlaces are where rings sit, with the crankset's own dimension that names their teeth. A crankset that comes with
// one ring has it in the place of the single ring.
var ringPlaces = []ringPlace{
	{"crank.outer-ring", "teeth_outer", "outer"},
	{"crank.middle-ring", "teeth_middle", "middle"},
	{"crank.inner-ring", "teeth_inner", "inner"},
	{"crank.ring", "teeth_outer", "single"},
}

const ringOfCrankset = "ring of the crankset"

// ringsOf are the rings that a crankset comes with, as far as its own dimensions tell.
func ringsOf(crank *Part) map[Place]*Part {
	rings := map[Place]*Part{}
	_, inner := crank.Get("teeth_inner")
	_, middle := crank.Get("teeth_middle")
	for _, ring := range ringPlaces {
		if _, known := crank.Get(ring.teeth); !known || ring.teeth == "teeth_outer" && (ring.position == "single") == (inner || middle) {
			continue
		}
		teeth := crank.Spec[ring.teeth]
		spec := Spec{"teeth": teeth, "position": {Value: Text(ring.position), Origin: teeth.Origin}}
		circle := "bcd_mm"
		if ring.position == "inner" && !sharesCircle(crank) {
			circle = "bcd_inner_mm"
		}
		for dim, from := range map[string]string{"bcd_mm": circle, "bolts": "bolts", "bolt_pattern": "bolt_pattern", "direct_mount": "direct_mount", "speeds": "speeds", "roller": "roller"} {
			if fact, known := crank.Spec[from]; known {
				spec[dim] = fact
			}
		}
		rings[ring.place] = &Part{Family: "chainring", Name: ringOfCrankset, Spec: spec}
	}
	return rings
}

// sharesCircle tells whether a crankset's inner ring can be on the circle of its outer one: that of a triple has its own,
// that of a double where it says so or where its teeth would not clear the bolts.
func sharesCircle(crank *Part) bool {
	_, own := crank.Get("bcd_inner_mm")
	_, triple := crank.Get("teeth_middle")
	teeth, known := crank.Get("teeth_inner")
	circle, told := crank.Get("bcd_mm")
	return !own && !triple && !(known && told && !standard.RingClearsBolts(int(teeth.number), circle.number))
}

// Complete adds what follows from the rest: the rings that a crankset came with, where no ring is recorded.
// What is recorded is never changed.
func (b Build) Complete() Build {
	c := maps.Clone(b)
	for place, ring := range ringsOf(b["crank"]) {
		if place == "crank.ring" && b["crank.outer-ring"] != nil {
			continue // the only ring was written down as the outer one
		}
		if c[place] == nil {
			c[place] = ring
		}
	}
	return c
}

// CompleteFor is Complete for a question about what is at a place. Of what sits on a freehub body the hub has the body's
// spline and length, where nobody noted the hub's own.
func (b Build) CompleteFor(at Place) Build {
	c := b.Complete()
	body, hub := b["rear.freehub"], b["rear.hub"]
	if body == nil || at != "rear.cassette" && at != "rear.sprocket" && at != "rear.freewheel" {
		return c
	}
	spec, name := Spec{}, ""
	for _, dim := range []string{"freehub", "body_mm"} {
		if fact, known := body.Spec[dim]; known {
			spec[dim] = fact
		}
	}
	if hub != nil {
		maps.Copy(spec, hub.Spec)
		name = hub.Name
	}
	if len(spec) > 0 {
		c["rear.hub"] = &Part{Family: "hub", Name: name, Spec: spec}
	}
	return c
}

// cameTogether tells whether a rule asks a ring of the very crankset that it came with: the two are one part.
func (s Scene) cameTogether(in *instance) bool {
	ring := s.Now[in.at]
	if ring == nil || ring.Name != ringOfCrankset || !in.names("crank") {
		return false
	}
	fresh := ringsOf(s.Now["crank"])[in.at]
	return fresh != nil && alikeInAll(ring, fresh)
}

// Scene is a bike before and after a job, as far as the choice has got. Parts in Now that are the same as in Was are
// kept; places in Open are still to be chosen, and rules that touch them wait.
type Scene struct {
	Was  Build
	Now  Build
	Open map[Place]bool
	// Waived are rules that are not asked of a place, because a person answers for what they would find there. What they
	// find is told all the same: see [Verdict.Waived].
	Waived map[Waiver]bool

	aside bool // two parts held side by side, and no bike
}

// Waiver names a rule where it applies.
type Waiver struct {
	Rule string
	At   Place // the place of the part that the rule belongs to
}

// Choose is the scene with a part chosen for a place, which is then no longer open.
func (s Scene) Choose(p Place, part *Part) Scene {
	open := maps.Clone(s.Open)
	delete(open, p)
	return Scene{Was: s.Was, Now: s.Now.With(p, part), Open: open, Waived: s.Waived}
}

// kept reports whether the part at a place stays as it was.
func (s Scene) kept(p Place) bool { return s.Now[p] == s.Was[p] }

// withNewRings lets a newly chosen crankset bring the rings it comes with: kept rings leave the bike with the old crankset.
func (s Scene) withNewRings() Scene {
	if s.kept("crank") {
		return s
	}
	rings := ringsOf(s.Now["crank"])
	if len(rings) == 0 {
		return s
	}
	now := maps.Clone(s.Now)
	for _, ring := range ringPlaces {
		if !s.kept(ring.place) || s.Open[ring.place] {
			continue
		}
		delete(now, ring.place)
		if fresh := rings[ring.place]; fresh != nil {
			now[ring.place] = fresh
		}
	}
	return Scene{Was: s.Was, Now: now, Open: s.Open, Waived: s.Waived}
}
