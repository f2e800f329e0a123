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
		count("rings", "front clicks", 1, 3, "count the clicks of the left shifter, and one more"),
		word("kind", "kind", "look: triggers, a twist grip or a thumb lever on a flat bar, at the bar's end, on the down tube, or in a drop bar's brake lever",
			"trigger", "twist", "thumb", "bar-end", "downtube", "drop-lever"),
	},
	Agrees: []Agreement{shifterRings},
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
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Free: &Exempt{"pull_family", "friction", "a friction shifter has no clicks"}},
			Source: byShiftNumbers,
		},
		{
			ID: "shifter.pitch", Severity: Function, At: []Place{"shifter.right"},
			Says:   "a click moves the chain by the distance from sprocket to sprocket",
			Test:   Custom{Of: []Ref{mine("pull_family"), theirs("rear.cassette", "freehub"), theirs("rear.cassette", "speeds")}, Judge: clickPitch, Geometry: true},
			Source: Source{"jitetan.com, sprocket pitches by measurement; brainybiker.com: 0.34 mm a click spoils indexing", Handbook},
		},
		{
			ID: "shifter.side", Severity: Mating,
			Says:   "a right shifter goes right, a left one left",
			Test:   Is{Mine: "side", Words: []string{"pair"}, Placed: true},
			Source: Source{"they are mirror images", Practice},
		},
		{
			ID: "shifter.mount", Severity: Mating, When: []When{{Of: []Ref{old("kind")}, Known: true}},
			Says:   "it is held where the old one was: triggers, twist grips and thumb levers go round a flat bar, the others in a bar's end, on the down tube's boss or in a drop bar's lever",
			Test:   Match{Mine: "kind", Alike: []string{"trigger", "twist", "thumb"}, Why: "it is held elsewhere, and the old one's place stays empty"},
			Source: Source{"bar-end and down-tube levers have mounts of their own, and a drop bar's shifter is its brake lever too", Practice},
		},
		{
			ID: "shifter.kind", Severity: Function,
			Says:   "the hand works it as it did the old one",
			Test:   Same{Mine: []string{"kind"}},
			Source: Source{"triggers, twist grips and thumb levers are worked otherwise, and a twist grip wants a shorter handlebar grip", Practice},
		},
		{
			ID: "shifter.rings", Severity: Mating, At: []Place{"shifter.left"}, When: []When{unless("pull_family", "friction")},
			Says:   "the left shifter has a click for each ring: with one too few a ring is never reached",
			Test:   Custom{Of: append([]Ref{mine("rings"), theirs("crank", "teeth_outer"), theirs("crank", "teeth_middle"), theirs("crank", "teeth_inner")}, ringTeethOf()...), Judge: ringsForShifter, Geometry: true},
			Source: Source{"an indexed front shifter has a click a ring", Practice},
		},
		{
			ID: "shifter.spare-click", Severity: Function, At: []Place{"shifter.left"},
			Says:   "the left shifter has no click more than there are rings",
			Test:   Custom{Of: append([]Ref{mine("rings"), theirs("crank", "teeth_outer"), theirs("crank", "teeth_middle"), theirs("crank", "teeth_inner")}, ringTeethOf()...), Judge: spareClick, Geometry: true},
			Source: Source{"the limit screw stops the click that is one too many", Practice},
		},
		finishRule("shifter"),
	},
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

func ringTeethOf() []Ref {
	var refs []Ref
	for _, ring := range ringPlaces {
		refs = append(refs, theirs(ring.place, "teeth"))
	}
	return refs
}

// shifterRings: a shifter for up to three speeds that is not the right one counts rings.
func shifterRings(p *Part) []Follows {
	side, _ := p.Get("side")
	list, known := p.Get("speeds")
	if side.word == "right" || !known || list.ints[len(list.ints)-1] > 3 {
		return nil
	}
	return []Follows{{Dimension: "rings", Value: Count(list.ints[len(list.ints)-1]), Loose: true}}
}

// ringsOn counts the rings that a bike is recorded with, or that its crankset names.
func ringsOn(s Scene) int {
	recorded, named := 0, 0
	for _, ring := range ringPlaces {
		if _, fitted := s.Now[ring.place]; fitted {
			recorded++
		}
	}
	for _, teeth := range []string{"teeth_outer", "teeth_middle", "teeth_inner"} {
		if _, known := s.Now["crank"].Get(teeth); known {
			named++
		}
	}
	return max(recorded, named)
}

// ringsForShifter breaks where a ring has no click. Without recorded rings the old shifter vouches.
func ringsForShifter(s Scene, at Place) Judgement {
	clicks, rings := s.side(mine("rings"), at), ringsOn(s)
	if rings == 0 {
		if !clicks.known && !clicks.wasKnown || !clicks.changed {
			return Judgement{}
		}
		if !clicks.known || !clicks.wasKnown {
			return untoldOld(clicks)
		}
		rings = int(clicks.was.number)
	}
	if !clicks.known {
		if clicks.changed && (clicks.wasKnown || rings > 1) {
			return untold(clicks)
		}
		return Judgement{}
	}
	j := Judgement{Answer: Holds, Wanted: fmt.Sprint(rings), Found: clicks.now.String(),
		Words: fmt.Sprintf("a left shifter for %s rings on %d", clicks.now, rings)}
	if int(clicks.now.number) < rings {
		j.Answer = Breaks
		j.Words += ": one of them is never reached"
	}
	return j
}

func spareClick(s Scene, at Place) Judgement {
	clicks, rings := s.side(mine("rings"), at), ringsOn(s)
	if rings == 0 {
		rings = int(clicks.was.number)
	}
	if !clicks.known || rings == 0 || !clicks.changed {
		return Judgement{}
	}
	j := Judgement{Answer: Holds, Wanted: fmt.Sprint(rings), Found: clicks.now.String(), Words: fmt.Sprintf("a left shifter for %s rings on %d", clicks.now, rings)}
	if int(clicks.now.number) > rings {
		j.Answer = Breaks
		j.Words += ": one click is stopped by the limit screw"
	}
	return j
}
