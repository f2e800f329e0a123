package substitution

import (
	"fmt"
	"strings"

	"stead/substitution/standard"
)

var _ = families(&shifter)

var shifter = Table{
	Family: "shifter", Plural: "shifters",
	Sites: []Site{
		{Place: "shifter.right", Words: "right shifter"},
		{Place: "shifter.left", Words: "left shifter"},
	},
	Readings: []Reading{shifting, damaged},
	Work: []Work{
		{Replace, "fit shifter and set gears", 40},
		{Adjust, "set shifter", 15},
		{Clean, "clean and oil shifter", 20},
	},
	Dimensions: []Dimension{
		speeds,
		pullFamily,
		word("side", "side", "look", "left", "right", "pair"),
	},
	Rules: []Rule{
		{
			ID: "shifter.pull", Severity: Mating, At: []Place{"shifter.right"}, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says:   "shifter and rear derailleur are of one cable pull family; a friction shifter goes with any",
			Test:   Match{Mine: "pull_family", Theirs: []Ref{theirs("rear.derailleur", "pull_family")}, Free: "friction"},
			Source: byShiftNumbers,
		},
		{
			ID: "shifter.speeds", Severity: Mating, At: []Place{"shifter.right"}, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says:   "an indexed shifter has a click for each sprocket",
			Test:   Custom{Of: append([]Ref{mine("speeds"), mine("pull_family")}, sprockets("speeds")...), Judge: clicks, Narrow: clicksNarrow},
			Source: byShiftNumbers,
		},
		{
			ID: "shifter.pitch", Severity: Function, At: []Place{"shifter.right"},
			Says:   "a click moves the chain by the distance from sprocket to sprocket",
			Test:   Custom{Of: []Ref{mine("pull_family"), theirs("rear.cassette", "freehub"), theirs("rear.cassette", "speeds")}, Judge: clickPitch},
			Source: Source{"jitetan.com, sprocket pitches by measurement; brainybiker.com: 0.34 mm a click spoils indexing", Handbook},
		},
		{
			ID: "shifter.side", Severity: Mating,
			Says:   "a right shifter goes right, a left one left",
			Test:   Custom{Of: []Ref{mine("side")}, Judge: shifterSide, Narrow: shifterSideNarrow},
			Source: Source{"they are mirror images", Practice},
		},
		{
			ID: "shifter.rings", Severity: Function, At: []Place{"shifter.left"},
			Says:   "the left shifter has a click for each ring",
			Test:   Custom{Of: append([]Ref{mine("speeds")}, ringTeethOf()...), Judge: ringsForShifter},
			Source: Source{"an indexed front shifter has a click a ring", Practice},
		},
		finishRule("shifter"),
	},
}

var indexed = Share{Mine: "speeds", Theirs: sprockets("speeds")}

// clicks is asked of indexed shifters only.
func clicks(s Scene, at Place) Judgement {
	if pull, known := s.Now[at].Get("pull_family"); known && pull.word == "friction" {
		return Judgement{Answer: Holds, Found: "friction", Words: "a friction shifter has no clicks"}
	}
	return indexed.judge(s, at)
}

// clicksNarrow does not narrow the choice of a shifter: a friction one goes with any sprockets.
func clicksNarrow(s Scene, at, choosing Place) []Condition {
	if pull, known := s.Now[at].Get("pull_family"); at == choosing || known && pull.word == "friction" {
		return nil
	}
	return indexed.narrow(s, at, choosing)
}

// clickPitch compares the sprocket pitch that a pull family is made for with the cassette's. It is silent where the
// published tables do not have the two.
func clickPitch(s Scene, at Place) Judgement {
	family, freehub, list := s.side(mine("pull_family"), at), s.side(theirs("rear.cassette", "freehub"), at), s.side(theirs("rear.cassette", "speeds"), at)
	if !family.known || !freehub.known || !list.known {
		return Judgement{}
	}
	system := "common"
	if strings.HasPrefix(freehub.now.word, "8-spline") {
		system = "eight-spline"
	}
	for _, pull := range standard.PullFamilies() {
		for _, cogs := range standard.CogPitches() {
			if !strings.EqualFold(pull.Family, family.now.word) || pull.Speeds != cogs.Speeds || cogs.System != system ||
				!cogs.Confidence.Firm() || !share(list.now.ints, []int{cogs.Speeds}) {
				continue
			}
			j := Judgement{Answer: Holds, Wanted: figure(pull.PitchMM) + " mm", Found: figure(cogs.PitchMM) + " mm",
				Words: fmt.Sprintf("the shifter is made for sprockets %s mm apart, these are %s mm", figure(pull.PitchMM), figure(cogs.PitchMM))}
			if off := abs(pull.PitchMM - cogs.PitchMM); off > pitchWithin {
				j.Answer = Breaks
				j.Words += fmt.Sprintf(": %.1f mm off over all of them", off*float64(cogs.Speeds-1))
			}
			return j
		}
	}
	return Judgement{}
}

// pitchWithin is how far published pitches for one system differ (11-speed: 3.69 to 3.9 mm by source).
const pitchWithin = 0.13

func sidesAt(at Place) []string {
	if at == "shifter.left" {
		return []string{"left", "pair"}
	}
	return []string{"right", "pair"}
}

func shifterSide(s Scene, at Place) Judgement {
	return Is{Mine: "side", Words: sidesAt(at)}.judge(s, at)
}

func shifterSideNarrow(s Scene, at, choosing Place) []Condition {
	return Is{Mine: "side", Words: sidesAt(at)}.narrow(s, at, choosing)
}

func ringTeethOf() []Ref {
	var refs []Ref
	for _, ring := range ringPlaces {
		refs = append(refs, theirs(ring.place, "teeth"))
	}
	return refs
}

// ringsForShifter counts the recorded rings against an indexed left shifter. Shifters that are sold by the rear
// number of speeds say nothing of the rings.
func ringsForShifter(s Scene, at Place) Judgement {
	clicks := s.side(mine("speeds"), at)
	rings := 0
	for _, ring := range ringPlaces {
		if _, recorded := s.Now[ring.place]; recorded {
			rings++
		}
	}
	if !clicks.known || rings == 0 || clicks.now.ints[len(clicks.now.ints)-1] > 3 {
		return Judgement{}
	}
	j := Judgement{Answer: Holds, Wanted: clicks.now.String(), Found: fmt.Sprint(rings),
		Words: fmt.Sprintf("%d rings on a left shifter for %s", rings, clicks.now)}
	if !share(clicks.now.ints, []int{rings}) {
		j.Answer = Breaks
	}
	return j
}
