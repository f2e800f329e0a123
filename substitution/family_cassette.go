package substitution

import (
	"strconv"
	"strings"

	"stead/substitution/standard"
)

var _ = families(&cassette)

var (
	teethMin    = count("teeth_min", "smallest sprocket", 7, 60, "count the teeth")
	teethMax    = count("teeth_max", "largest sprocket", 7, 70, "count the teeth")
	bodyLength  = millimetres("body_mm", "length of the freehub splines", 20, 45, "caliper along the splines: 31 mm for 7 speeds, 35 for 8 to 10, 37 for 11 road")
	freehubWord = word("freehub", "freehub spline", "look at the splines of the body; a chart of profiles tells them apart",
		"hg", "hg-l", "hg-ev", "micro-spline", "xd", "xdr", "8-spline", "8-spline-short", "hg-mini", "threaded")
)

var cassette = Table{
	Family: "cassette", Plural: "cassettes",
	Sites: []Site{
		{Place: "rear.cassette", Words: "cassette"},
	},
	Readings: []Reading{skipsUnderLoad, hookedTeeth},
	Work: []Work{
		{Replace, "fit cassette", 15},
		{Clean, "clean cassette", 15},
	},
	Dimensions: []Dimension{
		speeds, teethMin, teethMax, freehubWord,
		{Name: "lockring", Form: Flag, Means: "lockring in the box", Measure: "look in the box"},
		toothRoller,
	},
	Ordered: [][2]string{{"teeth_min", "teeth_max"}},
	Rules: []Rule{
		{
			ID: "cassette.hub", Severity: Mating,
			Says: "a cassette goes on a freehub body, not on a thread for freewheels",
			Test: Lookup{
				Of:        []Ref{theirs("rear.hub", "freehub"), mine("speeds")},
				Rows:      []Row{{Keys: []string{"threaded", "*"}, Answer: Breaks, Words: "the hub takes a freewheel"}, {Keys: []string{"*", "*"}, Answer: Holds}},
				Otherwise: CantTell, Optional: true, Rare: true, Usual: "hg",
			},
			Source: Source{"ISO 6698, freewheel and hub thread (title and scope)", Handbook},
		},
		cassetteBody("cassette.body", "rear.hub"),
		cassetteBody("cassette.freehub-body", "rear.freehub"),
		{
			ID: "cassette.freehub", Severity: Mating, Presumed: true, Unless: []Place{"rear.freewheel", "rear.sprocket"},
			When: []When{{Of: []Ref{theirs("rear.hub", "freehub")}, Not: []string{"threaded"}}, {Of: []Ref{theirs("rear.hub", "body_mm")}, Not: shortBody}},
			Says: "the cassette's spline and length are the freehub body's, with spacers behind the largest sprocket where the body is longer",
			Test: Lookup{
				Of:        []Ref{mine("freehub"), theirs("rear.hub", "freehub"), mine("speeds")},
				Rows:      freehubRows(),
				Otherwise: Breaks, Why: "the splines differ",
			},
			Source: Source{"published charts of freehub bodies (a wheel maker's page, cornant.uk) and a maker's note on the longer driver body", Handbook},
		},
		{
			ID: "cassette.short-body", Severity: Mating, When: []When{{Of: []Ref{theirs("rear.hub", "body_mm")}, Is: shortBody, Known: true}},
			Says:   "on a body of 31 mm the set sits without a spacer, and its spline is the body's",
			Test:   Match{Mine: "freehub", Theirs: []Ref{theirs("rear.hub", "freehub")}, Why: "the splines differ"},
			Source: Source{"cornant.uk on cassettes: the body of 31 mm is made for 7 speeds", Handbook},
		},
		roadSet("cassette.road-set", "rear.hub"),
		roadSet("cassette.road-set-body", "rear.freehub"),
		{
			ID: "cassette.teeth", Severity: Function,
			Says:   "the sprockets run from the same smallest to the same largest",
			Test:   Same{Mine: []string{"teeth_min", "teeth_max"}, Feel: sprocketFeel},
			Source: Source{"gear ratio is ring teeth by sprocket teeth", Arithmetic},
		},
		cassetteLockring,
		speedsRule("cassette"),
		materialRule("cassette", "it wears and weighs differently; steel sprockets last longest", byWear),
		finishRule("cassette"),
	},
}

// shortBody are the lengths of the body that is made for 7 speeds.
var shortBody = []string{"20..33.9"}

// cassetteBody asks whether the freehub body, recorded with the hub or apart, is long enough for the set.
func cassetteBody(id string, at Place) Rule {
	return Rule{
		ID: id, Severity: Mating, When: []When{being("freehub", "hg", "hg-l"), {Of: []Ref{theirs(at, "body_mm")}, Known: true}},
		Says: "the body is long enough for the set: 7 speeds go on 31 mm, 8 to 10 want 35, 11 road 37",
		Test: Lookup{
			Of: []Ref{mine("speeds"), theirs(at, "body_mm"), mine("teeth_max")},
			Rows: []Row{
				{Keys: []string{"5", "20..45", "*"}, Answer: Holds}, {Keys: []string{"6", "20..45", "*"}, Answer: Holds}, {Keys: []string{"7", "30..45", "*"}, Answer: Holds},
				{Keys: []string{"8", "34..45", "*"}, Answer: Holds}, {Keys: []string{"9", "34..45", "*"}, Answer: Holds}, {Keys: []string{"10", "34..45", "*"}, Answer: Holds},
				{Keys: []string{"11", "34..36.2", "40..70"}, Answer: Holds, Words: "so large a sprocket is a mountain set's"},
				{Keys: []string{"11", "34..36.2", "7..32"}, Answer: Breaks, Words: "a road set of 11 wants 37 mm"},
				{Keys: []string{"11", "34..36.2", "*"}, Answer: CantTell, Words: "mountain sets of 11 go on 35 mm, road sets want 37"}, {Keys: []string{"11", "36.3..45", "*"}, Answer: Holds},
				{Keys: []string{"12", "36.3..45", "*"}, Answer: Holds}, {Keys: []string{"12", "34..36.2", "*"}, Answer: CantTell, Words: "the set's maker says how long a body it wants"},
				{Keys: []string{"*", "*", "*"}, Answer: Breaks, Words: bodyTooShort},
			},
			Otherwise: Breaks, Why: bodyTooShort,
		},
		Source: Source{"cornant.uk on cassettes: bodies of 31 mm for 7 speeds and 35 for 8 and 9; sprockets for 8 and 9 go on the short body only when modified", Handbook},
	}
}

