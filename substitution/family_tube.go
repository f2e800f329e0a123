package substitution

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
		count("width_min_mm", "least tyre width", 10, 130, "read the box"),
		count("width_max_mm", "most tyre width", 10, 150, "read the box"),
		word("valve", "valve", "look: presta is thin with a nut, schrader as on a car, dunlop has a collar", "presta", "schrader", "dunlop"),
		millimetres("valve_mm", "valve length", 20, 120, "caliper from the tube to the tip"),
	},
	Ordered: [][2]string{{"width_min_mm", "width_max_mm"}},
	Rules: []Rule{
		{
			ID: "tube.bead", Severity: Mating,
			Says:   "the tube is for the tyre's bead seat",
			Test:   Match{Mine: "bead_mm", Theirs: []Ref{theirs("~.tyre", "bead_mm")}},
			Source: Source{"ISO 5775 bead seat diameters, as printed on the box", Standard},
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
			ID: "tube.valve", Severity: Mating,
			Says:   "the valve goes through the rim's hole: 6.5 mm for presta, 8.5 mm for the others",
			Test:   Custom{Of: []Ref{mine("valve")}, Judge: valveFits},
			Source: Source{"handwiki, brainybiker.com and urbanusmagnus on valves: stems 6 and 8 mm", Handbook},
		},
		longEnough("tube.valve-length", "valve_mm", Mating, "the valve is at least as long as the old one: it has to stand out of the rim", byOldPart),
	},
}

// valveFits compares with the valve that was in the rim: the thin one passes the wide hole with a reducer, not the other way.
func valveFits(s Scene, at Place) Judgement {
	d := s.side(mine("valve"), at)
	if !d.changed || !d.known || !d.wasKnown {
		return Match{Mine: "valve"}.judge(s, at)
	}
	wide := func(v Value) bool { return v.word != "presta" }
	j := Judgement{Answer: Holds, Before: true, Wanted: d.was.word, Found: d.now.word, Words: d.now.word + " where " + d.was.word + " was"}
	switch {
	case wide(d.now) && !wide(d.was):
		j.Answer, j.Before = Breaks, false
		j.Words += ": the hole is too small, and drilling a narrow rim is not advised"
	case !wide(d.now) && wide(d.was):
		j.Words += ": with a reducer in the hole"
		j.Brings = []Bring{small("valve-reducer", "valve hole reducer", 1)}
	}
	return j
}
