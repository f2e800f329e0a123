package substitution

var _ = families(&crownRace, &headsetSpacer, &topCap)

// The parts of a headset that are bought one by one, besides its bearings.

var crownRace = Table{
	Family: "crown-race", Plural: "crown races",
	Sites: []Site{
		{Place: "headset.crown-race", Words: "crown race", Safety: true},
	},
	Readings: []Reading{conePitted},
	Work:     []Work{{Replace, "change crown race and adjust headset", 30}, {Clean, "clean crown race", 10}},
	Dimensions: []Dimension{
		millimetres("crown_mm", "crown seat", 20, 70, "caliper on the fork's seat, race removed"),
		Dimension{Name: "angle_deg", Form: Number, Low: 30, High: 50, Means: "angle of its face", Measure: "read the bearing that sits on it: 36 or 45 degrees"},
		word("split", "split or whole", "look: a race with a slot is put on by hand", "split", "whole"),
	},
	Rules: []Rule{
		{
			ID: "crown-race.seat", Severity: Safety,
			Says:   "the race goes on the fork's crown seat: 26.4 and 27.0 mm are two standards of one inch, and /40 is a seat of 39.8",
			Test:   Custom{Of: []Ref{mine("crown_mm"), theirs("fork", "crown_mm")}, Judge: raceOnCrown, Geometry: true},
			Source: Source{"overwheel.net on 1 inch Italian and JIS; a headset maker's identification guide", Handbook},
		},
		{
			ID: "crown-race.angle", Severity: Mating,
			Says:   "its face has the angle of the bearing that sits on it: 36 and 45 degrees touch on an edge",
			Test:   Match{Mine: "angle_deg", Theirs: []Ref{theirs("headset.lower-bearing", "inner_angle_deg")}, Within: 1, Rare: true},
			Source: Source{"a headset maker's identification guide: bearings of 36 x 45 and 45 x 45 degrees", Catalogue},
		},
		{
			ID: "crown-race.headset", Severity: Safety, Unless: []Place{"fork"},
			Says:   "the race has the crown seat of the headset that it is of: the code writes whole millimetres",
			Test:   Lookup{Of: []Ref{mine("crown_mm"), theirs("headset", "crown_mm")}, Rows: sameSeats(), Otherwise: Breaks, Why: "it is another headset's", Optional: true, Rare: true},
			Source: bySHIS,
		},
		{ID: "crown-race.split", Severity: Function, Says: "it is put on as the old one was", Test: Same{Mine: []string{"split"}}, Source: byOldPart},
	},
}

// raceOnCrown compares seats by the table of codes and real seats, not by their difference.
func raceOnCrown(s Scene, at Place) Judgement {
	return crownSeats(s.side(mine("crown_mm"), at), s.side(theirs("fork", "crown_mm"), at))
}

// sameSeats pairs the seats that one code means: /26 is 26.4 mm, /33 is 33.06, /40 is 39.8.
func sameSeats() []Row {
	var rows []Row
	for _, seat := range []string{"25.9..26.6", "26.8..27.2", "29.8..30.2", "32.8..33.2", "39.6..40.2"} {
		rows = append(rows, Row{Keys: []string{seat, seat}, Answer: Holds})
	}
	return rows
}

var headsetSpacer = Table{
	Family: "headset-spacer", Plural: "headset spacers",
	Sites: []Site{
		{Place: "headset.spacers", Words: "headset spacers", Safety: true},
	},
	Readings: []Reading{wanted("count the rings under and over the stem that are to be changed")},
	Counted:  true,
	Work:     []Work{{Replace, "fit headset spacers and adjust headset", 10}},
	Dimensions: []Dimension{
		millimetres("steerer_mm", "steerer diameter", 20, 60, "caliper on the steerer"),
		millimetres("height_mm", "height", 0.5, 60, "caliper"),
	},
	Rules: []Rule{
		{
			ID: "headset-spacer.steerer", Severity: Mating,
			Says:   "the ring goes round the steerer",
			Test:   Match{Mine: "steerer_mm", Theirs: []Ref{theirs("fork", "steerer_mm"), theirs("stem", "steerer_mm"), theirs("headset", "steerer_mm")}, Within: 0.2},
			Source: Source{"steerer diameters of published references: 25.4, 28.6, 31.8 mm", Handbook},
		},
		{ID: "headset-spacer.height", Severity: Function, Says: "the rings are as high as they were: else the top cap meets the steerer, or the stem loses its hold", Test: Same{Mine: []string{"height_mm"}}, Source: byArithmetic},
		finishRule("headset-spacer"),
	},
}

var topCap = Table{
	Family: "top-cap", Plural: "headset top caps",
	Sites: []Site{
		{Place: "headset.top-cap", Words: "headset top cap"},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit top cap and adjust headset", 10}},
	Dimensions: []Dimension{
		millimetres("steerer_mm", "steerer diameter", 20, 60, "caliper on the steerer"),
		threadWord,
	},
	Rules: []Rule{
		{
			ID: "top-cap.steerer", Severity: Mating,
			Says:   "the cap is made for the steerer's diameter",
			Test:   Match{Mine: "steerer_mm", Theirs: []Ref{theirs("fork", "steerer_mm"), theirs("stem", "steerer_mm"), theirs("headset", "steerer_mm")}, Within: 0.2},
			Source: Source{"steerer diameters of published references: 25.4, 28.6, 31.8 mm", Handbook},
		},
		{ID: "top-cap.thread", Severity: Mating, Says: "its bolt has the thread of nut or expander", Test: Match{Mine: "thread", Rare: true}, Source: byOldPart},
		finishRule("top-cap"),
	},
}
