package substitution

var _ = families(&cartridgeBearing, &headsetBearing)

var (
	bore    = millimetres("bore_mm", "bore", 1, 80, "inside jaws of a caliper; below 10 mm they read low")
	outer   = millimetres("outer_mm", "outside diameter", 2, 120, "caliper on the ring, not the seal")
	width   = millimetres("width_mm", "width", 1, 40, "caliper on the rings, not the seals")
	ballDia = millimetres("ball_mm", "ball diameter", 1, 12, "caliper; ten in a row tell an inch ball from a metric one")
)

// What a measured ring may lie off its nominal size: ISO 492 Normal deviations (bore and outside at most 0.013 mm on
// bicycle sizes, width 0.12 mm) and a caliper's 0.05 mm.
const (
	ringWithin  = 0.063
	widthWithin = 0.17
)

// seatRule asks that a bearing have a dimension of the old one: the seat has no name of its own.
func seatRule(id, dimension, says string, within float64, source Source) Rule {
	return Rule{ID: id, Severity: Mating, Says: says, Test: Match{Mine: dimension, Within: within}, Source: source}
}

var cartridgeBearing = Table{
	Family: "cartridge-bearing", Plural: "cartridge bearings",
	Sites: []Site{
		{Place: "bottom-bracket.bearing-left", Words: "left bottom bracket bearing"},
		{Place: "bottom-bracket.bearing-right", Words: "right bottom bracket bearing"},
		{Place: "front.hub.bearing-left", Words: "front hub bearing, left", Safety: true},
		{Place: "front.hub.bearing-right", Words: "front hub bearing, right", Safety: true},
		{Place: "rear.hub.bearing-left", Words: "rear hub bearing, left", Safety: true},
		{Place: "rear.hub.bearing-right", Words: "rear hub bearing, right", Safety: true},
		{Place: "rear.freehub.bearing-inner", Words: "freehub bearing, inner"},
		{Place: "rear.freehub.bearing-outer", Words: "freehub bearing, outer"},
	},
	Readings: bearingReadings,
	Work: []Work{
		{Replace, "press out and fit bearing", 20},
		{Adjust, "take up bearing play", 10},
		{Clean, "clean and grease bearing", 15},
	},
	Dimensions: []Dimension{
		bore, outer, width,
		word("seal", "seal", "look: open, metal shields (zz) or rubber seals (rs, 2rs)", "open", "zz", "rs", "2rs"),
		word("clearance", "clearance class", "read the mark; a caliper cannot tell", "c2", "cn", "c3", "c4"),
		word("designation", "designation", "read the mark on the ring or seal"),
	},
	Ordered: [][2]string{{"bore_mm", "outer_mm"}},
	Rules: []Rule{
		seatRule("cartridge-bearing.bore", "bore_mm", "the bore is the old bearing's", ringWithin, byISO492),
		seatRule("cartridge-bearing.outer", "outer_mm", "the outside diameter is the old bearing's", ringWithin, byISO492),
		seatRule("cartridge-bearing.width", "width_mm", "the width is the old bearing's; under 10 mm bore it changes with the seal", widthWithin, byISO492),
		{
			ID: "cartridge-bearing.seal", Severity: Function,
			Says: "it is sealed as the old one was",
			Test: Same{Mine: []string{"seal"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("seal")
				now, _ := s.Now[at].Get("seal")
				return at.words() + ": " + now.word + " in place of " + was.word + ": " + map[string]string{
					"open": "nothing keeps water out or grease in",
					"zz":   "metal shields run freely and keep out less water",
					"rs":   "a rubber seal on one side only",
					"2rs":  "rubber seals on both sides keep out more water and turn a little stiffer",
				}[now.word]
			}},
			Source: Source{"suffixes in bearing makers' catalogues", Catalogue},
		},
		{
			ID: "cartridge-bearing.clearance", Severity: Function,
			Says:   "it has the old one's internal clearance: another class goes in, and is not equivalent",
			Test:   Same{Mine: []string{"clearance"}},
			Source: Source{"radial internal clearance classes in a bearing maker's catalogue (ISO 5753-1)", Catalogue},
		},
		materialRule("cartridge-bearing", "stainless is softer than bearing steel and resists rust; ceramic balls want clean grease", byBallSteel),
	},
}

var byBallSteel = Source{"bearing steel 52100 is harder than stainless 440C (designparams.com)", Handbook}

var headsetBearing = Table{
	Family: "headset-bearing", Plural: "headset bearings",
	Sites: []Site{
		{Place: "headset.upper-bearing", Words: "upper headset bearing", Safety: true},
		{Place: "headset.lower-bearing", Words: "lower headset bearing", Safety: true},
	},
	Readings: bearingReadings,
	Work: []Work{
		{Replace, "fit headset bearing", 20},
		{Adjust, "adjust headset", 15},
		{Clean, "clean and grease headset bearing", 20},
	},
	Dimensions: []Dimension{
		bore, outer, width,
		Dimension{Name: "inner_angle_deg", Form: Number, Low: 20, High: 90, Means: "inner chamfer", Measure: "read the mark (36°x45° is inside x outside) or a protractor; a caliper cannot tell"},
		Dimension{Name: "outer_angle_deg", Form: Number, Low: 20, High: 90, Means: "outer chamfer", Measure: "read the mark (36°x45° is inside x outside) or a protractor; a caliper cannot tell"},
		word("position", "position", "look", "upper", "lower"),
	},
	Ordered: [][2]string{{"bore_mm", "outer_mm"}},
	Rules: []Rule{
		seatRule("headset-bearing.bore", "bore_mm", "the bore is the old bearing's", ringWithin, byFiveNumbers),
		seatRule("headset-bearing.outer", "outer_mm", "the outside diameter is the old bearing's", ringWithin, byFiveNumbers),
		seatRule("headset-bearing.width", "width_mm", "the height is the old bearing's", widthWithin, byFiveNumbers),
		seatRule("headset-bearing.inner-angle", "inner_angle_deg", "the inside chamfer is the old bearing's", 0.5, byFiveNumbers),
		seatRule("headset-bearing.outer-angle", "outer_angle_deg", "the outside chamfer is the old bearing's", 0.5, byFiveNumbers),
		materialRule("headset-bearing", "stainless is softer than bearing steel and resists rust", byBallSteel),
	},
}

var byFiveNumbers = Source{"a headset maker's identification guide: the mark names inside and outside chamfer; bore, outside and height decide with them, a name never does", Catalogue}
