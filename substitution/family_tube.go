package substitution

import (
	"fmt"
	"slices"
)

var _ = families(&tube)

var tube = Table{
	Family: "tube", Plural: "tubes",
	Sites: []Site{
		{Place: "front.tube", Words: "front tube", Safety: true},
		{Place: "rear.tube", Words: "rear tube", Safety: true},
	},
	Readings: []Reading{damaged, wanted("one a wheel; say otherwise")},
	Work: []Work{
		{Replace, "fit tube", 15},
	},
	Dimensions: []Dimension{
		bead,
		{Name: "beads", Form: Ints, Low: 100, High: 720, Means: "bead seats", Measure: "read all sizes on the box: 622, 630 and 635 share tubes"},
		count("width_min_mm", "least tyre width", 10, 130, "read the box"),
		count("width_max_mm", "most tyre width", 10, 150, "read the box"),
		word("valve", "valve", "look: presta is thin with a nut, schrader as on a car, dunlop has a collar", "presta", "schrader", "dunlop"),
		millimetres("valve_mm", "valve length", 20, 120, "caliper from the tube to the tip"),
	},
	Ordered: [][2]string{{"width_min_mm", "width_max_mm"}},
	Agrees:  []Agreement{oneOfBeads},
	Rules: []Rule{
		{
			ID: "tube.bead", Severity: Mating,
			Says:   "the tube is for the tyre's bead seat; one tube serves 622, 630 and 635",
			Test:   Custom{Of: []Ref{mine("bead_mm"), mine("beads"), theirs("~.tyre", "bead_mm"), theirs("~.rim", "bead_mm")}, Judge: tubeBead, Geometry: true},
			Source: Source{"ISO 5775 bead seat diameters; a tube stretches by the little that 700C and 27 inch differ, as boxes print", Handbook},
		},
		{
			ID: "tube.tubular", Severity: Mating,
			Says:   "a tubular has its tube sewn in: a loose one goes into a tyre with beads",
			Test:   Lookup{Of: []Ref{theirs("~.tyre", "tubular")}, Rows: only("no"), Otherwise: Breaks, Why: "its tube is sewn in", Optional: true, Rare: true, Usual: "no"},
			Source: byTubulars,
		},
		{
			ID: "tube.tubular-rim", Severity: Mating,
			Says:   "a rim for tubulars takes no tube of its own",
			Test:   Lookup{Of: []Ref{theirs("~.rim", "tubular")}, Rows: only("no"), Otherwise: Breaks, Why: "it takes tyres with their tube sewn in", Optional: true, Rare: true, Usual: "no"},
			Source: byTubulars,
		},
		{
			ID: "tube.widest", Severity: Safety,
			Says:   "the tyre is no wider than the tube is made for",
			Test:   Limit{Sum: []Term{plus(theirs("~.tyre", "width_mm"))}, AtMost: []Ref{mine("width_max_mm")}},
			Source: Source{"the maker's range on the box", Catalogue},
		},
		{
			ID: "tube.narrowest", Severity: Safety,
			Says:   "the tyre is no narrower than the tube is made for",
			Test:   Limit{Sum: []Term{plus(theirs("~.tyre", "width_mm"))}, AtLeast: []Ref{mine("width_min_mm")}},
			Source: Source{"the maker's range on the box", Catalogue},
		},
		{
			ID: "tube.range-up", Severity: Safety, Unless: []Place{"~.tyre"},
			Says:   "old and new tube have tyre widths in common",
			Test:   Limit{Sum: []Term{plus(mine("width_min_mm"))}, AtMost: []Ref{old("width_max_mm")}, Optional: true},
			Source: Source{"the maker's range on the box", Catalogue},
		},
		{
			ID: "tube.range-down", Severity: Safety, Unless: []Place{"~.tyre"},
			Says:   "old and new tube have tyre widths in common",
			Test:   Limit{Sum: []Term{plus(mine("width_max_mm"))}, AtLeast: []Ref{old("width_min_mm")}, Optional: true},
			Source: Source{"the maker's range on the box", Catalogue},
		},
		{
			ID: "tube.valve-hole", Severity: Mating, When: []When{{Of: []Ref{theirs("~.rim", "valve_hole_mm")}, Known: true}},
			Says: "the valve goes through the rim's hole: 6.5 mm for presta, 8.5 mm for the others, and presta in the wide hole with a reducer",
			Test: Lookup{
				Of: []Ref{mine("valve"), theirs("~.rim", "valve_hole_mm")},
				Rows: []Row{
					{Keys: []string{"presta", "5..7.5"}, Answer: Holds},
					{Keys: []string{"presta", "7.6..12"}, Answer: Holds, Words: "with a reducer in the hole", Brings: []Bring{valveReducer}},
					{Keys: []string{"*", "5..7.9"}, Answer: Breaks, Words: "the hole is too small, and drilling a narrow rim is not advised"},
					{Keys: []string{"*", "8..12"}, Answer: Holds},
				},
				Otherwise: CantTell,
			},
			Source: byValves,
		},
		{
			ID: "tube.valve", Severity: Mating, When: []When{{Of: []Ref{theirs("~.rim", "valve_hole_mm")}, Unknown: true}},
			Says: "the valve is of the kind that was there: a hole for presta takes no other, a wide one takes presta with a reducer",
			Test: Lookup{
				Of: []Ref{mine("valve"), old("valve")},
				Rows: []Row{
					{Keys: []string{"presta", "presta"}, Answer: Holds},
					{Keys: []string{"presta", "*"}, Answer: Holds, Words: "with a reducer in the hole", Brings: []Bring{valveReducer}},
					{Keys: []string{"*", "presta"}, Answer: Breaks, Words: "the hole is too small, and drilling a narrow rim is not advised"},
					{Keys: []string{"*", "*"}, Answer: Holds},
				},
				Otherwise: CantTell,
			},
			Source: byValves,
		},
		{
			ID: "tube.valve-unmeasured", Severity: Mating,
			When: []When{{Of: []Ref{theirs("~.rim", "valve_hole_mm")}, Unknown: true}, {Of: []Ref{old("valve")}, Unknown: true}},
			Says: "presta goes through any rim's hole, a wide one with a reducer; any other valve wants the hole measured, and has no room between the beads of a narrow rim",
			Test: Lookup{
				Of: []Ref{mine("valve"), theirs("~.rim", "valve_hole_mm"), theirs("~.rim", "inner_width_mm")},
				Rows: []Row{
					{Keys: []string{"presta", "*", "*"}, Answer: Holds},
					{Keys: []string{"*", "*", "10..13.5"}, Answer: Breaks, Words: "a rim so narrow is drilled for presta"},
				},
				Otherwise: CantTell, Optional: true,
			},
			Source: Source{"brainybiker.com on valves: drilling a narrow rim for a thick valve is not advised; from what width on is common practice", TradePage},
		},
		{
			ID: "tube.pump", Severity: Function,
			Says:   "the valve takes the pump that the old one took",
			Test:   Same{Mine: []string{"valve"}},
			Source: byValves,
		},
		{
			ID: "tube.valve-length", Severity: Mating, When: []When{{Of: []Ref{theirs("~.rim", "depth_mm")}, Unknown: true}},
			Says:   "the valve is as long as the old one, or stands out of the rim far enough for the pump",
			Test:   Limit{Sum: []Term{plus(mine("valve_mm"))}, AtLeast: []Ref{old("valve_mm")}, Optional: true, Doubt: 60, Ask: "measure the rim's depth: the valve wants some 10 mm more"},
			Source: byOldPart,
		},
		{
			ID: "tube.valve-depth", Severity: Mating, When: []When{{Of: []Ref{theirs("~.rim", "depth_mm")}, Known: true}},
			Says:   "the valve stands out of the rim: 10 mm over the rim's depth is enough for any pump, none at all for no pump",
			Test:   Span{Sum: []Term{plus(mine("valve_mm")), minus(theirs("~.rim", "depth_mm"))}, Low: 10, High: 120, Doubt: 10, Ask: "see whether the pump's head grips what stands out", Why: "it does not come out of the rim"},
			Source: byValveLength,
		},
	},
}

