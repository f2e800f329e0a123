package substitution

var _ = families(&crankArm, &cotterPin, &chainGuard, &cleat)

var crankArm = Table{
	Family: "crank-arm", Plural: "crank arms",
	Sites: []Site{
		{Place: "crank.arm-left", Words: "left crank arm", Safety: true},
		{Place: "crank.arm-right", Words: "right crank arm", Safety: true},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit crank arm", 10}, {Adjust, "tighten crank arm", 5}},
	Dimensions: []Dimension{
		spindleInterface,
		millimetres("arm_mm", "crank length", 90, 200, "read the back of the arm; spindle's middle to pedal's middle"),
		pedalThreadOf,
		word("side", "side", "look at the pedal's thread: the left one is left-handed", "left", "right"),
	},
	Rules: []Rule{
		{
			ID: "crank-arm.spindle", Severity: Safety,
			Says:   "the arm goes on the spindle: a taper of one standard on the other sits too far in or out and works loose",
			Test:   Match{Mine: "spindle_interface", Theirs: []Ref{theirs("bottom-bracket", "spindle_interface"), theirs("crank", "spindle_interface")}},
			Source: Source{"Sheldon Brown on tapers: JIS and ISO differ by about 4.5 mm in how far the crank goes on", Handbook},
		},
		{
			ID: "crank-arm.length", Severity: Mating,
			Says:   "both arms are as long",
			Test:   Match{Mine: "arm_mm", Theirs: []Ref{theirs("crank", "arm_mm")}, Within: 0.3},
			Source: byArithmetic,
		},
		{
			ID: "crank-arm.pedal", Severity: Safety,
			Says:   "the pedal that was there goes in",
			Test:   Match{Mine: "pedal_thread", Theirs: []Ref{theirs("pedals", "thread")}, Rare: true, Why: "it starts in the thread and binds, or drops through"},
			Source: byPedalThreads,
		},
		{
			ID: "crank-arm.side", Severity: Safety,
			Says:   "a left arm on the left: the pedal threads of the two run against each other",
			Test:   Is{Mine: "side", Placed: true, Silent: true},
			Source: byPedalThreads,
		},
		finishRule("crank-arm"),
	},
}

var cotterPin = Table{
	Family: "cotter-pin", Plural: "cotter pins",
	Sites:    []Site{{Place: "crank.cotters", Words: "cotter pins", Safety: true}},
	Readings: []Reading{damaged},
	Pieces:   2,
	Work:     []Work{{Replace, "file, press in and tighten cotter pins", 30}, {Adjust, "press cotter pins home and tighten them", 15}},
	Dimensions: []Dimension{
		millimetres("diameter_mm", "diameter", 6, 13, "caliper on the round part: 9.0 and 9.5 mm are two pins"),
		length(20, 80, "end to end, caliper"),
	},
	Rules: []Rule{
		{
			ID: "cotter-pin.crank", Severity: Safety, Against: []Place{"crank.arm-left", "crank.arm-right", "bottom-bracket"},
			Says: "cranks with a hole across the end are held by cotter pins, and no others are",
			Test: Lookup{
				Of:   []Ref{theirs("crank", "spindle_interface")},
				Rows: only("cottered"), Otherwise: Breaks, Why: "there is no hole for it", Optional: true, Rare: true,
			},
			Source: byCotters,
		},
		{
			ID: "cotter-pin.diameter", Severity: Safety,
			Says:   "it is as thick as the old one: a thinner one works loose, a thicker one does not enter",
			Test:   Match{Mine: "diameter_mm", Within: 0.1},
			Source: byOldPart,
		},
		{
			ID: "cotter-pin.length", Severity: Mating,
			Says:   "its thread comes out far enough for the nut, as the old one's did",
			Test:   Match{Mine: "length_mm", Within: 3, Rare: true},
			Source: byOldPart,
		},
	},
}

var byCotters = Source{"lfgss.com and smontanaro.net on cottered cranks: the pin goes through crank and spindle; the flats of the two pins match, or are filed alike", TradePage}

var chainGuard = Table{
	Family: "chain-guard", Plural: "chain guards",
	Sites: []Site{
		{Place: "crank.guard", Words: "chain guard"},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit chain guard", 15}, {Adjust, "set chain guard", 5}},
	Dimensions: []Dimension{
		word("kind", "kind", "look: a ring on the crank's bolts, a case, or a plate on the frame", "ring", "case", "plate"),
		bcd, bolts,
		count("teeth_max", "largest ring it covers", 10, 80, "count the teeth of the ring"),
	},
	Rules: []Rule{
		{
			ID: "chain-guard.kind", Severity: Mating,
			Says:   "it is of the old one's kind: ring, case and plate are held in three ways",
			Test:   Match{Mine: "kind", Rare: true},
			Source: byOldPart,
		},
		{
			ID: "chain-guard.circle", Severity: Mating, When: []When{unless("kind", "case", "plate")},
			Says:   "a guard ring is on the crank's bolt circle",
			Test:   Match{Mine: "bcd_mm", Theirs: []Ref{theirs("crank", "bcd_mm")}, Within: circleWithin},
			Source: byBoltPatterns,
		},
		{
			ID: "chain-guard.bolts", Severity: Mating, When: []When{unless("kind", "case", "plate")},
			Says:   "a guard ring has the crank's number of bolts",
			Test:   Match{Mine: "bolts", Theirs: []Ref{theirs("crank", "bolts")}},
			Source: byBoltPatterns,
		},
		{
			ID: "chain-guard.ring", Severity: Mating,
			Says:   "it covers the ring",
			Test:   Limit{Sum: []Term{plus(largeRing()...)}, AtMost: []Ref{theirs("crank.guard", "teeth_max")}, Optional: true, Rare: true},
			Source: byArithmetic,
		},
		finishRule("chain-guard"),
	},
}

var cleat = Table{
	Family: "cleat", Plural: "cleats",
	Sites: []Site{
		{Place: "pedals.cleats", Words: "shoe cleats", Safety: true},
	},
	Readings: []Reading{wornToMark, damaged},
	Pieces:   2,
	Work:     []Work{{Replace, "fit cleats", 15}, {Adjust, "set cleats", 10}},
	Dimensions: []Dimension{
		word("cleat", "cleat", "count the bolts in the shoe", "two-bolt", "three-bolt", "four-bolt"),
		word("system", "pedal system", "read pedal and cleat: the maker's name for the pair of them"),
		Dimension{Name: "float_deg", Form: Number, Low: 0, High: 20, Means: "float", Measure: "read the cleat's colour against its maker's chart"},
	},
	Rules: []Rule{
		{
			ID: "cleat.bolts", Severity: Mating,
			Says:   "it has the bolts of the shoe and of the pedals' kind",
			Test:   Match{Mine: "cleat", Theirs: []Ref{theirs("pedals", "cleat")}},
			Source: byCleats,
		},
		{
			ID: "cleat.system", Severity: Safety,
			Says:   "it is the pedals' own: a cleat of another system does not let go, or lets go unasked",
			Test:   Match{Mine: "system", Theirs: []Ref{theirs("pedals", "system")}},
			Source: byCleats,
		},
		{ID: "cleat.float", Severity: Function, Says: "the foot turns as far as it did", Test: Same{Mine: []string{"float_deg"}}, Source: byOldPart},
	},
}
