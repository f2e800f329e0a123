package substitution

var _ = families(&hubInternals, &hubIndicator, &nonTurnWasher, &hubSpare, &hubShifter)

// The small parts of hubs that shift inside: each hub has its own, by the number on its shell.

var (
	hubCode       = word("hub_code", "hub's number", "read the shell between the flanges, or the code that the shop gives the hub")
	byHubSpares   = Source{"toehead.plus.com on the small parts of internal-gear hubs, by hub and side; wikipedalia.com, hub gears", TradePage}
	byIndicators  = Source{"Sheldon Brown on indicator spindles: the length from the base of the thread to the shoulder goes by the axle and the depth of the toggle key", Handbook}
	hubsOwn       = "it is another hub's"
	hubGearSpeeds = count("gears", "gears", 1, 18, "count the gears, or read the shifter")
)

// ofTheHub is the rule of what is made for one hub: by the hub's number, or by the part that was there.
func ofTheHub(f Family, severity Severity) Rule {
	return Rule{ID: string(f) + ".hub", Severity: severity, Says: "it is made for the hub, by the number on its shell",
		Test: Match{Mine: "hub_code", Theirs: []Ref{theirs("rear.hub.internals", "hub_code")}, Why: hubsOwn}, Source: byHubSpares}
}

var hubInternals = Table{
	Family: "hub-internals", Plural: "hub internals",
	Sites: []Site{
		{Place: "rear.hub.internals", Words: "inside of the hub gear", Safety: true},
	},
	Readings:   []Reading{hubShifts},
	Work:       []Work{{Replace, "change hub internals and set gears", 45}, {Clean, "strip, dip and oil hub internals", 60}, {Adjust, "set hub gear", 10}},
	Dimensions: []Dimension{hubCode, hubGearSpeeds, millimetres("oln_mm", "over locknut width", 100, 180, "outside faces of the locknuts, caliper")},
	Rules: []Rule{
		{
			ID: "hub-internals.hub", Severity: Safety,
			Says:   "it is made for the shell: another hub's internals do not drive, or let go",
			Test:   Match{Mine: "hub_code", Why: hubsOwn},
			Source: byHubSpares,
		},
		{
			ID: "hub-internals.width", Severity: Mating,
			Says:   "the frame's ends take its width",
			Test:   Match{Mine: "oln_mm", Theirs: []Ref{theirs("frame", "oln_mm")}, Within: 1, Rare: true},
			Source: bySpacings,
		},
		{ID: "hub-internals.gears", Severity: Function, Says: "it has as many gears", Test: Same{Mine: []string{"gears"}}, Source: byOldPart},
	},
}

// hubShifts: what a gear hub does wrong is set by its cable first.
var hubShifts = Reading{
	Dimension: word("gears_hold", "gears", "ride or load each gear on the stand", "all hold", "one slips", "several slip"),
	Says: map[string]Advice{
		"all hold":     says(Keep, "all gears hold"),
		"one slips":    says(Adjust, "a gear slips: set the indicator or the cable's marks first, as hub and shifter show them", "rear.gear-cable"),
		"several slip": says(Clean, "several gears slip: where the marks of hub and shifter agree, strip, dip and oil it, and look at pawls and springs", "rear.hub.indicator", "rear.gear-cable"),
	},
}

var hubIndicator = Table{
	Family: "indicator-chain", Plural: "indicator chains",
	Sites:    []Site{{Place: "rear.hub.indicator", Words: "indicator chain or push rod"}},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit indicator chain and set gear", 10}, {Adjust, "set indicator chain", 5}},
	Dimensions: []Dimension{hubCode, millimetres("rod_mm", "length of the rod", 20, 200, "caliper, from the base of the thread to the shoulder before the first link"),
		word("end", "end", "look: a chain with a threaded rod, a bell crank's push rod, or a clip box", "chain", "push-rod", "clip-box")},
	Rules: []Rule{
		ofTheHub("indicator-chain", Mating),
		{ID: "indicator-chain.end", Severity: Mating, Says: "it is of the old one's kind", Test: Match{Mine: "end", Rare: true}, Source: byHubSpares},
		{ID: "indicator-chain.length", Severity: Mating, Says: "its rod is as long as the old one's: axles are made in several lengths", Test: Match{Mine: "rod_mm", Within: 1, Rare: true}, Source: byIndicators},
	},
}