var byValves = Source{"handwiki, brainybiker.com and urbanusmagnus on valves: stems 6 and 8 mm", Handbook}

var valveReducer = small("valve-reducer", "valve hole reducer", 1)

// oneOfBeads keeps the one bead seat that a tube names first among all those that its box names.
func oneOfBeads(p *Part) []Follows {
	all, known := p.Get("beads")
	one, named := p.Get("bead_mm")
	switch {
	case !known:
		return nil
	case !named:
		return []Follows{{Dimension: "bead_mm", Value: Count(all.ints[0]), Loose: true}}
	case !slices.Contains(all.ints, int(one.number)):
		return []Follows{{Wrong: fmt.Sprintf("bead_mm %s is none of beads %s", one, all)}}
	}
	return nil
}

// servedBeads are the bead seats that a tube serves: those on its box, and those that share tubes with them.
func servedBeads(p *Part) []int {
	one, known := p.Get("bead_mm")
	if !known {
		return nil
	}
	out := []int{int(one.number)}
	if all, listed := p.Get("beads"); listed {
		out = union(out, all.ints)
	}
	if share(out, largeBeads) {
		out = union(out, largeBeads)
	}
	return out
}

// largeBeads are 700C, 27 inch and 28 x 1 1/2, for which boxes name one tube.
var largeBeads = []int{622, 630, 635}

// tubeBead holds for the bead seats that the box names, and asks for one within the little that a tube stretches.
func tubeBead(s Scene, at Place) Judgement {
	me := s.side(mine("bead_mm"), at)
	tyre := s.first([]Ref{theirs("~.tyre", "bead_mm"), theirs("~.rim", "bead_mm")}, at)
	now, was := servedBeads(s.Now[at]), servedBeads(s.Was[at])
	if me.known && tyre.known {
		want := int(tyre.now.number)
		j := Judgement{Answer: Holds, Wanted: tyre.now.String(), Found: me.now.String(), Words: me.words() + " in " + tyre.words()}
		switch near := slices.ContainsFunc(now, func(n int) bool { return abs(float64(n-want)) <= 0.015*float64(want) }); {
		case slices.Contains(now, want):
		case near:
			j.Answer, j.Missing = CantTell, []Missing{{Place: at, Dimension: "beads", Measure: "read the box: does it name " + tyre.now.String() + " as well?"}}
			j.Words += ": some boxes name both"
		default:
			j.Answer = Breaks
		}
		return j
	}
	if !me.known || !me.changed || len(was) == 0 || tyre.changed {
		return untold(unknownOf(me, tyre)...)
	}
	j := Judgement{Answer: Holds, Before: true, Wanted: me.was.String(), Found: me.now.String(), Words: me.words() + ", and the old one was for " + me.was.String()}
	switch {
	case covers(now, was):
	case share(now, was):
		return untold(tyre)
	default:
		j.Answer, j.Before = Breaks, false
	}
	return j
}
