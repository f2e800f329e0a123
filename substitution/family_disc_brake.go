package substitution

import "fmt"

var _ = families(&discRotor, &discPad, &brakeCaliper)

var padShape = word("pad_shape", "pad shape", "hold the old pad against the new one; the code on its backing plate")

var discRotor = Table{
	Family: "disc-rotor", Plural: "disc rotors",
	Sites: []Site{
		{Place: "front.rotor", Words: "front brake rotor", Safety: true},
		{Place: "rear.rotor", Words: "rear brake rotor", Safety: true},
	},
	Readings: []Reading{trackThickness, rotorMark, runsOut},
	Work: []Work{
		{Replace, "fit rotor", 15},
		{Adjust, "true rotor", 15},
		{Clean, "clean rotor", 10},
	},
	Dimensions: []Dimension{
		count("rotor_mm", "rotor diameter", 100, 260, "read the rotor; across it with a rule"),
		rotorMount,
		millimetres("thickness_mm", "thickness", 0.5, 4, "caliper or micrometer on the brake track, not on the arms"),
		word("pads", "pads it allows", "read the rotor: some are marked for resin (organic) pads only", "any", "organic-only"),
	},
	Rules: []Rule{
		{
			ID: "disc-rotor.mount", Severity: Mating,
			Says: "the rotor goes on the hub: six bolts on six bolts, splines on splines, or six bolts on splines with an adapter",
			Test: Lookup{
				Of: []Ref{mine("rotor_mount"), theirs("~.hub", "rotor_mount")},
				Rows: append(alike("6-bolt", "centre-lock"), Row{
					Keys: []string{"6-bolt", "centre-lock"}, Answer: Holds, Words: "with an adapter and its lockring",
					Brings: []Bring{{Family: "consumable", Quantity: 1, Words: "adapter for a six-bolt rotor on a centre-lock hub",
						Spec: Spec{"purpose": {Value: Text("rotor-adapter"), Origin: FromStandard}}}},
				}),
				Otherwise: Breaks, Why: "there is nothing to hold the rotor by",
			},
			Source: Source{"SAE J2696 (scope): rotor and hub interfaces must not be intermixed; adapters as published reference pages describe them", Handbook},
		},
		rotorLockring,
		rotorLimit("disc-rotor.fork-limit", "front.rotor", "fork"),
		rotorLimit("disc-rotor.frame-limit", "rear.rotor", "frame"),
		{
			ID: "disc-rotor.size", Severity: Mating,
			Says:   "the rotor is the size that was there, for which caliper and adapter are set; 200 and 203 mm are two sizes",
			Test:   Match{Mine: "rotor_mm"},
			Source: Source{"the pad sits half the difference off: 1.5 mm between 200 and 203", Arithmetic},
		},
		{
			ID: "disc-rotor.thickness", Severity: Function,
			Says:   "the rotor is as thick new as the old one was new",
			Test:   Custom{Of: []Ref{mine("thickness_mm")}, Judge: rotorThickness},
			Source: Source{"a thicker rotor may rub in a caliper made for a thin one", Practice},
		},
		materialRule("disc-rotor", "it wears, sheds heat and weighs differently", Source{"rotor makers build steel and layered tracks", Practice}),
		finishRule("disc-rotor"),
	},
}

// rotorLimit holds a rotor to the size that the fork or frame is rated for.
func rotorLimit(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "the rotor is no larger than the " + string(bearer) + " is rated for",
		Test:   Limit{Sum: []Term{plus(mine("rotor_mm"))}, AtMost: []Ref{theirs(bearer, "rotor_max_mm")}},
		Source: byISO4210,
	}
}

// rotorThickness compares new with new: a worn rotor's measured thickness says nothing of what it was.
func rotorThickness(s Scene, at Place) Judgement {
	d := s.side(mine("thickness_mm"), at)
	if !d.changed || !d.known || !d.wasKnown || s.Was[at].Spec["thickness_mm"].Origin == Measured {
		return Judgement{}
	}
	j := Judgement{Answer: Holds, Wanted: d.was.String() + " mm", Found: d.now.String() + " mm",
		Words: fmt.Sprintf("rotor %s mm thick in place of %s mm", d.now, d.was)}
	if !near(d.now.number, d.was.number, 0.1) {
		j.Answer = Breaks
	}
	return j
}

