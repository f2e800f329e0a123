package substitution

import "slices"

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
	Dimensions: []Dimension{count("teeth", "teeth", 7, 60, "count the teeth"), chainWidth, fixing},
	Rules: []Rule{
		{
			ID: "sprocket.fixing", Severity: Mating,
			Says:   "the sprocket is held on the hub as the old one was: its thread, lugs or splines",
			Test:   Custom{Of: []Ref{mine("fixing")}, Judge: sprocketFixing, Narrow: sprocketFixings},
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
		materialRule("sprocket", "it wears differently; steel lasts longest", byWear),
		finishRule("sprocket"),
	},
}

// sprocketFixing compares with the old sprocket; the three inch threads of hubs go on each other.
func sprocketFixing(s Scene, at Place) Judgement {
	d := s.side(mine("fixing"), at)
	if d.changed && slices.Contains(inchHubThreads, d.now.word) && slices.Contains(inchHubThreads, d.was.word) {
		return d.besideOld(Holds)
	}
	return Match{Mine: "fixing"}.judge(s, at)
}

func sprocketFixings(s Scene, at, choosing Place) []Condition {
	if d := s.side(mine("fixing"), at); choosing == at && slices.Contains(inchHubThreads, d.was.word) {
		return []Condition{OneOf{"fixing", inchHubThreads}}
	}
	return Match{Mine: "fixing"}.narrow(s, at, choosing)
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
	Dimensions: []Dimension{freehubWord, fixing, word("designation", "maker's number", "read the body or the hub maker's drawing")},
	Rules: []Rule{
		{
			ID: "freehub-body.fixing", Severity: Mating,
			Says:   "the body is held on the hub as the old one was",
			Test:   Match{Mine: "fixing"},
			Source: byOldPart,
		},
		{
			ID: "freehub-body.hub", Severity: Mating,
			Says:   "the body is made for this hub: bodies that look alike do not interchange",
			Test:   Custom{Of: []Ref{mine("designation")}, Judge: sameNumber("hold the new body's seat and seal against the old one's: the fixing alone does not tell whose hub it is made for")},
			Source: Source{"a wheel maker's page: hubs have ratchets of their own, and bodies that look similar do not interchange", Catalogue},
		},
		{
			ID: "freehub-body.freehub", Severity: Mating, Unless: []Place{"rear.freewheel"},
			Says: "the body has the spline of the cassette that stays",
			Test: Lookup{
				Of:        []Ref{theirs("rear.cassette", "freehub"), mine("freehub"), theirs("rear.cassette", "speeds")},
				Rows:      freehubRows(),
				Otherwise: Breaks, Why: "the splines differ",
			},
			Source: Source{"published charts of freehub bodies (a wheel maker's page, cornant.uk) and a maker's note on the longer driver body", Handbook},
		},
		finishRule("freehub-body"),
	},
}
