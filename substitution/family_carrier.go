package substitution

var _ = families(&mudguard, &rack, &childSeat, &basket, &kickstand, &bottleCage, &bell, &frameLock)

// What carries and what keeps dry: it goes by its mount, and by the load that is marked on it.

var (
	loadKG    = Dimension{Name: "load_kg", Form: Number, Low: 1, High: 200, Means: "marked load", Measure: "read the mark: kilograms"}
	byLoads   = Source{"ISO 11243:2023, luggage carriers: each is marked with its load (title and scope)", Standard}
	byGuards  = Source{"mountainbikenut.com and a tyre maker's page on mudguards: 10 to 12 mm wider than the tyre, or about 40 % (28 to 41, 32 to 45, 35 and 38 to 50, 42 to 58)", Handbook}
	wheelBead = count("bead_mm", "wheel's bead seat", 100, 720, "read the tyre: the second figure of 37-622")
)

// heldAsOld is the rule of what bolts on where the old one did; on is what it is held by, where that is one part.
func heldAsOld(f Family, on ...Place) Rule {
	return Rule{ID: string(f) + ".mount", Severity: Mating, Against: on, Says: "it is held where the old one was",
		Test: Match{Mine: "mount", Else: CantTell, Why: "look whether frame or fork has the holes or the room for it"}, Source: byOldPart}
}

// bearsLoad is the rule of a marked load that another part carries.
func bearsLoad(f Family, bearers ...Ref) Rule {
	return Rule{ID: string(f) + ".bearer", Severity: Safety, Says: "what carries it is marked for its load: the lowest mark counts",
		Test: Limit{Sum: []Term{plus(mine("load_kg"))}, AtMost: bearers, Optional: true, Rare: true}, Source: byLoads}
}

// loadAsOld holds a carrier to the load that its forerunner was marked with.
func loadAsOld(f Family) Rule {
	return Rule{ID: string(f) + ".load", Severity: Safety, Says: "it is marked for as much as the old one",
		Test: Limit{Sum: []Term{plus(mine("load_kg"))}, AtLeast: []Ref{old("load_kg")}, Optional: true, Doubt: 200, Ask: "ask what the customer carries: the mark is the most"}, Source: byLoads}
}

var mudguard = Table{
	Family: "mudguard", Plural: "mudguards",
	Sites: []Site{
		{Place: "front.mudguard", Words: "front mudguard", Safety: true},
		{Place: "rear.mudguard", Words: "rear mudguard"},
	},
	Readings: []Reading{guardGap, damaged},
	Work:     []Work{{Replace, "fit mudguard", 20}, {Adjust, "set mudguard", 10}},
	Dimensions: []Dimension{
		wheelBead,
		millimetres("width_mm", "width", 15, 120, "caliper across it"),
		word("mount", "mount", "look: stays to the frame's ends, a clip on post or down tube, or under the fork's crown", "stays", "clip", "crown"),
		wheelOf,
	},
	Rules: []Rule{
		wheelRule("mudguard", byOldPart),
		{ID: "mudguard.wheel", Severity: Mating, When: []When{unless("mount", "clip")}, Says: "it is bent for the wheel", Test: Match{Mine: "bead_mm", Theirs: []Ref{theirs("~.tyre", "bead_mm"), theirs("~.rim", "bead_mm")}, Doubt: 14, Ask: "hold it over the tyre"}, Source: byGuards},
		{
			ID: "mudguard.width", Severity: Mating,
			Says:   "it is at least 10 mm wider than the tyre",
			Test:   Span{Sum: []Term{plus(mine("width_mm")), minus(theirs("~.tyre", "width_mm"))}, Low: 10, High: 80, Doubt: 5, Ask: "hold it over the tyre: makers want 10 mm more"},
			Source: byGuards,
		},
		{ID: "mudguard.narrower", Severity: Mating, When: []When{{Of: []Ref{theirs("~.tyre", "width_mm")}, Unknown: true}}, Says: "it is no narrower than the old one",
			Test: Limit{Sum: []Term{plus(mine("width_mm"))}, AtLeast: []Ref{old("width_mm")}, Plus: 1, Optional: true, Doubt: 60, Ask: "read the width of the tyre"}, Source: byOldPart},
		heldAsOld("mudguard", "frame", "fork"),
		finishRule("mudguard"),
	},
}

// guardGap is the air between tyre and mudguard.
var guardGap = Reading{
	Dimension: Dimension{Name: "gap_mm", Form: Number, High: 60, Means: "air over the tyre", Measure: "the thinnest place between tyre and mudguard, with a rule"},
	Fewer:     true,
	Judge: func(l Look) Advice {
		gap, _ := l.Figure("gap_mm")
		source := Source{"a bike maker's manual: at least 4 mm between wheel and any part on a road bike, 6 mm on all others", Catalogue}
		switch {
		case gap < 4:
			return Advice{Action: Adjust, Words: figure(gap) + " mm over the tyre: 4 mm are the least on any bike, or a stone locks the wheel", Source: source}
		case gap < 6:
			return Advice{Words: figure(gap) + " mm over the tyre: enough on a road bike (4 mm), too little on any other (6 mm)", Source: source, Asks: "say adjust or keep, by the kind of bike"}
		}
		return Advice{Action: Keep, Words: figure(gap) + " mm over the tyre", Source: source}
	},
}

