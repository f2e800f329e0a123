package substitution

var _ = families(&serviceKit, &forkSeal, &suspensionOil, &shock)

// What a suspension fork or shock is serviced with. The maker's manual is the only authority on what is inside.

var (
	model       = word("model", "model and year", "read the sticker or the number on crown or shock: the maker's own name and year, as a code of the shop")
	stanchion   = millimetres("stanchion_mm", "stanchion diameter", 20, 50, "caliper on the upper leg")
	byForkMaker = Source{"suspension makers list kit, oil and volume for each model and year, and for no other", Catalogue}
	byHours     = Source{"four workshop pages: lower legs every 50 hours (30 to 100 by maker), whole service every 100 to 200 hours or once a year", TradePage}
)

// serviceHours are the hours since the last service.
var serviceHours = Reading{
	Dimension: Dimension{Name: "hours", Form: Number, High: 5000, Means: "hours since its last service", Measure: "ask the rider: an hour's ride twice a week is 100 a year"},
	Judge: func(l Look) Advice {
		hours, _ := l.Figure("hours")
		a := Advice{Source: byHours, Words: figure(hours) + " hours since its last service"}
		switch {
		case hours >= 200:
			a.Action, a.Words = Clean, a.Words+": a whole service is due"
		case hours >= 100:
			a.Action, a.Words = Clean, a.Words+": the lower legs are due, and by many makers the whole of it"
		case hours >= 50:
			a.Action, a.Words = Clean, a.Words+": the lower legs are due; some makers allow 100"
		default:
			a.Action = Keep
		}
		return a
	},
}

// serviceMonths are the months since the last service: makers go by hours, and at the latest by the year.
var serviceMonths = Reading{
	Dimension: Dimension{Name: "months", Form: Number, High: 600, Means: "months since its last service", Measure: "the bike's history, or ask the rider"},
	Judge: func(l Look) Advice {
		months, _ := l.Figure("months")
		a := Advice{Action: Keep, Source: byHours, Words: figure(months) + " months since its last service"}
		if months >= 12 {
			a.Action, a.Words = Clean, a.Words+": a whole service is due by the year"
		}
		return a
	},
}

// travelUsed is how far it moves when it is ridden.
var travelUsed = Reading{
	Dimension: word("travel", "travel", "push a ring of rubber down, ride over a kerb, and see how far it went", "full", "short", "bottoms out"),
	Says: map[string]Advice{
		"full":        says(Keep, "it uses its travel"),
		"short":       says(Clean, "it does not use its travel: check pressure and sag first, then strip, clean and oil it"),
		"bottoms out": says(Adjust, "it bottoms out: more pressure or a harder spring, as its maker's table has it"),
	},
}

func ofTheModel(id string, at, of Place) Rule {
	return Rule{ID: id, Severity: Safety, At: []Place{at}, Says: "it is made for the model and year of what it services, by its maker's list",
		Test: Match{Mine: "model", Theirs: []Ref{theirs(of, "model")}, Why: "it is for another model or year"}, Source: byForkMaker}
}

var serviceKit = Table{
	Family: "service-kit", Plural: "suspension service kits",
	Sites: []Site{
		{Place: "fork.service-kit", Words: "fork service kit", Safety: true},
		{Place: "frame.shock.service-kit", Words: "shock service kit", Safety: true},
	},
	Readings:   []Reading{serviceHours},
	Work:       []Work{{Replace, "service suspension with a kit", 90}, {Clean, "service lower legs", 60}},
	Dimensions: []Dimension{model, count("hours_of", "service it is for", 10, 500, "read the packet: hours")},
	Rules: []Rule{
		ofTheModel("service-kit.model", "fork.service-kit", "fork"),
		ofTheModel("service-kit.shock-model", "frame.shock.service-kit", "frame.shock"),
		{ID: "service-kit.hours", Severity: Mating, Says: "it is the kit of that service: the one of 50 hours has no damper seals", Test: Match{Mine: "hours_of", Rare: true}, Source: byForkMaker},
	},
}

var forkSeal = Table{
	Family: "fork-seal", Plural: "fork seals",
	Sites:    []Site{{Place: "fork.seals", Words: "fork wiper seals", Safety: true}},
	Readings: []Reading{serviceHours, leakingSeal},
	Pieces:   2,
	Work:     []Work{{Replace, "fit fork seals and oil", 60}, {Clean, "clean and oil fork seals", 30}},
	Dimensions: []Dimension{
		stanchion,
		millimetres("outer_mm", "outside diameter", 25, 70, "caliper in the lower leg, seal out"),
		word("seal_kind", "kind", "look: one piece of wiper and seal, or two", "one-piece", "two-piece"),
	},
	Rules: []Rule{
		{ID: "fork-seal.stanchion", Severity: Safety, Says: "it runs on the stanchion's diameter: 30, 32, 34, 35, 36 and 38 mm are all made", Test: Match{Mine: "stanchion_mm", Theirs: []Ref{theirs("fork", "stanchion_mm")}, Within: 0.1}, Source: byForkMaker},
		{ID: "fork-seal.outside", Severity: Safety, Says: "it is as wide as its seat in the lower leg: makers' seats differ for one stanchion", Test: Match{Mine: "outer_mm", Theirs: []Ref{theirs("fork", "seal_mm")}, Within: 0.1}, Source: byForkMaker},
		{ID: "fork-seal.kind", Severity: Mating, Says: "it is of the old one's kind", Test: Match{Mine: "seal_kind", Rare: true}, Source: byForkMaker},
	},
}

