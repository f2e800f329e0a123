package substitution

var _ = families(&sprocket, &freehubBody)

var fixing = word("fixing", "fixing", "look: a thread, three lugs or splines; a thread with caliper and thread gauge")

var sprocket = Table{
	Family: "sprocket", Plural: "sprockets",
	Sites: []Site{
		{Place: "rear.sprocket", Words: "sprocket"},
	},
	Readings: []Reading{skipsUnderLoad, hookedTeeth},
	Work: []Work{
		{Replace, "fit sprocket", 20},
		{Clean, "clean sprocket", 10},
	},
	Dimensions: []Dimension{
		count("teeth", "teeth", 7, 60, "count the teeth"), chainWidth, fixing,
		millimetres("tooth_width_mm", "tooth width", 1, 5, "caliper over the teeth"),
		millimetres("dish_mm", "dish", 0, 10, "straight edge over the face: how far the teeth stand beside it"),
	},
	Rules: []Rule{
		{
			ID: "sprocket.hub", Severity: Mating, When: []When{{Of: []Ref{theirs("rear.hub", "freehub")}, Known: true}},
			Says: "a sprocket for a freehub body goes on one, any other does not",
			Test: Lookup{
				Of: []Ref{mine("fixing"), theirs("rear.hub", "freehub")},
				Rows: []Row{
					{Keys: []string{"freehub", "threaded"}, Answer: Breaks, Words: "the hub has a thread"}, {Keys: []string{"freehub", "*"}, Answer: Holds},
					{Keys: []string{"*", "threaded"}, Answer: Holds},
				},
				Otherwise: Breaks, Why: "the hub has a freehub body",
			},
			Source: Source{"Sheldon Brown on sprockets; freehub bodies have splines and no thread for sprockets", Handbook},
		},
		{
			ID: "sprocket.fixing", Severity: Mating, When: []When{{Of: []Ref{theirs("rear.hub", "freehub")}, Is: []string{"threaded"}}},
			Says:   "the sprocket is held on the hub by the hub's thread, or as the old one was: its lugs or splines",
			Test:   Match{Mine: "fixing", Theirs: []Ref{theirs("rear.hub", "thread")}, Alike: inchHubThreads},
			Source: Source{"ISO 10230 (three-lug drivers, abstract); Sheldon Brown and mtb-news.de on sprocket and lockring threads", Handbook},
		},
		sprocketLockring,
		widthRule("sprocket", []Ref{mine("chain_width")}, "rear.sprocket"),
		{
			ID: "sprocket.teeth", Severity: Function,
			Says: "the sprocket has the teeth that were there",
			Test: Same{Mine: []string{"teeth"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("teeth")
				now, _ := s.Now[at].Get("teeth")
				return now.String() + "T in place of " + was.String() + "T: every gear " + change(1/was.number, 1/now.number)
			}},
			Source: Source{"gear ratio is ring teeth by sprocket teeth", Arithmetic},
		},
		{
			ID: "sprocket.width", Severity: Mating,
			Says:   "the teeth are as wide as the old ones",
			Test:   Match{Mine: "tooth_width_mm", Within: 0.3, Rare: true},
			Source: Source{"Wikibooks, bicycle chain sizes: 1/8 teeth take no 3/32 chain", Handbook},
		},
		{
			ID: "sprocket.dish", Severity: Function,
			Says:   "it is dished as the old one was, and the chain stays in line",
			Test:   Same{Mine: []string{"dish_mm"}},
			Source: byArithmetic,
		},
		materialRule("sprocket", "it wears differently; steel lasts longest", byWear),
		finishRule("sprocket"),
	},
}

var freehubBody = Table{
	Family: "freehub-body", Plural: "freehub bodies",
	Sites: []Site{
		{Place: "rear.freehub", Words: "freehub body"},
	},
	Readings: houseReadings,
	Work: []Work{
		{Replace, "fit freehub body", 30},
		{Adjust, "adjust freehub body", 20},
		{Clean, "strip, clean and grease freehub body", 30},
	},
	Dimensions: []Dimension{freehubWord, bodyLength, fixing, word("designation", "maker's number", "read the body or the hub maker's drawing")},
	Rules: []Rule{
		{
			ID: "freehub-body.fixing", Severity: Mating,
			Says:   "the body is held on the hub as the old one was",
			Test:   Match{Mine: "fixing"},
			Source: byOldPart,
		},
		{
			ID: "freehub-body.hub", Severity: Mating, Against: []Place{"rear.hub"},
			Says:   "the body is made for this hub: bodies that look alike do not interchange",
			Test:   Match{Mine: "designation", Else: CantTell, Why: "hold the new body's seat and seal against the old one's: the fixing alone does not tell whose hub it is made for"},
			Source: Source{"a wheel maker's page: hubs have ratchets of their own, and bodies that look similar do not interchange", Catalogue},
		},
		{
			ID: "freehub-body.length", Severity: Mating,
			Says:   "the splines are no shorter than the old ones",
			Test:   Limit{Sum: []Term{plus(mine("body_mm"))}, AtLeast: []Ref{old("body_mm")}, Optional: true, Plus: 0.3},
			Source: Source{"cornant.uk on cassettes: bodies of 31, 35 and 37 mm", Handbook},
		},
		{
			ID: "freehub-body.spline", Severity: Mating, Unless: []Place{"rear.cassette"},
			Says:   "the body has the old one's spline",
			Test:   Match{Mine: "freehub", Rare: true},
			Source: Source{"published charts of freehub bodies (a wheel maker's page, cornant.uk): each spline takes its own sets", Handbook},
		},
		{
			ID: "freehub-body.freehub", Severity: Mating, Unless: []Place{"rear.freewheel"}, When: []When{{Of: []Ref{mine("body_mm")}, Not: shortBody}},
			Says: "the body has the spline of the cassette that stays",
			Test: Lookup{
				Of:        []Ref{theirs("rear.cassette", "freehub"), mine("freehub"), theirs("rear.cassette", "speeds")},
				Rows:      freehubRows(),
				Otherwise: Breaks, Why: "the splines differ",
			},
			Source: Source{"published charts of freehub bodies (a wheel maker's page, cornant.uk) and a maker's note on the longer driver body", Handbook},
		},
		{
			ID: "freehub-body.short", Severity: Mating, When: []When{{Of: []Ref{mine("body_mm")}, Is: shortBody, Known: true}},
			Says:   "on a body of 31 mm the set sits without a spacer, and its spline is the body's",
			Test:   Match{Mine: "freehub", Theirs: []Ref{theirs("rear.cassette", "freehub")}, Why: "the splines differ"},
			Source: Source{"cornant.uk on cassettes: the body of 31 mm is made for 7 speeds", Handbook},
		},
		finishRule("freehub-body"),
	},
}
