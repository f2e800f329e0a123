package measure

import (
	"cmp"
	"fmt"
	"math"

	"stead/substitution/standard"
)

// Fork is what was measured on a fork and the head tube it goes in.
type Fork struct {
	Steerer  *Reading `json:"steerer,omitempty"`   // outside diameter, at the stem
	Crown    *Reading `json:"crown,omitempty"`     // seat of the crown race, above the crown
	HeadTube *Reading `json:"head_tube,omitempty"` // inside diameter of the head tube, for 1 inch forks
}

// seatSlackMM is how far a crown-race seat may lie over its nominal size: it is cut for a press fit. Common practice.
const seatSlackMM = 0.15

// Identify names the steerer and the crown race.
func (f Fork) Identify() (Result, error) {
	if f.Steerer == nil && f.Crown == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the steerer's diameter and the crown-race seat's")
	}
	for _, c := range []struct {
		name      string
		r         *Reading
		low, high float64
	}{{"steerer", f.Steerer, 20, 42}, {"crown-race seat", f.Crown, 24, 46}, {"head tube", f.HeadTube, 28, 65}} {
		if err := check(c.name, c.r, c.low, c.high); err != nil {
			return Result{}, err
		}
	}
	if f.Steerer != nil && f.Crown != nil && f.Crown.MM+f.Crown.ErrorMM < f.Steerer.MM-f.Steerer.ErrorMM {
		return Result{}, fmt.Errorf("a crown-race seat of %s mm cannot be smaller than the steerer of %s mm: were they turned round?", mm(f.Crown.MM), mm(f.Steerer.MM))
	}
	r := Result{Part: "steerer and crown race", ReadsBadly: tooFine(f.Steerer, f.Crown)}
	for _, s := range standard.Steerers() {
		detail := fmt.Sprintf("steerer %s mm, crown race %s mm", mm(s.SteererMM), mm(s.CrownMM))
		switch {
		case f.fits(s):
			r.Matches = append(r.Matches, Match{s.Name, detail, s.Reference})
		case f.Crown != nil && math.Abs(f.Crown.MM-s.CrownMM) <= 1.2 && (f.Steerer == nil || math.Abs(f.Steerer.MM-s.SteererMM) < 0.5):
			r.NearMisses = append(r.NearMisses, NearMiss{s.Name, detail, f.differs(s), s.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	switch {
	case sole(r.Matches):
		r.Verdict = fmt.Sprintf("This is %s: %s.", r.Matches[0].Name, r.Matches[0].Detail)
	case anyFirm(r.Matches):
		r.Verdict = fmt.Sprintf("It could be %s.", choice(r.Matches))
	case len(r.Matches) > 0:
		r.Verdict = fmt.Sprintf("It reads as %s, known here from memory only: order the crown race by the measured seat.", or(matchNames(r.Matches)))
	default:
		r.Verdict = "No steerer and crown race in the table read so: order the crown race by the measured seat, or have the seat cut."
	}
	if f.Crown == nil {
		r.Next = append(r.Next, Step{"Measure the crown-race seat", "caliper", "1 inch forks have 26.4 and 27.0 mm seats, and the steerer does not tell which"})
	}
	if f.HeadTube == nil && f.Steerer != nil && f.Steerer.allows(25.4, 25.4) {
		r.Next = append(r.Next, Step{"Measure inside the head tube", "caliper", "29.85 to 29.90 mm takes the JIS cup (30.0), 30.05 to 30.10 the ISO cup (30.2)"})
	}
	r.ReadsBadly = append(r.ReadsBadly, "Inside a head tube a burr or paint makes the jaws read low: measure at two places a quarter turn apart.")
	r.Cautions = append(r.Cautions, "Fork and headset are safety parts: a crown race 0.6 mm too large is loose on its seat and cannot be used, one too small does not go on.")
	return r, nil
}

func (f Fork) fits(s standard.Steerer) bool {
	if f.Steerer != nil && !f.Steerer.allows(s.SteererMM-0.1, s.SteererMM+0.05) {
		return false
	}
	if f.Crown != nil && !f.Crown.allows(min(s.CrownMM, cmp.Or(s.SeatMM, s.CrownMM))-0.05, s.CrownMM+seatSlackMM) {
		return false
	}
	return f.HeadTube == nil || s.BoreMinMM == 0 || f.HeadTube.allows(s.BoreMinMM, s.BoreMaxMM)
}

func (f Fork) differs(s standard.Steerer) string {
	if off := s.CrownMM - f.Crown.MM; math.Abs(off) > seatSlackMM {
		if off > 0 {
			return fmt.Sprintf("its race would be %s mm loose on your seat", mm2(off))
		}
		return fmt.Sprintf("its race is %s mm too small to go on your seat", mm2(-off))
	}
	if f.HeadTube != nil && s.BoreMinMM != 0 {
		return fmt.Sprintf("its head tube is %s to %s mm inside, yours reads %s", mm(s.BoreMinMM), mm(s.BoreMaxMM), mm(f.HeadTube.MM))
	}
	return fmt.Sprintf("its steerer is %s mm", mm(s.SteererMM))
}
