package measure

import (
	"fmt"
	"math"

	"stead/substitution/standard"
)

// Lever is what was measured on a brake lever: how much cable it pulls from rest to the bar.
type Lever struct {
	Pull *Reading `json:"pull,omitempty"`
}

// leverWithinMM is how far a lever's pull may lie off its kind's published figure: reach adjusters and housings take as
// much (common practice, no source). Pulls of 7 and 8 mm are therefore not told apart.
const leverWithinMM = 1.0

// Identify names the kinds of lever that pull so much, and the brakes that want it.
func (l Lever) Identify() (Result, error) {
	if l.Pull == nil {
		return Result{}, fmt.Errorf("nothing was measured: mark the cable at the lever, pull the lever to the bar and measure how far the mark moved")
	}
	if err := check("cable pulled", l.Pull, 2, 30); err != nil {
		return Result{}, err
	}
	r := Result{Part: "brake lever"}
	var brakes []string
	for _, k := range standard.LeverPulls() {
		detail := fmt.Sprintf("pulls %s mm of cable", mm(k.MM))
		switch off := k.MM - l.Pull.MM; {
		case l.Pull.allows(k.MM-leverWithinMM, k.MM+leverWithinMM):
			r.Matches = append(r.Matches, Match{k.Part + " lever", detail, k.Reference})
		case math.Abs(off) <= 8:
			r.NearMisses = append(r.NearMisses, NearMiss{k.Part + " lever", detail, mismatch(off), k.Reference})
		}
	}
	for _, k := range standard.CaliperPulls() {
		if l.Pull.allows(k.MM-leverWithinMM, k.MM+leverWithinMM) {
			brakes = append(brakes, k.Part)
		}
	}
	r.Matches = firmFirst(r.Matches)
	if len(r.Matches) == 0 {
		r.Verdict = fmt.Sprintf("A pull of %s mm is that of no lever in my list; nearest are 8 mm (short pull) and 15 mm (long pull). Pull the slack out of the cable and measure again.", mm(l.Pull.MM))
	} else {
		r.Verdict = fmt.Sprintf("It pulls as a %s does, for these brakes: %s.", or(distinct(matchNames(r.Matches))), or(brakes))
	}
	r.Next = append(r.Next, Step{"Measure from the lever's pivot to the cable head", "caliper", "a head much further from its pivot pulls more cable: long pull for direct-pull brakes"})
	r.ReadsBadly = append(r.ReadsBadly, "Slack in the cable and soft housing swallow some millimetres: measure at the lever, with the cable just tight.")
	r.Cautions = append(r.Cautions, "Lever and brake must be of one pull: a long-pull lever on a short-pull brake stops weakly, a short-pull lever on a long-pull brake meets the bar first.")
	return r, nil
}

func mismatch(off float64) string {
	if off > 0 {
		return fmt.Sprintf("it pulls %s mm more", mm2(off))
	}
	return fmt.Sprintf("it pulls %s mm less", mm2(-off))
}
