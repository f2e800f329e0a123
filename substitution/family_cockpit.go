package substitution

import "fmt"

var _ = families(&seatpost, &stem, &handlebar, &barTape, &grip)

// Post, stem, bars and what is on them. All of them carry the rider: dimensions that agree are not the makers' approval.

var clamp = millimetres("clamp_mm", "bar clamp diameter", 20, 40, "caliper in the middle of the bar")

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
	},
	Rules: []Rule{
		{
			ID: "seatpost.diameter", Severity: Mating,
			Says:   "the post is the frame's diameter to the tenth: sizes go in steps of 0.2 mm",
			Test:   Match{Mine: "diameter_mm", Theirs: []Ref{theirs("frame", "seatpost_mm")}, Within: 0.06},
			Source: Source{"bikegremlin.com and a shop's page, seat post sizes: 27.0, 27.2 and 27.4 are three", Handbook},
		},
		{
			ID: "seatpost.length", Severity: Safety,
			Says:   "the post is no shorter than the old one: it stays in by its mark, two diameters at least",
			Test:   Custom{Of: []Ref{mine("length_mm")}, Judge: postLength},
			Source: Source{"16 CFR 1512.15(b): insertion mark two post diameters from the end; the frame's own minimum counts as well", Standard},
		},
		materialRule("seatpost", "it flexes and is clamped differently: follow the maker's torque", byWear),
		finishRule("seatpost"),
	},
}

func postLength(s Scene, at Place) Judgement {
	d := s.side(mine("length_mm"), at)
	if !d.changed || !d.known || !d.wasKnown {
		return Match{Mine: "length_mm"}.judge(s, at)
	}
	j := d.besideOld(Holds)
	j.Wanted = "at least " + j.Wanted
	if d.now.number < d.was.number {
		j.Answer, j.Before = CantTell, false
		j.Words += ": measure how far the old one stood in the frame; the mark must stay covered"
		j.Missing = []Missing{{Place: at, Dimension: "length_mm", Measure: "length of the old post inside the frame, with a tape"}}
	}
	return j
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
		Dimension{Name: "angle_deg", Form: Number, Low: -90, High: 90, Means: "angle", Measure: "read the stem, or a protractor against the steerer"},
	},
	Rules: []Rule{
		{
			ID: "stem.clamp", Severity: Safety, Presumed: true,
			Says:   "the stem clamps the bar's diameter: 25.4, 26.0, 31.8 and 35 are four sizes, and no bar is squeezed into another",
			Test:   Match{Mine: "clamp_mm", Theirs: []Ref{theirs("handlebar", "clamp_mm")}, Within: 0.15},
			Source: Source{"Sheldon Brown on bar sizes: 26.0 does not enter 25.4, and 25.4 is loose in 26.0 by 0.6 mm", Handbook},
		},
		{
			ID: "stem.steerer", Severity: Safety,
			Says:   "the stem clamps the fork's steerer",
			Test:   Custom{Of: []Ref{mine("steerer_mm"), mine("quill_mm"), theirs("fork", "steerer_mm")}, Judge: stemSteerer},
			Source: Source{"steerer diameters of published references: 25.4, 28.6, 31.8 mm", Handbook},
		},
		{
			ID: "stem.quill", Severity: Safety,
			Says:   "a quill is the old one's diameter",
			Test:   Match{Mine: "quill_mm", Within: 0.06, Rare: true},
			Source: byOldPart,
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

// stemSteerer is asked of stems that clamp round the steerer; one with a quill goes into it.
func stemSteerer(s Scene, at Place) Judgement {
	if _, quill := s.Now[at].Get("quill_mm"); quill {
		return Judgement{}
	}
	return Match{Mine: "steerer_mm", Theirs: []Ref{theirs("fork", "steerer_mm")}, Within: 0.15}.judge(s, at)
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
		millimetres("grip_mm", "diameter under grips and levers", 15, 40, "caliper near the end of the bar: 22.2 or 23.8 mm, whatever the clamp"),
	},
	Rules: []Rule{
		{
			ID: "handlebar.grip", Severity: Mating,
			Says:   "what is clamped on the bar goes on again: the bar is as thick under levers, shifters and grips as the old one",
			Test:   Match{Mine: "grip_mm", Within: gripWithin, Rare: true},
			Source: byBarTable,
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
	Rules:      []Rule{longEnough("bar-tape.length", "length_mm", Function, "it is at least as long as what was there; the rest is cut off", byOldPart), finishRule("bar-tape")},
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
			ID: "grip.length", Severity: Function,
			Says:   "the grip is as long as it was; a twist shifter wants a short one",
			Test:   Same{Mine: []string{"length_mm"}},
			Source: byOldPart,
		},
		finishRule("grip"),
	},
}
