package substitution

var _ = families(&peg, &stabiliser, &halfLink, &barPlug)

// Parts of small-wheeled and children's bikes, and the plug that every bar end wants.

var peg = Table{
	Family: "peg", Plural: "axle pegs",
	Sites: []Site{
		{Place: "front.pegs", Words: "front axle pegs", Safety: true},
		{Place: "rear.pegs", Words: "rear axle pegs", Safety: true},
	},
	Readings: []Reading{damaged, wanted("one a side; say how many")},
	Counted:  true,
	Work:     []Work{{Replace, "fit pegs", 10}, {Adjust, "tighten pegs", 3}},
	Dimensions: []Dimension{
		millimetres("bore_mm", "hole for the axle", 8, 20, "caliper: 10 mm and 3/8 inch axles, or 14 mm"),
		length(50, 160, "end to end, caliper"),
	},
	Rules: []Rule{
		{ID: "peg.axle", Severity: Safety, Says: "its hole is the axle's: a 14 mm peg is loose on 10 mm unless it comes with its adapter", Test: Match{Mine: "bore_mm", Theirs: []Ref{theirs("~.hub.axle", "diameter_mm")}, Within: 0.6, Rare: true}, Source: Source{"infotype.com.au and skatepro.ca on pegs: 10 mm in front and 14 behind, and an adapter for 3/8 inch", TradePage}},
		{ID: "peg.hub", Severity: Safety, Says: "a peg is held by the nut of a solid axle", Test: Lookup{Of: []Ref{theirs("~.hub", "axle")}, Rows: only("solid"), Otherwise: Breaks, Why: "there is no axle for it outside the ends", Optional: true, Rare: true}, Source: byAxleKind},
		{ID: "peg.axle-kind", Severity: Safety, Says: "a peg is held by the nut of a solid axle", Test: Lookup{Of: []Ref{theirs("~.hub.axle", "kind")}, Rows: only("solid"), Otherwise: Breaks, Why: "a hollow axle ends inside the frame's ends", Optional: true, Rare: true, Usual: "solid"}, Source: byAxleKind},
		{ID: "peg.length", Severity: Function, Says: "it is as long", Test: Same{Mine: []string{"length_mm"}}, Source: byOldPart},
		finishRule("peg"),
	},
}

var stabiliser = Table{
	Family: "stabiliser", Plural: "stabilisers",
	Sites:    []Site{{Place: "rear.stabilisers", Words: "stabilisers", Safety: true}},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit stabilisers", 15}, {Adjust, "set stabilisers", 10}},
	Dimensions: []Dimension{
		count("bead_min_mm", "bead seat of the smallest wheel", 100, 720, "read the box: the smallest wheel that it is for"),
		count("bead_max_mm", "bead seat of the largest wheel", 100, 720, "read the box: the largest wheel that it is for"),
		loadKG,
	},
	Ordered: [][2]string{{"bead_min_mm", "bead_max_mm"}},
	Rules: []Rule{
		{
			ID: "stabiliser.smallest", Severity: Mating,
			Says:   "the wheel is no smaller than its arms are made for",
			Test:   Limit{Sum: []Term{plus(theirs("rear.tyre", "bead_mm"), theirs("rear.rim", "bead_mm"))}, AtLeast: []Ref{mine("bead_min_mm")}},
			Source: byStabilisers,
		},
		{
			ID: "stabiliser.largest", Severity: Mating,
			Says:   "the wheel is no larger than its arms reach down",
			Test:   Limit{Sum: []Term{plus(theirs("rear.tyre", "bead_mm"), theirs("rear.rim", "bead_mm"))}, AtMost: []Ref{mine("bead_max_mm")}},
			Source: byStabilisers,
		},
		{
			ID: "stabiliser.axle", Severity: Safety,
			Says: "it goes under the nuts of a solid axle, which grip with all their thread behind its arm",
			Test: Lookup{
				Of: []Ref{theirs("rear.hub", "axle")},
				Rows: []Row{
					{Keys: []string{"solid"}, Answer: Holds, Words: "as long as the nut still grips with all its thread behind the arm"},
					{Keys: []string{"*"}, Answer: Breaks, Words: "nothing of the axle stands out of the frame to hold it"},
				},
				Otherwise: CantTell, Why: "look for nuts, and whether they still grip with all their thread behind the arm", Optional: true,
			},
			Source: byStabilisers,
		},
		loadAsOld("stabiliser"),
		finishRule("stabiliser"),
	},
}

var byStabilisers = Source{"geoscience.blog and healthverywell.com on training wheels: they hold on the rear axle outside the frame, are made for wheels of 12 to 16 or 16 to 20 inches, and a quick release, a gear hub or a short axle leaves no room", TradePage}

var halfLink = Table{
	Family: "half-link", Plural: "half links",
	Sites:      []Site{{Place: "chain.half-link", Words: "half link", Safety: true}},
	Readings:   []Reading{damaged},
	Work:       []Work{{Replace, "fit half link", 10}},
	Dimensions: []Dimension{word("chain_width", "chain width", "caliper between the inner plates", "1/8", "3/32", "11/128")},
	Rules: []Rule{
		{ID: "half-link.width", Severity: Safety, Says: "it has the chain's width", Test: Match{Mine: "chain_width", Theirs: []Ref{theirs("chain", "chain_width")}}, Source: byChainPages},
	},
}

var barPlug = Table{
	Family: "bar-plug", Plural: "bar plugs",
	Sites:    []Site{{Place: "handlebar.plugs", Words: "bar plugs", Safety: true}},
	Readings: []Reading{damaged},
	Pieces:   2,
	Work:     []Work{{Replace, "fit bar plugs", 3}},
	Dimensions: []Dimension{
		millimetres("bore_mm", "hole of the bar", 10, 32, "inside jaws of a caliper in the end of the bar"),
	},
	Rules: []Rule{
		{ID: "bar-plug.bore", Severity: Mating, Says: "it holds in the end of the bar: an open end cuts who falls on it", Test: Match{Mine: "bore_mm", Theirs: []Ref{theirs("handlebar", "end_bore_mm")}, Within: 1}, Source: byOldPart},
		finishRule("bar-plug"),
	},
}
