package substitution

import "fmt"

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
	},
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
			ID: "axle.length", Severity: Mating,
			Says:   "a hollow axle stands 8 to 11 mm over the locknuts, any other is as long as the old one",
			Test:   Custom{Of: []Ref{mine("length_mm"), theirs("~.hub", "oln_mm"), theirs("~.hub", "axle")}, Judge: axleLength},
			Source: Source{"dt6110 hub page: quick-release axle is over locknut width and 8 to 11 mm", Handbook},
		},
	},
}

func axleLength(s Scene, at Place) Judgement {
	long, over, kind := s.side(mine("length_mm"), at), s.side(theirs("~.hub", "oln_mm"), at), s.side(theirs("~.hub", "axle"), at)
	if !long.known || !over.known || kind.now.word != "qr" {
		return Match{Mine: "length_mm", Within: 1}.judge(s, at)
	}
	stands := long.now.number - over.now.number
	j := Judgement{Answer: Holds, Wanted: "8 to 11 mm over the locknuts", Found: figure(stands) + " mm",
		Words: fmt.Sprintf("an axle of %s mm stands %s mm over locknuts of %s mm", long.now, figure(stands), over.now)}
	if stands < 8 || stands > 11 {
		j.Answer = Breaks
	}
	return j
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
			ID: "hub-cone.length", Severity: Mating,
			Says:   "the cone is as long as the old one",
			Test:   Match{Mine: "length_mm", Within: 0.5},
			Source: byOldPart,
		},
		{
			ID: "hub-cone.track", Severity: Mating,
			Says:   "the ball track is the old cone's: thread and length do not tell it",
			Test:   Custom{Of: []Ref{mine("designation")}, Judge: sameNumber("hold the new cone's ball track against the old one's")},
			Source: Source{"retrobikerestorations.blogspot.com: hubs that looked alike had other cones", Handbook},
		},
		{
			ID: "hub-cone.position", Severity: Function,
			Says:   "a front cone in front, a rear cone behind",
			Test:   Custom{Of: []Ref{mine("position")}, Judge: hubEnd},
			Source: byOldPart,
		},
	},
}

// sameNumber accepts the same maker's number only; another one has to be held against the old part.
func sameNumber(how string) func(Scene, Place) Judgement {
	return func(s Scene, at Place) Judgement {
		d := s.side(mine("designation"), at)
		if d.changed && d.known && d.wasKnown && d.now.Equal(d.was) {
			return Judgement{Answer: Holds, Before: true, Wanted: d.was.word, Found: d.now.word, Words: "the same number as the old part"}
		}
		return Judgement{Answer: CantTell, Words: how, Found: d.now.word, Wanted: d.was.word, Missing: []Missing{d.missing()}}
	}
}