// roadSet keeps a road set of 11 off a body of the usual length, however its spline is named: largest sprockets tell
// the two kinds.
func roadSet(id string, at Place) Rule {
	return Rule{
		ID: id, Severity: Mating, At: []Place{"rear.cassette"},
		When: []When{{Of: []Ref{mine("freehub")}, Is: []string{"hg"}, Known: true}, {Of: []Ref{mine("speeds")}, Is: []string{"11"}, Known: true}, given("teeth_max"),
			{Of: []Ref{theirs(at, "freehub")}, Is: []string{"hg"}, Known: true}, {Of: []Ref{theirs(at, "body_mm")}, Unknown: true}},
		Says: "of sets of 11 the mountain ones, with 40 teeth and more, go on the body of 8 to 10 speeds, and road ones want a longer one",
		Test: Lookup{Of: []Ref{mine("teeth_max"), theirs(at, "freehub")}, Rows: []Row{
			{Keys: []string{"40..70", "*"}, Answer: Holds, Words: "so large a sprocket is a mountain set's"},
			{Keys: []string{"33..39", "*"}, Answer: CantTell, Words: "sets of this range are made for either body: read the set's box"},
		}, Otherwise: Breaks, Why: "a road set of 11 wants 37 mm of splines"},
		Source: Source{"published charts of freehub bodies (a wheel maker's page, cornant.uk); from which largest sprocket on a set is a mountain one is common practice", Handbook},
	}
}

var byWear = Source{"hardness of the alloys (MatWeb) and a published comparison of steel and alloy teeth", Handbook}

// speedsRule tells the rider that the number of gears changes.
func speedsRule(f Family) Rule {
	return Rule{
		ID: string(f) + ".speeds", Severity: Function,
		Says:   "it has the number of sprockets that was there",
		Test:   Same{Mine: []string{"speeds"}},
		Source: byArithmetic,
	}
}

const bodyTooShort = "the body is too short"

// freehubRows are the published pairings, and what they leave open.
func freehubRows() []Row {
	var rows []Row
	for _, w := range []string{"hg-l", "micro-spline", "xd", "xdr", "8-spline", "8-spline-short", "hg-mini"} {
		rows = append(rows, Row{Keys: []string{w, w, "*"}, Answer: Holds})
	}
	for _, fit := range standard.FreehubFits() {
		set, _, _ := strings.Cut(fit.Set, " ")
		answer, words := Holds, ""
		if !fit.Fits {
			answer, words = Breaks, bodyTooShort // of the published misfits both are
		}
		for _, n := range fit.Speeds {
			rows = append(rows, Row{Keys: []string{set, fit.Body, strconv.Itoa(n)}, Answer: answer, Words: words, Brings: spacers(fit.Spacers)})
		}
	}
	ask := func(set, body, words string) Row {
		return Row{Keys: []string{set, body, "*"}, Answer: CantTell, Words: words}
	}
	return append(rows,
		Row{Keys: []string{"xdr", "xd", "*"}, Answer: Breaks, Words: bodyTooShort},
		Row{Keys: []string{"xd", "xdr", "*"}, Answer: Holds, Brings: spacers([]float64{1.85})},
		Row{Keys: []string{"hg-l", "hg", "*"}, Answer: Breaks, Words: bodyTooShort},
		ask("hg", "hg", "no published chart gives the spacers for this number of sprockets: compare its width with the body's"),
		ask("hg", "hg-l", "no published chart gives the spacers for this number of sprockets: compare its width with the body's"),
		ask("hg-ev", "*", "hg-ev may name the teeth and not the spline: look at the body and the set"),
		ask("*", "hg-ev", "hg-ev may name the teeth and not the spline: look at the body and the set"),
		ask("8-spline", "8-spline-short", "an adapter may exist: the maker's word"),
		ask("8-spline-short", "8-spline", "a spacer may exist: the maker's word"),
	)
}

// spacers are the rings that fill a body longer than the cassette; some 10-speed sets are made to need no 1.0 mm one.
func spacers(widths []float64) []Bring {
	var out []Bring
	for _, mm := range widths {
		words := figure(mm) + " mm spacer behind the largest sprocket"
		if mm == 1 {
			words += ", unless the set's maker says it needs none"
		}
		out = append(out, Bring{
			Family: "consumable", Quantity: 1, Words: words,
			Spec: Spec{"purpose": {Value: Text("freehub-spacer"), Origin: FromStandard}, "width_mm": {Value: Num(mm), Origin: FromStandard}},
		})
	}
	return out
}
