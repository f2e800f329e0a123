package substitution

var _ = families(&rim, &rimTape)

var rim = Table{
	Family: "rim", Plural: "rims",
	Sites: []Site{
		{Place: "front.rim", Words: "front rim", Safety: true},
		{Place: "rear.rim", Words: "rear rim", Safety: true},
	},
	Readings: []Reading{damaged, wornToMark},
	Work: []Work{
		{Replace, "build wheel with new rim", 90},
		{Adjust, "true wheel", 25},
		{Clean, "clean rim", 10},
	},
	Dimensions: []Dimension{
		bead,
		millimetres("inner_width_mm", "inner width", 10, 110, "between the hooks, inside jaws of a caliper"),
		count("holes", "spoke holes", 8, 60, "count the holes"),
		Dimension{Name: "hookless", Form: Flag, Means: "hookless", Measure: "feel along the inside of the rim's edge; read the rim"},
		millimetres("erd_mm", "effective rim diameter", 100, 720, "two spokes with nipples across the rim, end to end"),
	},
	Rules: []Rule{
		{
			ID: "rim.hookless", Severity: Safety,
			Says:   "a hookless rim carries only a tubeless tyre of 28 mm or more that its maker approves for it, and at most 5 bar",
			Test:   Custom{Of: []Ref{mine("hookless"), theirs("~.tyre", "tubeless"), theirs("~.tyre", "width_mm")}, Judge: hooklessTyre},
			Source: Source{"a tyre maker's page that cites ETRTO: 5 bar (72.5 psi), approved tyres only", Handbook},
		},
		{
			ID: "rim.spokes", Severity: Mating,
			Says:   "the spokes that stay are long enough: half the change of the rim's effective diameter",
			Test:   Custom{Of: []Ref{mine("erd_mm"), theirs("~.spokes-left", "length_mm"), theirs("~.spokes-right", "length_mm")}, Judge: spokesStay},
			Source: Source{"spoke length goes by half the effective rim diameter (tristable.net); a wheel builder's page: half a millimetre is taken up", Handbook},
		},
		finishRule("rim"),
	},
}

// hooklessTyre never holds outright on a hookless rim: the tyre's approval is the makers' to give.
func hooklessTyre(s Scene, at Place) Judgement {
	rim, tubeless, wide := s.side(mine("hookless"), at), s.side(theirs("~.tyre", "tubeless"), at), s.side(theirs("~.tyre", "width_mm"), at)
	if !rim.known && !rim.wasKnown {
		return Judgement{} // nobody speaks of it: a hooked rim
	}
	if !rim.known {
		return untold(rim)
	}
	if rim.now.number == 0 {
		return Judgement{Answer: Holds, Found: "hooked", Words: "a hooked rim"}
	}
	const limit = "; never above 5 bar (72.5 psi)"
	switch {
	case tubeless.known && tubeless.now.number == 0:
		return Judgement{Answer: Breaks, Wanted: "a tubeless tyre", Found: "a tyre for tubes", Words: "a tyre for tubes on a hookless rim"}
	case wide.known && wide.now.number < 28:
		return Judgement{Answer: Breaks, Wanted: "28 mm or more", Found: wide.now.String() + " mm", Words: wide.words() + " on a hookless rim"}
	case !tubeless.changed && !rim.changed || vouched([]side{rim, tubeless, wide}):
		return Judgement{Answer: Holds, Before: true, Words: "rim and tyre as they were" + limit}
	}
	return Judgement{Answer: CantTell, Words: "the tyre must be approved for this rim by both makers: read their lists" + limit,
		Missing: []Missing{{Place: tubeless.place, Dimension: "tubeless", Measure: "the tyre maker's list of approved rims"}}}
}

// spokesStay compares the effective diameters where the spokes are kept.
func spokesStay(s Scene, at Place) Judgement {
	if p := Place(at.end() + ".spokes-left"); !s.kept(p) || !s.kept(Place(at.end()+".spokes-right")) {
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
	Dimensions: []Dimension{millimetres("width_mm", "width", 5, 110, "caliper"), bead},
	Rules: []Rule{
		{
			ID: "rim-tape.bead", Severity: Mating,
			Says:   "a tape in one ring is made for the rim's bead seat",
			Test:   Match{Mine: "bead_mm", Theirs: []Ref{theirs("~.rim", "bead_mm")}, Rare: true},
			Source: Source{"ISO 5775 bead seat diameters", Standard},
		},
		{
			ID: "rim-tape.wide", Severity: Mating,
			Says:   "the tape is no wider than the rim inside, so that the bead seats; tubeless tape may climb the walls a millimetre a side",
			Test:   Custom{Of: []Ref{mine("width_mm"), theirs("~.rim", "inner_width_mm")}, Judge: tapeWide, Narrow: tapeOnWalls.narrow},
			Source: Source{"mrbike.com and bicycles.stackexchange.com on rim strips: as wide as the rim inside, and wider lifts the tyre; the millimetre is common practice", Handbook},
		},
		longEnough("rim-tape.narrow", "width_mm", Safety, "the tape covers the spoke holes as the old one did",
			Source{"yarchive.net (Jobst Brandt) and bicycles.stackexchange.com on rim strips: the edge of an open hole cuts the tube", Handbook}),
	},
}

var tapeOnWalls = Limit{Sum: []Term{plus(mine("width_mm"))}, AtMost: []Ref{theirs("~.rim", "inner_width_mm")}, Plus: 2}

// tapeWide asks where the tape climbs the walls: tubeless tape may, and nothing tells it from a tape for tubes.
func tapeWide(s Scene, at Place) Judgement {
	j := tapeOnWalls.judge(s, at)
	tape, rim := s.side(mine("width_mm"), at), s.side(theirs("~.rim", "inner_width_mm"), at)
	if j.Answer != Holds || !rim.known || tape.now.number <= rim.now.number || vouched([]side{tape, rim}) {
		return j
	}
	j.Answer, j.Before = CantTell, false
	j.Words = tape.words() + " on a rim " + rim.dimension().Show(rim.now) + " inside: it climbs the walls, as tubeless tape may; see that the bead seats all round"
	j.Missing = []Missing{{Place: at, Dimension: "width_mm", Measure: "lay the tape in the rim and see how far it climbs"}}
	return j
}
