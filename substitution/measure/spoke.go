package measure

import (
	"fmt"
	"math"

	"stead/substitution/standard"
)

// Spoke is what was measured on a spoke.
type Spoke struct {
	Elbow  *Reading `json:"elbow,omitempty"`  // the wire near the hub
	Middle *Reading `json:"middle,omitempty"` // the wire half way
	Thread *Reading `json:"thread,omitempty"` // outside of the thread
}

// wireUnderMM is how far drawn wire may lie off its gauge.
const wireUnderMM = 0.04

// Identify names the gauge and the nipple that goes with it.
func (s Spoke) Identify() (Result, error) {
	if s.Elbow == nil && s.Middle == nil && s.Thread == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the wire's diameter near the hub and half way")
	}
	for name, reading := range map[string]*Reading{"wire near the hub": s.Elbow, "wire half way": s.Middle, "spoke thread": s.Thread} {
		if err := check(name, reading, 0.8, 3.5); err != nil {
			return Result{}, err
		}
	}
	r := Result{Part: "spoke", ReadsBadly: append(tooFine(s.Elbow, s.Middle), "A bent or bladed wire reads thick one way: turn it and take the smaller figure.")}
	wire := s.Elbow
	if wire == nil {
		wire = s.Middle
	}
	for _, g := range standard.Gauges() {
		rolled, _ := standard.SpokeThread(g.MM)
		thread, known := rolled.Known()
		if wire != nil && !wire.allows(g.MM-wireUnderMM, g.MM+wireUnderMM) || s.Thread != nil && (!known || !s.Thread.allows(thread.OutsideMM()-maleUnderPitches*thread.Thread.PitchMM, thread.OutsideMM())) {
			if wire != nil && math.Abs(g.MM-wire.MM) <= 0.25 {
				r.NearMisses = append(r.NearMisses, NearMiss{fmt.Sprintf("%dg", g.Number), mm(g.MM) + " mm", fmt.Sprintf("%s mm %s", mm2(math.Abs(g.MM-wire.MM)), largerSmaller(g.MM-wire.MM)), g.Reference})
			}
			continue
		}
		detail := mm(g.MM) + " mm"
		if known {
			detail += ", nipple thread " + thread.Thread.String() + " (56 to the inch)"
		}
		r.Matches = append(r.Matches, Match{fmt.Sprintf("%dg", g.Number), detail, g.Reference})
	}
	switch {
	case len(r.Matches) == 1:
		r.Verdict = fmt.Sprintf("This is %s: %s.", r.Matches[0].Name, r.Matches[0].Detail)
	case len(r.Matches) > 1:
		r.Verdict = fmt.Sprintf("It could be %s.", or(matchNames(r.Matches)))
	default:
		r.Verdict = "The diameter is not in my list of gauges: measure the round part of the wire, clean."
	}
	if s.Elbow != nil && s.Middle != nil && s.Elbow.MM-s.Middle.MM > s.Elbow.ErrorMM+s.Middle.ErrorMM {
		r.Verdict += fmt.Sprintf(" It is butted: %s mm near the hub, %s half way.", mm(s.Elbow.MM), mm(s.Middle.MM))
	} else if s.Middle == nil || s.Elbow == nil {
		r.Next = append(r.Next, Step{"Measure near the hub and half way", "caliper", "a butted spoke is thinner in the middle, and the nipple goes by the ends"})
	}
	r.Next = append(r.Next, Step{"Ask whether a gauge number came from France", "label", "French numbers run the other way: French 13 is 2.0 mm, which is 14 here"})
	r.Cautions = append(r.Cautions, "A nipple of the wrong thread holds until the wheel is loaded: match the thread to the wire at the end.")
	return r, nil
}
