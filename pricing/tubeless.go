package pricing

import (
	"fmt"
	"slices"

	"stead/substitution"
	"stead/substitution/inspection"
)

// tubelessWork is the work of setting up a wheel to run without a tube. It takes no finding, and takes parts all the same.
var tubelessWork = UsualWork{"tubeless", "set up tubeless: tape, valve and sealant", 20}

// setsUp is the end of the wheel that added work sets up without a tube, or "".
func (w AddedWork) setsUp() string {
	if w.Words != tubelessWork.Words {
		return ""
	}
	return wheelOf(w.Place)
}

// setUp are the ends whose wheels are set up without a tube.
func (t Terms) setUp() (ends []string) {
	for _, end := range []string{"front", "rear"} {
		if slices.ContainsFunc(t.Work, func(w AddedWork) bool { return w.setsUp() == end }) {
			ends = append(ends, end)
		}
	}
	return ends
}

func tapeOf(end string) substitution.Place { return substitution.Place(end + ".rim-tape") }

// withTapes are needs with the tape of each wheel that is set up: whatever lies over its spoke holes, the tape is new.
func (t Terms) withTapes(needs []inspection.Need) []inspection.Need {
	for _, end := range t.setUp() {
		if !slices.ContainsFunc(needs, func(n inspection.Need) bool { return n.Place == tapeOf(end) }) {
			needs = append(needs, inspection.Need{Place: tapeOf(end), Family: "rim-tape", Quantity: 1, Unit: inspection.InPieces, Why: fmt.Sprintf("the %s wheel is set up tubeless", end)})
		}
	}
	return needs
}

// withoutTubes is a build without the tubes of the wheels that are set up: what is held to a tube's range no longer is.
func (s Situation) withoutTubes(b substitution.Build) substitution.Build {
	for _, end := range s.Terms.setUp() {
		b = b.Without(substitution.Place(end + ".tube"))
	}
	return b
}

// setUp is a wheel that is set up without a tube: where its tape goes, and what else that takes.
type setUp struct {
	tape substitution.Place
	substitution.TubelessSetUp
}

// setUps are the wheels that are set up without a tube and whose tape is looked for, or the customer's own, the front
// one first. Who brings a tape has valve and sealant to bring too: nothing of ours hangs on it.
func (s Situation) setUps() (out []setUp) {
	bottle := false
	for _, end := range s.Terms.setUp() {
		ours := slices.ContainsFunc(s.Needs, func(n inspection.Need) bool { return n.Place == tapeOf(end) })
		if !ours && !slices.ContainsFunc(s.Terms.Own, func(o OwnPart) bool { return o.Place == tapeOf(end) && !o.Back }) {
			continue
		}
		t := substitution.SetUpTubeless(s.scene(), end)
		if !ours {
			t.Brings = nil
			t.Checks = append(t.Checks, fmt.Sprintf("the tape of the %s wheel is the customer's own: see that it is airtight, and that valve and sealant came with it", end))
		}
		if bottle { // one does for both wheels
			t.Brings = slices.DeleteFunc(t.Brings, func(b substitution.Bring) bool { return b.Spec["purpose"].Value.Equal(substitution.Text("sealant")) })
		}
		bottle = bottle || ours
		out = append(out, setUp{tapeOf(end), t})
	}
	return out
}

// wantsTubeless reports whether a place wants a part that runs, or seals, without a tube.
func (s Situation) wantsTubeless(place substitution.Place) bool {
	return slices.ContainsFunc(s.Terms.setUp(), func(end string) bool { return place == tapeOf(end) || string(place) == end+".tyre" })
}

// besideTape is what the set-up of a wheel takes beside the tape at a place.
func (s Situation) besideTape(place substitution.Place) (out []substitution.Bring) {
	for _, t := range s.setUps() {
		if t.tape == place {
			out = append(out, t.Brings...)
		}
	}
	return out
}

// onlyTubeless leaves of the candidates for a wheel that is set up those that are known to run without a tube.
func (s *Situation) onlyTubeless() {
	other := func(id int64) bool {
		part := s.Parts[id].Part
		v, known := part.Get("tubeless")
		return !known || !v.Equal(substitution.Yes(true))
	}
	for i, n := range s.Needs {
		if s.wantsTubeless(n.Place) {
			s.Candidates[i] = slices.DeleteFunc(slices.Clone(s.Candidates[i]), other)
			s.Unsure[i] = slices.DeleteFunc(slices.Clone(s.Unsure[i]), other)
		}
	}
}

// noSetUp are the reasons why a wheel is not set up as asked.
func (s Situation) noSetUp() (why []string) {
	for _, t := range s.setUps() {
		why = append(why, t.Stops...)
	}
	return why
}

// withSetUps says on an option what is to be measured for the wheels that are set up, and what to beware of.
func (s Situation) withSetUps(o *Option) {
	for _, t := range s.setUps() {
		o.Checks = append(o.Checks, t.Checks...)
		o.Cautions = append(slices.Clip(o.Cautions), t.Cautions...)
	}
}

// besidesBench are the smears without the sealant that a set-up buys.
func (s Situation) besidesBench(smears []inspection.Smear) []inspection.Smear {
	return slices.DeleteFunc(smears, func(m inspection.Smear) bool { return m.Purpose == "sealant" && s.wantsTubeless(m.Place) })
}
