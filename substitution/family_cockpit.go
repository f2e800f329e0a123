package substitution

import "fmt"

var _ = families(&seatpost, &stem, &handlebar, &barTape, &grip)

// Post, stem, bars and what is on them. All of them carry the rider: dimensions that agree are not the makers' approval.

var (
	clamp    = millimetres("clamp_mm", "bar clamp diameter", 20, 40, "caliper in the middle of the bar")
	stackMM  = millimetres("stack_mm", "stack height", 5, 120, "caliper: the height it takes of the steerer")
	gripMM   = millimetres("grip_mm", "diameter under grips and levers", 15, 40, "caliper near the end of the bar: 22.2 or 23.8 mm, whatever the clamp")
	barShape = word("shape", "shape", "look from above and from the side", "flat", "riser", "swept", "drop", "bullhorn", "aero")
)

var seatpost = Table{
	Family: "seatpost", Plural: "seat posts",
	Sites: []Site{
		{Place: "seatpost", Words: "seat post", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit seat post", 10},
		{Adjust, "set saddle height", 5},
		{Clean, "draw, clean and grease seat post", 15},
	},
	Dimensions: []Dimension{
		millimetres("diameter_mm", "diameter", 20, 40, "caliper, at two places and across; posts go in steps of 0.2 mm"),
		length(80, 600, "end to end, with a tape"),
		word("kind", "kind", "look: one piece, a dropper with its lever, or a sprung one", "rigid", "dropper", "suspension"),
		millimetres("setback_mm", "setback", 0, 60, "middle of the post to the middle of the saddle clamp"),
		word("rails", "saddle fixing", "look under the saddle: two round rails of 7 mm, oval ones of 7 x 9, or another mount", "round", "oval", "single", "pivotal", "three-point"),
	},
	Rules: []Rule{
		{
			ID: "seatpost.diameter", Severity: Safety,
			Says: "the post is the frame's diameter to the tenth: sizes go in steps of 0.2 mm; a much thinner one goes in a sleeve",
			Test: Match{Mine: "diameter_mm", Theirs: []Ref{theirs("frame", "seatpost_mm")}, Within: 0.06, Fill: &Fill{
				From: 0.6, Least: 1, Most: 10, Brings: small("post-sleeve", "reducing sleeve for the seat post", 1), Ask: "see whether a sleeve so thin is made",
			}, Why: "sizes go in steps of 0.2 mm"},
			Source: Source{"bikegremlin.com and a shop's page, seat post sizes: 27.0, 27.2 and 27.4 are three; an encyclopedia on seat posts: sleeves for a thinner one are ordinary parts", Handbook},
		},
		{
			ID: "seatpost.kind", Severity: Mating,
			Says:   "a rigid post for a rigid one: a dropper wants its lever, its cable and room in the frame, a sprung one another saddle height",
			Test:   Match{Mine: "kind", Usual: "rigid", Why: "the kind of post is not changed unasked"},
			Source: Source{"nothing on a customer's bike is changed in kind unless the job says so", Practice},
		},
		{
			ID: "seatpost.length", Severity: Safety,
			Says: "the post is no shorter than the old one: it stays in by its mark, two diameters at least",
			Test: Limit{Sum: []Term{plus(mine("length_mm"))}, AtLeast: []Ref{old("length_mm")}, Optional: true,
				Doubt: 600, Ask: "measure how far the old post stood in the frame, with a tape; the mark must stay covered"},
			Source: Source{"the old post stayed in by its mark, and the frame's own minimum counts as well; 16 CFR 1512.15(b) asks for a mark, two diameters from the end, not for a length", Practice},
		},
		{
			ID: "seatpost.rails", Severity: Safety,
			Says:   "the clamp is made for the saddle's rails: oval carbon rails crack in a clamp for round ones",
			Test:   Match{Mine: "rails", Usual: "round"},
			Source: byRails,
		},
		{
			ID: "seatpost.setback", Severity: Function,
			Says:   "the saddle sits as far back as it did",
			Test:   Same{Mine: []string{"setback_mm"}},
			Source: byArithmetic,
		},
		materialRule("seatpost", "it flexes and is clamped differently: follow the maker's torque", byWear),
		finishRule("seatpost"),
	},
}

var stem = Table{
	Family: "stem", Plural: "stems",
	Sites: []Site{
		{Place: "stem", Words: "stem", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit stem", 25},
		{Adjust, "set stem", 10},
		{Clean, "draw, clean and grease stem", 15},
	},
	Dimensions: []Dimension{
		clamp,
		millimetres("steerer_mm", "steerer clamp diameter", 20, 60, "caliper on the steerer"),
		millimetres("quill_mm", "quill diameter", 15, 40, "caliper on the quill"),
		length(10, 200, "middle of the steerer to middle of the bar, along the stem"),
		{Name: "angle_deg", Form: Number, Low: -90, High: 90, Means: "angle", Measure: "read the stem, or a protractor against the steerer"},
		word("kind", "kind", "look: does it clamp round the steerer, or stand in it with a wedge", "clamp", "quill"),
		stackMM,
	},
	Agrees: []Agreement{stemKind},
	Rules: []Rule{
		{
			ID: "stem.clamp", Severity: Safety, Presumed: true,
			Says: "the stem clamps the bar's diameter: 25.4, 26.0, 31.8 and 35 are four sizes, and no bar is squeezed into another; 25.8 goes with 26.0",
			Test: Match{Mine: "clamp_mm", Theirs: []Ref{theirs("handlebar", "clamp_mm")}, Within: 0.25, Fill: &Fill{
				Wider: true, From: 2.5, Least: 5.7, Most: 6.5, Brings: small("bar-shim", "shim for the bar", 1), Ask: "see whether a shim is made for the two",
			}, Why: "no bar is squeezed into another size"},
			Source: Source{"Sheldon Brown on bar sizes: 26.0 does not enter 25.4, and 25.4 is loose in 26.0 by 0.6 mm; bikeforums.net: 25.8 goes with 26.0; an encyclopedia on stems: shims bring 31.8 to 25.4 or 26.0", Handbook},
		},
		{
			ID: "stem.kind", Severity: Safety,
			Says: "a clamp stem goes round a threadless steerer, a quill into a threaded one",
			Test: Lookup{
				Of: []Ref{mine("kind"), theirs("fork", "kind")},
				Rows: []Row{
					{Keys: []string{"clamp", "threadless"}, Answer: Holds}, {Keys: []string{"quill", "threaded"}, Answer: Holds},
					{Keys: []string{"clamp", "threaded"}, Answer: Breaks, Words: "there is no steerer above the headset to clamp"},
					{Keys: []string{"quill", "threadless"}, Answer: Breaks, Words: "there is nothing to draw the wedge against, and the headset would have no preload"},
				},
				Otherwise: CantTell, Optional: true,
			},
			Source: Source{"an encyclopedia on stems and headsets: a threaded headset is adjusted by its nuts, a threadless one through the stem", Handbook},
		},
		{
			ID: "stem.steerer", Severity: Safety, When: []When{unless("kind", "quill")},
			Says:   "the stem clamps the fork's steerer",
			Test:   Match{Mine: "steerer_mm", Theirs: []Ref{theirs("fork", "steerer_mm")}, Within: 0.15},
			Source: Source{"steerer diameters of published references: 25.4, 28.6, 31.8 mm", Handbook},
		},
		{
			ID: "stem.quill", Severity: Safety, When: []When{{Of: []Ref{theirs("fork", "steerer_mm")}, Unknown: true}},
			Says:   "a quill is the old one's diameter",
			Test:   Match{Mine: "quill_mm", Within: 0.06, Rare: true},
			Source: byQuills,
		},
		{
			ID: "stem.quill-steerer", Severity: Safety, When: []When{given("quill_mm"), {Of: []Ref{theirs("fork", "steerer_mm")}, Known: true}},
			Says: "the quill is the steerer's bore: 22.2 in 1 inch, 22.0 in the French one, 25.4 in 1 1/8",
			Test: Lookup{
				Of: []Ref{mine("quill_mm"), theirs("fork", "steerer_mm")},
				Rows: []Row{
					{Keys: []string{"22.1..22.3", "25.2..25.6"}, Answer: Holds}, {Keys: []string{"21.85..22.09", "24.8..25.19"}, Answer: Holds},
					{Keys: []string{"25.2..25.6", "28.4..28.8"}, Answer: Holds}, {Keys: []string{"28.4..28.8", "31.6..32"}, Answer: Holds},
					{Keys: []string{"21..21.3", "25.2..25.6"}, Answer: CantTell, Words: "old BMX steerers have a bore of 21.1 mm, others 22.2: measure the bore"},
				},
				Otherwise: Breaks, Why: "the quill is loose in the steerer, or does not enter it",
			},
			Source: byQuills,
		},
		{
			ID: "stem.stack", Severity: Safety, When: []When{unless("kind", "quill")},
			Says:   "the stem is no taller than the steerer leaves room for: its clamp wants the steerer up to a few millimetres under its top",
			Test:   Limit{Sum: []Term{plus(mine("stack_mm"))}, AtMost: []Ref{old("stack_mm")}, Optional: true, Doubt: 15, Ask: "measure the spacers under and over the old stem: they make room for a taller one"},
			Source: byArithmetic,
		},
		{
			ID: "stem.length", Severity: Function,
			Says: "the stem is as long as it was",
			Test: Same{Mine: []string{"length_mm"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("length_mm")
				now, _ := s.Now[at].Get("length_mm")
				return fmt.Sprintf("a stem of %s mm in place of %s mm: the bar is %s mm %s", now, was, figure(abs(now.number-was.number)),
					map[bool]string{true: "further away", false: "nearer"}[now.number > was.number])
			}},
			Source: byArithmetic,
		},
		{
			ID: "stem.angle", Severity: Function,
			Says:   "the stem rises as it did",
			Test:   Same{Mine: []string{"angle_deg"}},
			Source: byArithmetic,
		},
		finishRule("stem"),
	},
}

// stemKind: a quill diameter is a quill stem's, a steerer clamp is a clamp stem's; the quill of a steerer is its bore.
func stemKind(p *Part) []Follows {
	quill, standing := p.Get("quill_mm")
	steerer, round := p.Get("steerer_mm")
	switch {
	case standing && round && !(steerer.number-quill.number > 2.5 && steerer.number-quill.number < 4.5):
		return []Follows{{Wrong: fmt.Sprintf("quill_mm %s does not go into steerer_mm %s", quill, steerer)}}
	case standing:
		return []Follows{{Dimension: "kind", Value: Text("quill"), Because: "quill_mm " + quill.String()}}
	case round:
		return []Follows{{Dimension: "kind", Value: Text("clamp"), Because: "steerer_mm " + steerer.String(), Loose: true}}
	}
	return nil
}

// gripWithin spans what two published tables give for one drop bar, 23.5 and 23.8 mm, and stays far off 22.2.
const gripWithin = 0.5

var byBarTable = Source{"Sheldon Brown's handlebar table, as lovecitycycles.com has it: 22.2 mm on upright and old steel drop bars, 23.8 on other drop bars; bikegremlin.com agrees", Handbook}

var handlebar = Table{
	Family: "handlebar", Plural: "handlebars",
	Sites: []Site{
		{Place: "handlebar", Words: "handlebar", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit handlebar", 60},
		{Adjust, "set handlebar", 10},
	},
	Dimensions: []Dimension{
		clamp,
		millimetres("width_mm", "width", 300, 1000, "end to end, with a tape; makers measure drop bars outside or between centres"),
		gripMM, barShape,
		millimetres("end_bore_mm", "hole of the bar's end", 10, 32, "inside jaws of a caliper in the end of the bar: walls differ, so the outside does not tell"),
		millimetres("rise_mm", "rise", -60, 200, "middle of the clamp to the middle of the grip, upwards"),
		millimetres("reach_mm", "reach", 40, 160, "middle of the top to the middle of the bend, forwards"),
		millimetres("drop_mm", "drop", 60, 200, "middle of the top to the middle of the end, downwards"),
	},
	Rules: []Rule{
		{
			ID: "handlebar.shape", Severity: Mating,
			Says:   "the bar is of the kind that was there: levers and shifters for a drop bar go on no flat one, nor the other way round",
			Test:   Match{Mine: "shape", Alike: []string{"flat", "riser", "swept"}, Rare: true, Why: "levers, shifters and cables are made for the other kind"},
			Source: byBarTable,
		},
		{
			ID: "handlebar.grip", Severity: Mating,
			Says:   "what is clamped on the bar goes on again: the bar is as thick under levers, shifters and grips as the old one",
			Test:   Match{Mine: "grip_mm", Within: gripWithin, Rare: true},
			Source: byBarTable,
		},
		{
			ID: "handlebar.bend", Severity: Function,
			Says:   "the bar is bent as it was",
			Test:   Same{Mine: []string{"shape", "rise_mm", "reach_mm", "drop_mm"}},
			Source: byArithmetic,
		},
		{
			ID: "handlebar.width", Severity: Function,
			Says: "the bar is as wide as it was",
			Test: Same{Mine: []string{"width_mm"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("width_mm")
				now, _ := s.Now[at].Get("width_mm")
				return fmt.Sprintf("a bar of %s mm in place of %s mm: makers measure outside or centre to centre, so see that both figures are taken alike", now, was)
			}},
			Source: Source{"velogear.com.au and bikeman.com on bar widths: some makers measure outside to outside, some centre to centre", Handbook},
		},
		materialRule("handlebar", "it flexes and is clamped differently: follow the maker's torque", byWear),
		finishRule("handlebar"),
	},
}

var barTape = Table{
	Family: "bar-tape", Plural: "bar tapes",
	Sites: []Site{
		{Place: "handlebar.tape", Words: "bar tape"},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "wrap bar tape", 25},
	},
	Dimensions: []Dimension{length(500, 5000, "read the box"), millimetres("width_mm", "width", 10, 60, "caliper")},
	Rules: []Rule{{
		ID: "bar-tape.bar", Severity: Function,
		Says:   "tape goes on drop bars, grips on flat ones",
		Test:   Lookup{Of: []Ref{theirs("handlebar", "shape")}, Rows: only("drop", "bullhorn", "aero"), Otherwise: Breaks, Why: "grips are usual there", Optional: true, Rare: true, Usual: "drop"},
		Source: byBarTable,
	}, widthAsWas("bar-tape"), longEnough("bar-tape.length", "length_mm", Function, "it is at least as long as what was there; the rest is cut off", byOldPart), finishRule("bar-tape")},
}

// widthAsWas tells the hand that tape or grip is thicker or thinner.
func widthAsWas(f Family) Rule {
	return Rule{ID: string(f) + ".width", Severity: Function, Says: "it is as wide as it was", Test: Same{Mine: []string{"width_mm"}}, Source: byOldPart}
}

var grip = Table{
	Family: "grip", Plural: "grips",
	Sites: []Site{
		{Place: "handlebar.grips", Words: "grips", Safety: true},
	},
	Readings: []Reading{damaged, wanted("one for each side is two; say how many")},
	Counted:  true,
	Work: []Work{
		{Replace, "fit grips", 10},
	},
	Dimensions: []Dimension{length(50, 200, "caliper"), millimetres("width_mm", "outside diameter", 20, 60, "caliper"), bore},
	Rules: []Rule{
		{
			ID: "grip.bore", Severity: Mating,
			Says:   "the grip goes on the bar's ends: 22.2 mm on upright bars, 23.8 on most drop bars, whatever the clamp",
			Test:   Match{Mine: "bore_mm", Theirs: []Ref{theirs("handlebar", "grip_mm")}, Within: gripWithin, Rare: true},
			Source: byBarTable,
		},
		{
			ID: "grip.bar", Severity: Mating,
			Says: "grips go on flat bars, tape on drop ones",
			Test: Lookup{Of: []Ref{theirs("handlebar", "shape"), mine("length_mm")}, Rows: []Row{
				{Keys: []string{"drop", "*"}, Answer: CantTell, Words: "few grips are made for a drop bar: the maker's word"}, {Keys: []string{"*", "*"}, Answer: Holds},
			}, Otherwise: CantTell, Optional: true, Rare: true, Usual: "flat"},
			Source: byBarTable,
		},
		widthAsWas("grip"),
		{
			ID: "grip.length", Severity: Function,
			Says:   "the grip is as long as it was; a twist shifter wants a short one",
			Test:   Same{Mine: []string{"length_mm"}},
			Source: byOldPart,
		},
		finishRule("grip"),
	},
}

var byQuills = Source{"bicycle-forum.net and motorbicycling.com: 22.2 in 1 in steerers, French 22.0, 21.1 on old BMX, 25.4 in 1 1/8", TradePage}
