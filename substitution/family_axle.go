package substitution

import "stead/substitution/standard"

var _ = families(&axle, &hubCone)

var axle = Table{
	Family: "axle", Plural: "axles",
	Sites: []Site{
		{Place: "front.hub.axle", Words: "front hub axle", Safety: true},
		{Place: "rear.hub.axle", Words: "rear hub axle", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit axle and adjust hub", 25},
		{Clean, "clean and grease axle", 10},
	},
	Dimensions: []Dimension{
		threadWord, length(60, 320, "end to end, caliper or rule"),
		millimetres("diameter_mm", "diameter", 4, 40, "caliper on the plain part or over the thread"),
		word("position", "position", "look: which wheel it is of", "front", "rear"),
		word("kind", "kind", "look through it: hollow for a quick release, solid for nuts", "hollow", "solid"),
	},
	Agrees: []Agreement{axleThickness},
	Rules: []Rule{
		{
			ID: "axle.thread", Severity: Mating,
			Says:   "the axle has the thread of its cones or of the frame's insert: 10 x 1 and 3/8 x 26 are half a millimetre apart",
			Test:   Match{Mine: "thread", Theirs: []Ref{theirs("~.hub.cone-left", "thread"), theirs("~.hub.cone-right", "thread")}},
			Source: Source{"JIS B 0225 cycle threads; wrenchfu.com on axle nuts", Standard},
		},
		{
			ID: "axle.diameter", Severity: Mating,
			Says:   "the axle is as thick as the old one",
			Test:   Match{Mine: "diameter_mm", Within: 0.15},
			Source: byOldPart,
		},
		{
			ID: "axle.stands", Severity: Mating, When: []When{unless("kind", "solid"), {Of: []Ref{theirs("~.hub", "axle")}, Is: []string{"qr"}, Known: true}, {Of: []Ref{theirs("~.hub", "oln_mm")}, Known: true}},
			Says:   "a hollow axle stands 8 to 11 mm over the locknuts",
			Test:   Span{Sum: []Term{plus(mine("length_mm")), minus(theirs("~.hub", "oln_mm"))}, Low: 8, High: 11},
			Source: Source{"dt6110 hub page: quick-release axle is over locknut width and 8 to 11 mm", Handbook},
		},
		{
			ID: "axle.length", Severity: Mating, When: []When{{Of: []Ref{theirs("~.hub", "axle")}, Not: []string{"qr"}}},
			Says:   "an axle with nuts is as long as the old one",
			Test:   Match{Mine: "length_mm", Within: 1},
			Source: byOldPart,
		},
		{
			ID: "axle.length-as-was", Severity: Mating, Against: []Place{within}, When: []When{unless("kind", "solid"), {Of: []Ref{theirs("~.hub", "axle")}, Is: []string{"qr"}, Known: true}, {Of: []Ref{theirs("~.hub", "oln_mm")}, Unknown: true}},
			Says:   "where nobody measured the hub a hollow axle is as long as the old one: it stands 8 to 11 mm over the locknuts",
			Test:   Match{Mine: "length_mm", Within: 2},
			Source: Source{"dt6110 hub page: quick-release axle is over locknut width and 8 to 11 mm", Handbook},
		},
		{
			ID: "axle.hollow", Severity: Safety,
			Says:   "a hollow axle for a quick release, a solid one for nuts",
			Test:   Match{Mine: "kind", Rare: true},
			Source: byAxleKind,
		},
		{
			ID: "axle.hub", Severity: Safety,
			Says: "a hub for a quick release has a hollow axle, one with nuts a solid one",
			Test: Lookup{Of: []Ref{mine("kind"), theirs("~.hub", "axle")}, Rows: []Row{
				{Keys: []string{"hollow", "qr"}, Answer: Holds}, {Keys: []string{"solid", "solid"}, Answer: Holds},
				{Keys: []string{"solid", "qr"}, Answer: Breaks, Words: "a skewer does not go through it"},
				{Keys: []string{"hollow", "solid"}, Answer: Breaks, Words: "it stands too short for nuts"},
			}, Otherwise: CantTell, Why: "see what the hub turns on", Optional: true, Rare: true, Usual: "hollow"},
			Source: byAxleKind,
		},
		{
			ID: "axle.position", Severity: Mating,
			Says:   "a front axle in front, a rear one behind",
			Test:   Is{Mine: "position", Placed: true, Silent: true},
			Source: byOldPart,
		},
	},
}

// axleThickness: an axle whose thickness nobody took is as thick as its thread.
func axleThickness(p *Part) []Follows {
	word, known := p.Get("thread")
	thread, err := standard.ParseThread(word.word)
	if !known || err != nil {
		return nil
	}
	return []Follows{{Dimension: "diameter_mm", Value: Num(thread.DiameterMM), Loose: true}}
}

var hubCone = Table{
	Family: "hub-cone", Plural: "hub cones",
	Sites: []Site{
		{Place: "front.hub.cone-left", Words: "front hub cone, left", Safety: true},
		{Place: "front.hub.cone-right", Words: "front hub cone, right", Safety: true},
		{Place: "rear.hub.cone-left", Words: "rear hub cone, left", Safety: true},
		{Place: "rear.hub.cone-right", Words: "rear hub cone, right", Safety: true},
	},
	Readings: []Reading{conePitted},
	Work: []Work{
		{Replace, "fit cone and adjust hub", 15},
		{Clean, "clean cone", 10},
	},
	Dimensions: []Dimension{
		threadWord, length(4, 60, "caliper"), word("position", "position", "look", "front", "rear"),
		word("designation", "maker's number", "read the cone or the hub maker's drawing"),
	},
	Rules: []Rule{
		{
			ID: "hub-cone.thread", Severity: Mating,
			Says:   "the cone has the axle's thread",
			Test:   Match{Mine: "thread", Theirs: []Ref{theirs("~.hub.axle", "thread")}},
			Source: Source{"JIS B 0225 cycle threads; wrenchfu.com on axle nuts", Standard},
		},
		{
			ID: "hub-cone.length", Severity: Mating, Against: []Place{within},
			Says:   "the cone is as long as the old one",
			Test:   Match{Mine: "length_mm", Within: 0.5},
			Source: byOldPart,
		},
		{
			ID: "hub-cone.track", Severity: Mating, Against: []Place{within},
			Says:   "the ball track is the old cone's: thread and length do not tell it",
			Test:   Match{Mine: "designation", Else: CantTell, Why: "hold the new cone's ball track against the old one's"},
			Source: Source{"retrobikerestorations.blogspot.com: hubs that looked alike had other cones", Handbook},
		},
		{
			ID: "hub-cone.position", Severity: Function,
			Says:   "a front cone in front, a rear cone behind",
			Test:   Is{Mine: "position", Placed: true, Silent: true},
			Source: byOldPart,
		},
	},
}
