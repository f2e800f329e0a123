package substitution

var _ = families(&hub)

var rotorMount = word("rotor_mount", "rotor mount", "look: six bolts or a splined ring with a lockring", "6-bolt", "centre-lock")

var hub = Table{
	Family: "hub", Plural: "hubs",
	Sites: []Site{
		{Place: "front.hub", Words: "front hub", Safety: true},
		{Place: "rear.hub", Words: "rear hub", Safety: true},
	},
	Readings: houseReadings,
	Work: []Work{
		{Replace, "build hub into wheel", 90},
		{Adjust, "adjust hub", 15},
		{Clean, "strip, clean and grease hub", 40},
	},
	Dimensions: []Dimension{
		count("holes", "spoke holes", 8, 60, "count the spokes"),
		millimetres("oln_mm", "over locknut width", 60, 220, "outside faces of the locknuts, caliper"),
		word("axle", "axle", "look: qr, solid, or a thru-axle written DIAMETERxOLN"),
		freehubWord,
		threadWord,
		word("lockring_thread", "thread for a lockring", "beside the sprocket's thread look for a smaller one that runs the other way: 32.8 mm across is 1.29x24, 33.5 mm is 1.32x24", "1.29x24", "1.32x24", "none"),
		rotorMount,
		word("position", "position", "look", "front", "rear"),
	},
	Rules: []Rule{
		hubWidth("hub.width-front", "front.hub", "fork"),
		hubWidth("hub.width-rear", "rear.hub", "frame"),
		hubAxle("hub.axle-front", "front.hub", "fork"),
		hubAxle("hub.axle-rear", "rear.hub", "frame"),
		{
			ID: "hub.holes", Severity: Mating, Presumed: true,
			Says:   "the hub has as many spoke holes as the rim",
			Test:   Match{Mine: "holes", Theirs: []Ref{theirs("~.rim", "holes")}},
			Source: Source{"each spoke has its hole", Arithmetic},
		},
		{
			ID: "hub.position", Severity: Mating,
			Says:   "a front hub goes in front, a rear hub behind",
			Test:   Custom{Of: []Ref{mine("position")}, Judge: hubEnd},
			Source: Source{"a rear hub carries the sprockets", Practice},
		},
		finishRule("hub"),
	},
}

func hubWidth(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Mating, At: []Place{at},
		Says:   "the hub is as wide over its locknuts as the " + string(bearer) + " is between its ends",
		Test:   Match{Mine: "oln_mm", Theirs: []Ref{theirs(bearer, "oln_mm")}, Within: 1},
		Source: Source{"published hub spacings: 100, 110, 120, 126, 130, 135, 142, 148 mm; 126 in 135 wants 9 mm of spacers", Handbook},
	}
}

func hubAxle(id string, at, bearer Place) Rule {
	theirAxle := theirs(bearer, "axle")
	return Rule{
		ID: id, Severity: Mating, At: []Place{at},
		Says: "the hub's axle is the " + string(bearer) + "'s: quick release and nuts share open ends, a thru-axle has its own diameter and width",
		Test: Custom{
			Of: []Ref{mine("axle"), theirAxle},
			Judge: func(s Scene, at Place) Judgement {
				hub, ends := s.side(mine("axle"), at), s.side(theirAxle, at)
				if hub.known && ends.known && openEnds(hub.now) && openEnds(ends.now) {
					return Judgement{Answer: Holds, Wanted: ends.now.word, Found: hub.now.word, Words: hub.words() + " in open ends"}
				}
				return Match{Mine: "axle", Theirs: []Ref{theirAxle}}.judge(s, at)
			},
		},
		Source: Source{"published overviews of axle standards", Handbook},
	}
}

func openEnds(v Value) bool { return v.word == "qr" || v.word == "solid" }

func hubEnd(s Scene, at Place) Judgement {
	d := s.side(mine("position"), at)
	if !d.known {
		return Judgement{}
	}
	j := Judgement{Answer: Holds, Wanted: at.end(), Found: d.now.word, Words: d.now.word + " hub at the " + at.end()}
	if d.now.word != at.end() {
		j.Answer = Breaks
	}
	return j
}