var leakingSeal = fault("leaking", "oil on the stanchions", "wipe them, push the fork down ten times and look for a ring of oil",
	"no oil on the stanchions", Advice{Action: Replace, Words: "oil on the stanchions: new seals, and look for scratches first", Source: byForkMaker})

var suspensionOil = Table{
	Family: "suspension-oil", Plural: "suspension oils",
	Sites: []Site{{Place: "bench.suspension-oil", Words: "suspension oil"}},
	Dimensions: []Dimension{
		word("weight", "weight", "read the bottle", "2.5W", "3W", "4W", "5W", "7.5W", "10W", "15W", "20W", "30W"),
		Dimension{Name: "cst", Form: Number, Low: 1, High: 500, Means: "viscosity at 40 °C", Measure: "read the bottle or the data sheet: cSt"},
		Dimension{Name: "volume_ml", Form: Number, Low: 1, High: 100000, Means: "volume", Measure: "read the bottle"},
	},
	Rules: []Rule{
		{ID: "suspension-oil.weight", Severity: Mating, When: []When{{Of: []Ref{old("cst")}, Unknown: true}}, Says: "it has the weight that the maker names, where nobody knows more of the old one", Test: Match{Mine: "weight"}, Source: byForkMaker},
		{
			ID: "suspension-oil.thickness", Severity: Mating, When: []When{{Of: []Ref{old("cst")}, Known: true}},
			Says:   "where the old oil's viscosity is on record the new one's is about the same, whatever their weights: two oils of one weight may differ",
			Test:   Match{Mine: "cst", Within: 12, Why: "as far apart as two weights: the fork would damp otherwise"},
			Source: byOilPages,
		},
		{ID: "suspension-oil.cst", Severity: Function, Says: "it is as thick: oils of one weight differ, the figure in cSt does not", Test: Same{Mine: []string{"cst"}}, Source: byOilPages},
	},
}

var byOilPages = Source{"peterverdone.com and an oil seller's page on suspension oils: weights are no standard, one maker's 7 is thinner than another's 5; the viscosity in cSt at 40 °C is (ISO 3104)", TradePage}

var shock = Table{
	Family: "shock", Plural: "rear shocks",
	Sites:    []Site{{Place: "frame.shock", Words: "rear shock", Safety: true}},
	Readings: []Reading{serviceHours, serviceMonths, travelUsed, leakingSeal, damaged},
	Work:     []Work{{Replace, "fit rear shock and set it", 40}, {Adjust, "set rear shock", 15}, {Clean, "service rear shock's air can", 45}},
	Dimensions: []Dimension{
		millimetres("eye_to_eye_mm", "eye to eye", 100, 300, "middle to middle of its bolts, uncompressed, with a rule"),
		millimetres("stroke_mm", "stroke", 15, 110, "let the air out and measure the shaft"),
		word("mount", "mount", "look at its ends: an eye, or trunnion bolts into the body", "eyelet", "trunnion"),
		millimetres("hardware_mm", "width of its mounts", 10, 60, "caliper over the bushings"),
		model,
	},
	Ordered: [][2]string{{"stroke_mm", "eye_to_eye_mm"}},
	Rules: []Rule{
		{ID: "shock.length", Severity: Safety, Against: []Place{within}, Says: "it is as long between its bolts: a longer one lets the wheel meet the frame", Test: Match{Mine: "eye_to_eye_mm", Within: 0.5}, Source: byForkMaker},
		{ID: "shock.stroke", Severity: Safety, Says: "it moves no further than the old one", Test: Limit{Sum: []Term{plus(mine("stroke_mm"))}, AtMost: []Ref{old("stroke_mm")}, Plus: 0.5}, Source: byForkMaker},
		{ID: "shock.mount", Severity: Safety, Against: []Place{within}, Says: "its ends are those of the old one", Test: Match{Mine: "mount"}, Source: byForkMaker},
		{ID: "shock.hardware", Severity: Mating, Says: "its mounts are as wide", Test: Match{Mine: "hardware_mm", Within: 0.2, Rare: true}, Source: byForkMaker},
		{ID: "shock.shorter", Severity: Function, Says: "it moves as far", Test: Same{Mine: []string{"stroke_mm"}}, Source: byArithmetic},
		finishRule("shock"),
	},
}
