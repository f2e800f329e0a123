package substitution

import (
	"fmt"

	"stead/substitution/standard"
)

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
func seatRule(id, dimension, says string, off float64, source Source) Rule {
	return Rule{ID: id, Severity: Mating, Against: []Place{within}, Says: says, Test: Match{Mine: dimension, Within: off}, Source: source}
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
		count("rows", "rows of balls", 1, 2, "look between the seals, or read the mark: 32xx, 38xx and 43xx have two"),
		{Name: "contact_angle_deg", Form: Number, Low: 0, High: 60, Means: "contact angle", Measure: "read the mark: an angular contact bearing has one, a deep groove bearing none"},
		word("outer_ring", "outer ring", "look: plain all round, with a flange on one side, or with a groove for a snap ring", "plain", "flanged", "grooved"),
		{Name: "full_complement", Form: Flag, Means: "full complement of balls", Measure: "read the mark (MAX, V), or look: no cage between the balls"},
	},
	Ordered: [][2]string{{"bore_mm", "outer_mm"}},
	Agrees:  []Agreement{bearingNamed},
	Rules: []Rule{
		seatRule("cartridge-bearing.bore", "bore_mm", "the bore is the old bearing's", ringWithin, byISO492),
		seatRule("cartridge-bearing.outer", "outer_mm", "the outside diameter is the old bearing's", ringWithin, byISO492),
		seatRule("cartridge-bearing.width", "width_mm", "the width is the old bearing's; under 10 mm bore, and at 10 x 15, it changes with the seal", widthWithin, byISO492),
		{
			ID: "cartridge-bearing.rows", Severity: Mating,
			Says:   "two rows of balls stay two: one row carries half, and tilts",
			Test:   Match{Mine: "rows", Usual: "1"},
			Source: Source{"bearing makers' catalogues list single and double rows apart, with their loads", Catalogue},
		},
		{
			ID: "cartridge-bearing.contact", Severity: Mating,
			Says:   "a bearing that is loaded from the side has the old one's contact angle",
			Test:   Match{Mine: "contact_angle_deg", Usual: "0", Within: 2},
			Source: Source{"bearing makers' catalogues list angular contact bearings apart, with their direction of load", Catalogue},
		},
		{
			ID: "cartridge-bearing.outer-ring", Severity: Mating,
			Says:   "a flange stays a flange, and a snap ring holds in a groove alone: a plain bearing has neither, and a flange wants its step",
			Test:   Match{Mine: "outer_ring", Usual: "plain", Doubtful: ringComesOff, Ask: "take the snap ring off: the groove does no harm, but where the ring held the bearing a plain one is not held"},
			Source: Source{"bearing makers' tables of prefixes and suffixes: F or FL is a flange on the outer ring, N a groove and NR a groove with its snap ring", Catalogue},
		},
		{
			ID: "cartridge-bearing.complement", Severity: Function,
			Says:   "it has a cage, or none, as the old one",
			Test:   Same{Mine: []string{"full_complement"}, Usual: Yes(false)},
			Source: Source{"a full complement carries more and runs slower, in bearing makers' catalogues", Catalogue},
		},
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

// bearingNamed: a designation gives the envelope; the width only where open and closed bearings are equally wide, or the
// name says which it is.
func bearingNamed(p *Part) []Follows {
	name, known := p.Get("designation")
	if !known {
		return nil
	}
	text := name.word
	seal, _ := p.Get("seal")
	b, err := standard.ParseBearing(text)
	if err != nil {
		return nil
	}
	because := fmt.Sprintf("designation %s (%s)", text, b.Envelope())
	out := []Follows{
		{Dimension: "bore_mm", Value: Num(b.BoreMM), Within: 0.1, Because: because},
		{Dimension: "outer_mm", Value: Num(b.OuterMM), Within: 0.1, Because: because},
	}
	wide, told := b.WidthMM()
	switch {
	case seal.word == "open":
		wide, told = b.OpenMM, true
	case seal.word != "":
		wide, told = b.ClosedMM, true
	}
	if told {
		out = append(out, Follows{Dimension: "width_mm", Value: Num(wide), Within: widthWithin, Because: because})
	}
	switch b.Seal {
	case standard.SealOpen, standard.SealZZ, standard.SealRS, standard.Seal2RS:
		out = append(out, Follows{Dimension: "seal", Value: Text(string(b.Seal)), Because: because})
	}
	if b.Clearance != "" {
		out = append(out, Follows{Dimension: "clearance", Value: Text(b.Clearance), Because: because})
	}
	if b.FullComplement {
		out = append(out, Follows{Dimension: "full_complement", Value: Yes(true), Because: because})
	}
	ring, said := p.Get("outer_ring")
	switch {
	case b.Flanged:
		ring = Text("flanged")
	case b.SnapRing:
		ring = Text("grooved")
	case !said: // lists write the flange apart from the number
		ring = Text("plain")
	}
	out = append(out, Follows{Dimension: "outer_ring", Value: ring, Because: because})
	rows := 1
	if b.Kind == standard.DoubleRow {
		rows = 2
	}
	return append(out, Follows{Dimension: "rows", Value: Count(rows), Because: because})
}

// ringComesOff: a grooved bearing without its snap ring sits where a plain one does.
func ringComesOff(a, b Value) bool {
	return a.word != "flanged" && b.word != "flanged" && a.word != b.word
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
		{Name: "inner_angle_deg", Form: Number, Low: 20, High: 90, Means: "inner chamfer", Measure: "read the mark (36°x45° is inside x outside) or a protractor; a caliper cannot tell"},
		{Name: "outer_angle_deg", Form: Number, Low: 20, High: 90, Means: "outer chamfer", Measure: "read the mark (36°x45° is inside x outside) or a protractor; a caliper cannot tell"},
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
