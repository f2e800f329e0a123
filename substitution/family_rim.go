package substitution

import "fmt"

var _ = families(&rim, &rimTape)

var (
	valveHole  = millimetres("valve_hole_mm", "valve hole", 5, 12, "caliper's inside jaws or a drill's shank: 6.5 mm for presta, 8.5 for the others")
	rimDepth   = millimetres("depth_mm", "rim depth", 5, 110, "caliper from the rim's edge to its inner side")
	brakeTrack = Dimension{Name: "brake_track", Form: Flag, Means: "brake track", Measure: "look for a flat, machined or ceramic wall that rim brakes grip; a rim for discs has none"}
)

var rim = Table{
	Family: "rim", Plural: "rims",
	Sites: []Site{
		{Place: "front.rim", Words: "front rim", Safety: true},
		{Place: "rear.rim", Words: "rear rim", Safety: true},
	},
	Readings: []Reading{runOut, rimWall, damaged, wornToMark},
	Work: []Work{
		{Replace, "build wheel with new rim", 90},
		{Adjust, "true wheel", 25},
		{Clean, "clean rim", 10},
	},
	Dimensions: []Dimension{
		bead,
		innerWidth,
		count("holes", "spoke holes", 8, 60, "count the holes"),
		{Name: "hookless", Form: Flag, Means: "hookless", Measure: "feel along the inside of the rim's edge; read the rim"},
		millimetres("erd_mm", "effective rim diameter", 100, 720, "two spokes with nipples across the rim, end to end"),
		brakeTrack, valveHole, rimDepth, pressureMost,
		{Name: "tubular", Form: Flag, Means: "for tubulars", Measure: "look at its bed: a shallow hollow without walls is for tubulars"},
	},
	Rules: []Rule{
		{
			ID: "rim.brake-track", Severity: Safety, When: []When{with("~.rim-pads")},
			Says:   "a rim under rim brakes has a brake track: the pads of a rim for discs grip paint, heat it and let go",
			Test:   Lookup{Of: []Ref{mine("brake_track")}, Rows: []Row{{Keys: []string{"yes"}, Answer: Holds}}, Otherwise: Breaks, Why: "there is nothing for the pads to grip"},
			Source: byBrakeTrack,
		},
		{
			ID: "rim.caliper", Severity: Safety, Unless: []Place{"~.rim-pads"},
			Says: "a caliper that grips the rim wants a brake track",
			Test: Lookup{
				Of: []Ref{mine("brake_track"), theirs("~.caliper", "kind")},
				Rows: []Row{
					{Keys: []string{"yes", "*"}, Answer: Holds},
					{Keys: []string{"*", "disc"}, Answer: Holds},
					{Keys: []string{"no", "rim"}, Answer: Breaks, Words: "there is nothing for the pads to grip"},
				},
				Otherwise: CantTell, Optional: true, Rare: true,
			},
			Source: byBrakeTrack,
		},
		{
			ID: "rim.brake-track-kept", Severity: Safety, Unless: []Place{"~.rim-pads", "~.rotor", "~.caliper", "~.pads"},
			Says: "a rim in the stead of one with a brake track has one too",
			Test: Lookup{
				Of: []Ref{mine("brake_track"), old("brake_track")},
				Rows: []Row{
					{Keys: []string{"yes", "*"}, Answer: Holds},
					{Keys: []string{"no", "yes"}, Answer: Breaks, Words: "rim brakes would have nothing to grip"},
					{Keys: []string{"*", "no"}, Answer: Holds, Words: "the old rim had none"},
				},
				Otherwise: CantTell, Rare: true,
			},
			Source: byBrakeTrack,
		},
		{
			ID: "rim.tubular-kept", Severity: Safety, Unless: []Place{"~.tyre"},
			Says:   "a rim in the stead of one for tubulars is for tubulars, and any other is not",
			Test:   Match{Mine: "tubular", Rare: true},
			Source: byTubulars,
		},
		{
			ID: "rim.hookless-tubes", Severity: Safety,
			Says: "a hookless rim carries a tubeless tyre that its maker approves for it, and at most 5 bar, whatever the tyre says",
			Test: Lookup{
				Of: []Ref{mine("hookless"), theirs("~.tyre", "tubeless")},
				Rows: []Row{
					{Keys: []string{"no", "*"}, Answer: Holds, Words: "a hooked rim"},
					{Keys: []string{"yes", "yes"}, Answer: Holds, Words: "if both makers list the pair; never above 5 bar (72.5 psi)"},
					{Keys: []string{"yes", "no"}, Answer: Breaks, Words: "a tyre for tubes comes off a hookless rim"},
				},
				Otherwise: CantTell, Rare: true, Usual: "no",
			},
			Source: Source{"a wheel maker's tyre statement: hookless rims for tubeless or tubeless-ready tyres only; a tyre maker's page: straight-side road rims at most 5 bar, the lower of tyre and rim counts", Catalogue},
		},
		{
			ID: "rim.hookless-width", Severity: Safety, When: []When{{Of: []Ref{mine("hookless")}, Is: []string{"yes"}, Known: true}},
			Says:   "a hookless rim carries 28 mm or more, and more than 28 where it is wider than 23 mm inside",
			Test:   Custom{Of: []Ref{mine("hookless"), mine("inner_width_mm"), theirs("~.tyre", "width_mm")}, Judge: hooklessWidth, Geometry: true},
			Source: Source{"a wheel maker's tyre statement: 28 to 47 mm on 25 inside, ETRTO 2023 asks 29; a forum on the 23 mm limit for 28 mm tyres", Catalogue},
		},
		{
			ID: "rim.spokes", Severity: Mating,
			Says:   "the spokes that stay are long enough: half the change of the rim's effective diameter",
			Test:   Custom{Of: []Ref{mine("erd_mm"), theirs("~.spokes-left", "length_mm"), theirs("~.spokes-right", "length_mm")}, Judge: spokesStay, Geometry: true},
			Source: Source{"spoke length goes by half the effective rim diameter (tristable.net); a wheel builder's page: half a millimetre is taken up", Handbook},
		},
		{
			ID: "rim.valve-hole", Severity: Mating, Unless: []Place{"~.tube"},
			Says:   "the valve that was there goes through the hole: one for presta takes no other",
			Test:   Limit{Sum: []Term{plus(mine("valve_hole_mm"))}, AtLeast: []Ref{old("valve_hole_mm")}, Optional: true, Plus: 0.5, Doubt: 6, Ask: "see which valve the tube has: 6.5 mm takes presta only"},
			Source: byValves,
		},
		{
			ID: "rim.depth", Severity: Mating, Unless: []Place{"~.tube"},
			Says:   "the valve that was there stands out of the rim",
			Test:   Limit{Sum: []Term{plus(mine("depth_mm"))}, AtMost: []Ref{old("depth_mm")}, Optional: true, Plus: 4, Doubt: 100, Ask: "measure the valve: it wants some 10 mm more than the rim is deep"},
			Source: byValveLength,
		},
		{
			ID: "rim.pressure", Severity: Function,
			Says:   "the rim may be pumped as far as the old one",
			Test:   Limit{Sum: []Term{plus(mine("pressure_max_bar"))}, AtLeast: []Ref{old("pressure_max_bar")}, Optional: true},
			Source: byPressure,
		},
		{
			ID: "rim.width", Severity: Function,
			Says:   "the rim is as wide inside as it was",
			Test:   Same{Mine: []string{"inner_width_mm"}},
			Source: Source{"the tyre takes the rim's shape", Practice},
		},
		finishRule("rim"),
	},
}