var discPad = Table{
	Family: "disc-pad", Plural: "disc pads",
	Sites: []Site{
		{Place: "front.pads", Words: "front brake pads", Safety: true},
		{Place: "rear.pads", Words: "rear brake pads", Safety: true},
	},
	Readings: []Reading{padLining, oilyPad},
	Pieces:   2,
	Work: []Work{
		{Replace, "fit brake pads and set brake", 20},
		{Clean, "clean and roughen pads", 15},
	},
	Dimensions: []Dimension{
		padShape,
		word("compound", "compound", "read the back of the pad", "organic", "sintered", "semi-metallic"),
	},
	Rules: []Rule{
		{
			ID: "disc-pad.shape", Severity: Mating,
			Says:   "the pad has the shape that the caliper takes",
			Test:   Match{Mine: "pad_shape", Theirs: []Ref{theirs("~.caliper", "pad_shape")}},
			Source: Source{"calipers that share a shape code share pads", Practice},
		},
		{
			ID: "disc-pad.rotor", Severity: Safety,
			Says:   "the rotor allows the lining: some are marked for organic pads only",
			Test:   Custom{Of: []Ref{mine("compound"), theirs("~.rotor", "pads")}, Judge: rotorAllows},
			Source: Source{"a wheel builder's page on pads and rotors: cheap rotors are marked for resin pads only", Handbook},
		},
		{
			ID: "disc-pad.compound", Severity: Function,
			Says: "the lining is of the kind that was there",
			Test: Same{Mine: []string{"compound"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("compound")
				now, _ := s.Now[at].Get("compound")
				return now.word + " lining in place of " + was.word + ": bite, noise and wear differ, and the rotor must allow it (read its marking)"
			}},
			Source: Source{"rotors are marked where they allow one lining only", Practice},
		},
	},
}

// rotorAllows holds for organic pads, which every rotor takes. Where the rotor's marking is not known, only a change to
// another lining makes it a question.
func rotorAllows(s Scene, at Place) Judgement {
	lining, rotor := s.side(mine("compound"), at), s.side(theirs("~.rotor", "pads"), at)
	if !rotor.known {
		switch {
		case lining.now.word == "organic":
			return Judgement{Answer: Holds, Found: "organic", Words: "every rotor takes organic pads"}
		case lining.changed && lining.known && lining.wasKnown && lining.now.Equal(lining.was):
			return Judgement{Answer: Holds, Before: true, Found: lining.now.word, Words: lining.now.word + " pads, as before"}
		case lining.changed && lining.known:
			return untold(lining, rotor)
		}
		return Judgement{}
	}
	if !lining.known {
		return untold(lining, rotor)
	}
	j := Judgement{Answer: Holds, Wanted: rotor.now.word, Found: lining.now.word, Words: lining.now.word + " pads on a rotor for " + rotor.now.word}
	switch {
	case rotor.now.word == "any" || lining.now.word == "organic":
	case lining.now.word == "sintered":
		j.Answer = Breaks
	default:
		j.Answer = CantTell
		j.Words += ": the rotor maker's word decides"
		j.Missing = []Missing{rotor.missing()}
	}
	return j
}

var brakeCaliper = Table{
	Family: "brake-caliper", Plural: "brake calipers",
	Sites: []Site{
		{Place: "front.caliper", Words: "front brake caliper", Safety: true},
		{Place: "rear.caliper", Words: "rear brake caliper", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit caliper and set brake", 40},
		{Adjust, "set brake", 15},
		{Clean, "clean caliper", 20},
	},
	Dimensions: []Dimension{
		word("mount", "mount", "look: post, flat, is; for a rim brake its reach"),
		word("pull", "pull", "the maker's word: short or long cable pull", "short", "long"),
		word("actuation", "actuation", "look", "cable", "hydraulic"),
		padShape, hoseEnd, fluid,
	},
	Rules: []Rule{
		{
			ID: "brake-caliper.mount", Severity: Mating,
			Says:   "the caliper bolts on as the old one did",
			Test:   Match{Mine: "mount"},
			Source: Source{"published overviews of post, flat and tab mounts and of rim brake reach: none takes another's caliper", Handbook},
		},
		{
			ID: "brake-caliper.pull", Severity: Safety,
			Says:   "the caliper wants the cable pull that its lever gives: a long-pull brake on a short-pull lever does not stop, and the reverse is weak",
			Test:   Custom{Of: []Ref{mine("pull"), mine("actuation")}, Judge: caliperPull},
			Source: Source{"bikegremlin.com, brake lever pull: direct-pull 15 mm, cantilever and old road 7, new road 8", Handbook},
		},
		{
			ID: "brake-caliper.actuation", Severity: Mating,
			Says:   "cable stays cable, hydraulic stays hydraulic: the lever is the other half",
			Test:   Match{Mine: "actuation"},
			Source: byOldPart,
		},
		caliperFluid,
		caliperHose,
		finishRule("brake-caliper"),
	},
}

// caliperPull compares with the old caliper, which its lever worked. A hydraulic caliper has no cable pull.
func caliperPull(s Scene, at Place) Judgement {
	if actuation, known := s.Now[at].Get("actuation"); known && actuation.word == "hydraulic" {
		return Judgement{}
	}
	return Match{Mine: "pull"}.judge(s, at)
}