var nonTurnWasher = Table{
	Family: "non-turn-washer", Plural: "non-turn washers",
	Sites:    []Site{{Place: "rear.hub.washers", Words: "non-turn washers", Safety: true}},
	Readings: []Reading{damaged, wanted("one a side; say how many")},
	Counted:  true,
	Work:     []Work{{Replace, "fit non-turn washers", 5}},
	Dimensions: []Dimension{
		millimetres("flats_mm", "axle's flats", 5, 15, "caliper over the axle's flats"),
		Dimension{Name: "angle_deg", Form: Number, Low: 0, High: 90, Means: "angle of the tab to the flats", Measure: "read the washer's colour against its maker's chart: it follows the slope of the frame's ends"},
		word("side", "side", "look for its mark", "left", "right"),
	},
	Rules: []Rule{
		{ID: "non-turn-washer.flats", Severity: Safety, Says: "it holds the axle by its flats: one that is wider lets the axle turn", Test: Match{Mine: "flats_mm", Within: 0.2}, Source: byHubSpares},
		{ID: "non-turn-washer.angle", Severity: Mating, Says: "its tab stands as the old one's, for the slope of the frame's ends", Test: Match{Mine: "angle_deg", Within: 1}, Source: byHubSpares},
		{ID: "non-turn-washer.side", Severity: Mating, Says: "left and right washers differ", Test: Match{Mine: "side", Rare: true}, Source: byHubSpares},
	},
}

var hubSpare = Table{
	Family: "hub-spare", Plural: "hub spares",
	Sites:    []Site{{Place: "rear.hub.spares", Words: "small parts of the hub gear"}},
	Readings: []Reading{damaged, wanted("count them on the hub")},
	Counted:  true,
	Work:     []Work{{Replace, "fit hub spare", 15}},
	Dimensions: []Dimension{hubCode,
		word("kind", "kind", "look at it, or at the hub maker's drawing", "dust-cap", "circlip", "cone", "locknut", "cable-anchor", "cassette-joint", "brake-arm", "pawl", "spring", "grease-guard"),
		word("side", "side", "look which side it is of", "left", "right")},
	Rules: []Rule{
		ofTheHub("hub-spare", Mating),
		{ID: "hub-spare.kind", Severity: Mating, Says: "it is the part that was there", Test: Match{Mine: "kind"}, Source: byHubSpares},
		{ID: "hub-spare.side", Severity: Mating, Says: "it is of the old one's side", Test: Match{Mine: "side", Rare: true}, Source: byHubSpares},
	},
}

var hubShifter = Table{
	Family: "hub-shifter", Plural: "hub-gear shifters",
	Sites:      []Site{{Place: "shifter.hub", Words: "hub-gear shifter"}},
	Readings:   []Reading{damaged},
	Work:       []Work{{Replace, "fit hub-gear shifter and set gear", 25}, {Adjust, "set hub gear", 10}},
	Dimensions: []Dimension{hubCode, hubGearSpeeds, millimetres("bore_mm", "bar that it goes on", 15, 40, "caliper near the end of the bar: 22.2 or 23.8 mm"), word("kind", "kind", "look: twisted, or pressed by the thumb", "twist", "trigger")},
	Rules: []Rule{
		ofTheHub("hub-shifter", Mating),
		{ID: "hub-shifter.gears", Severity: Mating, Says: "it has the hub's number of gears", Test: Match{Mine: "gears", Theirs: []Ref{theirs("rear.hub.internals", "gears")}}, Source: byHubSpares},
		{ID: "hub-shifter.bar", Severity: Mating, Says: "it clamps on the bar", Test: Match{Mine: "bore_mm", Theirs: []Ref{theirs("handlebar", "grip_mm")}, Within: gripWithin, Rare: true}, Source: byBarTable},
		{ID: "hub-shifter.kind", Severity: Function, Says: "it is worked as the old one was", Test: Same{Mine: []string{"kind"}}, Source: byOldPart},
		finishRule("hub-shifter"),
	},
}