var innerWidth = millimetres("inner_width_mm", "inner width", 10, 110, "between the hooks, inside jaws of a caliper")

// hooklessWidth knows two limits: 28 mm on rims up to 23 mm inside, 29 mm on wider ones.
func hooklessWidth(s Scene, at Place) Judgement {
	inner, wide := s.side(mine("inner_width_mm"), at), s.side(theirs("~.tyre", "width_mm"), at)
	if !wide.recorded {
		return Judgement{} // the tyre's own rule asks for it where there is one
	}
	least := 29.0
	if inner.known && inner.now.number <= 23 {
		least = 28
	}
	switch {
	case !wide.known:
		return untold(wide)
	case !inner.known && wide.now.number == 28:
		return untold(inner)
	}
	j := Judgement{Answer: Holds, Wanted: figure(least) + " mm or more", Found: wide.now.String() + " mm", Words: wide.words() + " on a hookless rim"}
	if inner.known {
		j.Words += fmt.Sprintf(" %s mm wide inside", inner.now)
	}
	if wide.now.number < least {
		j.Answer = Breaks
		j.Words += ": " + figure(least) + " mm or more is wanted"
	}
	return j
}

// spokesStay compares the effective diameters where the spokes are kept.
func spokesStay(s Scene, at Place) Judgement {
	left, right := Place(at.end()+".spokes-left"), Place(at.end()+".spokes-right")
	if !s.kept(left) || !s.kept(right) {
		return Judgement{}
	}
	d := s.side(mine("erd_mm"), at)
	if !d.changed || !d.known || !d.wasKnown {
		return Match{Mine: "erd_mm"}.judge(s, at)
	}
	return d.spokesOff(abs(d.now.number-d.was.number) / 2)
}