var rack = Table{
	Family: "rack", Plural: "racks",
	Sites: []Site{
		{Place: "rear.rack", Words: "rear rack", Safety: true},
		{Place: "front.rack", Words: "front rack", Safety: true},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit rack", 30}, {Adjust, "tighten rack", 5}},
	Dimensions: []Dimension{
		loadKG, wheelBead,
		word("mount", "mount", "look where its feet are held", "eyelets", "clamps", "seatpost", "axle", "brake-bosses"),
		wheelOf,
	},
	Rules: []Rule{
		wheelRule("rack", byOldPart), heldAsOld("rack", "frame", "fork"), loadAsOld("rack"),
		{ID: "rack.wheel", Severity: Mating, Says: "its legs are as long as the wheel wants them", Test: Match{Mine: "bead_mm", Theirs: []Ref{theirs("~.tyre", "bead_mm"), theirs("~.rim", "bead_mm")}, Doubt: 40, Ask: "see whether its legs can be set", Rare: true}, Source: byOldPart},
		finishRule("rack"),
	},
}

var childSeat = Table{
	Family: "child-seat", Plural: "child seats",
	Sites:    []Site{{Place: "frame.child-seat", Words: "child seat", Safety: true}},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit child seat", 30}, {Adjust, "set child seat", 10}},
	Dimensions: []Dimension{
		loadKG,
		word("mount", "mount", "look: on the rack, or with a bow from the seat tube", "rack", "seat-tube"),
		millimetres("tube_min_mm", "thinnest tube", 20, 60, "the seat maker's specification"),
		millimetres("tube_max_mm", "thickest tube", 20, 60, "the seat maker's specification"),
	},
	Ordered: [][2]string{{"tube_min_mm", "tube_max_mm"}},
	Rules: []Rule{
		heldAsOld("child-seat"),
		loadAsOld("child-seat"),
		{ID: "child-seat.rack", Severity: Safety, When: []When{being("mount", "rack")}, Says: "the rack is marked for the seat's load, with the child in it",
			Test: Limit{Sum: []Term{plus(mine("load_kg"))}, AtMost: []Ref{theirs("rear.rack", "load_kg")}, Rare: true}, Source: Source{"EN 14344, child seats; ISO 11243:2023, luggage carriers (titles and scopes): the lowest mark counts", Standard}},
		{ID: "child-seat.thin", Severity: Safety, When: []When{being("mount", "seat-tube")}, Says: "its clamp closes round the frame's tube", Test: Limit{Sum: []Term{plus(mine("tube_min_mm"))}, AtMost: []Ref{theirs("frame", "seat_tube_mm")}, Optional: true, Rare: true}, Source: byArithmetic},
		{ID: "child-seat.thick", Severity: Safety, When: []When{being("mount", "seat-tube")}, Says: "its clamp goes round the frame's tube", Test: Limit{Sum: []Term{plus(mine("tube_max_mm"))}, AtLeast: []Ref{theirs("frame", "seat_tube_mm")}, Optional: true, Rare: true}, Source: byArithmetic},
		{ID: "child-seat.tube-as-was", Severity: Safety, Unless: []Place{"frame"}, When: []When{being("mount", "seat-tube")}, Says: "its clamp is made for the tubes that the old one's was",
			Test: Same{Mine: []string{"tube_min_mm", "tube_max_mm"}}, Source: byOldPart},
		finishRule("child-seat"),
	},
}

var basket = Table{
	Family: "basket", Plural: "baskets",
	Sites:      []Site{{Place: "front.basket", Words: "basket"}},
	Readings:   []Reading{damaged},
	Work:       []Work{{Replace, "fit basket", 15}},
	Dimensions: []Dimension{loadKG, word("mount", "mount", "look where it hangs", "bar", "rack", "steerer", "stem")},
	Rules: []Rule{
		heldAsOld("basket"), loadAsOld("basket"),
		bearsLoad("basket", theirs("front.rack", "load_kg")),
		finishRule("basket"),
	},
}

var kickstand = Table{
	Family: "kickstand", Plural: "kickstands",
	Sites:    []Site{{Place: "frame.stand", Words: "kickstand"}},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit kickstand and cut it to length", 15}, {Adjust, "tighten kickstand", 5}},
	Dimensions: []Dimension{
		word("mount", "mount", "look: a plate behind the bracket, a clamp on the stays, or bolts at the rear end", "plate", "clamp", "rear-end", "axle"),
		millimetres("hole_mm", "distance of the bolts", 10, 60, "middle to middle of the holes, caliper"),
		length(150, 450, "from the plate to the foot, with a tape"),
		loadKG,
	},
	Rules: []Rule{
		heldAsOld("kickstand", within),
		{ID: "kickstand.holes", Severity: Mating, Says: "its bolts are as far apart as the old one's", Test: Match{Mine: "hole_mm", Within: 0.5, Rare: true}, Source: byOldPart},
		longEnough("kickstand.length", "length_mm", Mating, "it is at least as long as the old one; the rest is cut off or set", byOldPart),
		loadAsOld("kickstand"),
		finishRule("kickstand"),
	},
}

var bottleCage = Table{
	Family: "bottle-cage", Plural: "bottle cages",
	Sites:      []Site{{Place: "frame.bottle-cage", Words: "bottle cage"}},
	Readings:   []Reading{damaged},
	Work:       []Work{{Replace, "fit bottle cage", 5}},
	Dimensions: []Dimension{word("mount", "mount", "look: two bolts 64 mm apart, or a strap", "bosses", "strap"), millimetres("bottle_mm", "bottle that it holds", 40, 120, "across the bottle, caliper")},
	Rules: []Rule{
		{
			ID: "bottle-cage.mount", Severity: Mating, Against: []Place{within},
			Says: "it is held where the old one was; a strap goes round any tube",
			Test: Lookup{Of: []Ref{mine("mount"), old("mount")}, Rows: []Row{
				{Keys: []string{"strap", "*"}, Answer: Holds, Words: "it wants no holes"}, {Keys: []string{"bosses", "bosses"}, Answer: Holds},
				{Keys: []string{"bosses", "strap"}, Answer: CantTell, Words: "look whether the frame has two threaded holes"},
			}, Otherwise: CantTell},
			Source: byOldPart,
		},
		{ID: "bottle-cage.held", Severity: Function, Says: "it is bolted or strapped on as the old one was", Test: Same{Mine: []string{"mount"}}, Source: byOldPart},
		{ID: "bottle-cage.bottle", Severity: Function, Says: "it holds the same bottle", Test: Same{Mine: []string{"bottle_mm"}}, Source: byOldPart},
		finishRule("bottle-cage"),
	},
}

var bell = Table{
	Family: "bell", Plural: "bells",
	Sites:      []Site{{Place: "handlebar.bell", Words: "bell"}},
	Readings:   []Reading{damaged},
	Work:       []Work{{Replace, "fit bell", 5}, {Adjust, "tighten bell", 3}},
	Dimensions: []Dimension{millimetres("bore_mm", "bar that it goes on", 15, 40, "caliper on the bar where it sits"), word("mount", "mount", "look: a clamp, a strap or a spacer", "clamp", "strap", "spacer")},
	Rules: []Rule{
		{
			ID: "bell.mount", Severity: Mating,
			Says: "it is held where the old one was; a strap goes round any bar",
			Test: Lookup{Of: []Ref{mine("mount"), old("mount"), theirs("handlebar", "clamp_mm")}, Rows: []Row{
				{Keys: []string{"clamp", "clamp", "*"}, Answer: Holds}, {Keys: []string{"spacer", "spacer", "*"}, Answer: Holds},
				{Keys: []string{"strap", "*", "*"}, Answer: Holds, Words: "it is drawn tight round what is there"},
			}, Otherwise: CantTell, Why: "look whether the bar or the steerer has the room for it"},
			Source: byOldPart,
		},
		{ID: "bell.held", Severity: Function, Says: "it is clamped or strapped on as the old one was", Test: Same{Mine: []string{"mount"}}, Source: byOldPart},
		{ID: "bell.bar", Severity: Mating, When: []When{unless("mount", "strap", "spacer")}, Says: "it goes round the bar, beside the grips or beside the stem",
			Test: Match{Mine: "bore_mm", Theirs: []Ref{theirs("handlebar", "grip_mm"), theirs("handlebar", "clamp_mm")}, Any: true, Within: gripWithin, Rare: true, Why: "it does not close round the bar, or turns on it"}, Source: byBarTable},
		finishRule("bell"),
	},
}

var frameLock = Table{
	Family: "frame-lock", Plural: "frame locks",
	Sites:    []Site{{Place: "frame.lock", Words: "frame lock"}},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit frame lock", 20}, {Clean, "clean and oil lock", 5}},
	Dimensions: []Dimension{
		word("mount", "mount", "look where it is held on the stays", "bosses", "clamps", "mudguard-bridge"),
		millimetres("tyre_max_mm", "widest tyre", 20, 120, "the opening between its arms, caliper"),
	},
	Rules: []Rule{
		heldAsOld("frame-lock", within),
		{ID: "frame-lock.tyre", Severity: Mating, Says: "the tyre goes through it", Test: Limit{Sum: []Term{plus(theirs("rear.tyre", "width_mm"))}, AtMost: []Ref{mine("tyre_max_mm")}, Optional: true, Rare: true}, Source: byArithmetic},
		{ID: "frame-lock.room", Severity: Mating, Unless: []Place{"rear.tyre"}, Says: "it is no narrower than the old one", Test: Limit{Sum: []Term{plus(mine("tyre_max_mm"))}, AtLeast: []Ref{old("tyre_max_mm")}, Optional: true, Rare: true, Doubt: 100, Ask: "read the width of the tyre"}, Source: byArithmetic},
		finishRule("frame-lock"),
	},
}