var rimTape = Table{
	Family: "rim-tape", Plural: "rim tapes",
	Sites: []Site{
		{Place: "front.rim-tape", Words: "front rim tape", Safety: true},
		{Place: "rear.rim-tape", Words: "rear rim tape", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit rim tape", 10},
	},
	Dimensions: []Dimension{
		millimetres("width_mm", "width", 5, 110, "caliper"), bead,
		{Name: "tubeless", Form: Flag, Means: "tubeless", Measure: "read the roll: tubeless tape is thin, glued and airtight"},
		{Name: "by_wheel", Form: Flag, Means: "kept by the wheel's length", Measure: "see whether it comes off a roll: a piece of it is then one wheel's length"},
	},
	Rules: []Rule{
		{
			ID: "rim-tape.bead", Severity: Mating, When: []When{{Of: []Ref{mine("tubeless")}, Not: []string{"yes"}}},
			Says:   "a tape in one ring is made for the rim's bead seat",
			Test:   Match{Mine: "bead_mm", Theirs: []Ref{theirs("~.rim", "bead_mm")}, Rare: true},
			Source: Source{"ISO 5775 names rims by the bead seat diameter; that a ring of tape follows it is arithmetic", Handbook},
		},
		{
			ID: "rim-tape.tubular", Severity: Mating,
			Says:   "a rim for tubulars wants glue or tape for tubulars on its bed, no tape over spoke holes",
			Test:   Lookup{Of: []Ref{theirs("~.rim", "tubular")}, Rows: only("no"), Otherwise: Breaks, Why: "tyres are glued to its bed", Optional: true, Rare: true, Usual: "no"},
			Source: byTubulars,
		},
		{
			ID: "rim-tape.wide", Severity: Mating, When: []When{notGiven("tubeless")},
			Says: "the tape is no wider than the rim inside, so that the bead seats; tubeless tape may climb the walls, two to five millimetres in all",
			Test: Limit{
				Sum: []Term{plus(mine("width_mm"))}, AtMost: []Ref{theirs("~.rim", "inner_width_mm")},
				Doubt: 5, Ask: "it climbs the walls, as tubeless tape may; see that the bead seats all round",
			},
			Source: Source{"mrbike.com and bicycles.stackexchange.com on rim strips: as wide as the rim inside, and wider lifts the tyre; how far tubeless tape may climb is common practice", Handbook},
		},
		{
			ID: "rim-tape.cloth-wide", Severity: Mating, When: []When{{Of: []Ref{mine("tubeless")}, Is: []string{"no"}, Known: true}},
			Says: "a strip of cloth or rubber is no wider than the rim inside: wider, it lies under the bead",
			Test: Limit{
				Sum: []Term{plus(mine("width_mm"))}, AtMost: []Ref{theirs("~.rim", "inner_width_mm")},
				Doubt: 1, Ask: "see that the bead seats all round",
			},
			Source: Source{"mrbike.com and bicycles.stackexchange.com on rim strips: as wide as the rim inside, and wider lifts the tyre", Handbook},
		},
		{
			ID: "rim-tape.tubeless-wide", Severity: Mating, When: []When{{Of: []Ref{mine("tubeless")}, Is: []string{"yes"}, Known: true}},
			Says:   "tubeless tape climbs the walls by no more than five millimetres in all",
			Test:   Limit{Sum: []Term{plus(mine("width_mm"))}, AtMost: []Ref{theirs("~.rim", "inner_width_mm")}, Plus: tapeClimbs},
			Source: byTubelessTape,
		},
		{
			ID: "rim-tape.tubeless-narrow", Severity: Safety, When: []When{{Of: []Ref{mine("tubeless")}, Is: []string{"yes"}, Known: true}},
			Says: "tubeless tape is as wide as the rim inside: it seals the whole bed from wall to wall",
			Test: Limit{
				Sum: []Term{plus(mine("width_mm"))}, AtLeast: []Ref{theirs("~.rim", "inner_width_mm")},
				Doubt: tapeClimbs, Ask: "lay it in the rim: it must reach the shelves on which the beads sit",
			},
			Source: byTubelessTape,
		},
		{
			ID: "rim-tape.narrow", Severity: Safety,
			Says:   "the tape covers the spoke holes as the old one did",
			Test:   Limit{Sum: []Term{plus(mine("width_mm"))}, AtLeast: []Ref{old("width_mm")}, Optional: true, Doubt: 2, Ask: "lay the tape in the rim: no edge of a hole may be bare"},
			Source: Source{"yarchive.net (Jobst Brandt) and bicycles.stackexchange.com on rim strips: the edge of an open hole cuts the tube", Handbook},
		},
		{
			ID: "rim-tape.tubeless", Severity: Safety,
			Says: "where the tyre runs without a tube the tape is airtight: a cloth or rubber strip is not",
			Test: Lookup{
				Of: []Ref{mine("tubeless"), old("tubeless")},
				Rows: []Row{
					{Keys: []string{"yes", "*"}, Answer: Holds}, {Keys: []string{"*", "no"}, Answer: Holds},
					{Keys: []string{"no", "yes"}, Answer: Breaks, Words: "it does not hold air"},
				},
				Otherwise: CantTell, Rare: true, Optional: true,
			},
			Source: byTubelessTape,
		},
		{
			ID: "rim-tape.narrower-than-rim", Severity: Safety, When: []When{unless("tubeless", "yes")},
			Says:   "a strip is about as wide as the rim inside: a narrow one may leave the edge of a hole bare, which cuts the tube",
			Test:   Limit{Sum: []Term{plus(mine("width_mm"))}, AtLeast: []Ref{theirs("~.rim", "inner_width_mm")}, Plus: 4, Doubt: 110, Ask: "lay the tape in the rim: no edge of a hole may be bare", Optional: true},
			Source: Source{"mrbike.com and bicycles.stackexchange.com on rim strips: as wide as the rim inside", Handbook},
		},
	},
}
