package measure

import (
	"fmt"
	"math"
	"strings"

	"stead/substitution/standard"
)

// Hand is which way a thread turns, as found on the part.
type Hand string

const (
	HandUnknown Hand = ""
	RightHand   Hand = "right" // tightens clockwise
	LeftHand    Hand = "left"  // tightens anticlockwise
)

// Thread is what was measured on a screw thread. Diameter and pitch are both needed to name one: sizes a few tenths apart
// differ in pitch, and pitches that look alike differ in diameter.
type Thread struct {
	Diameter *Reading `json:"diameter,omitempty"` // outside of a male thread, or inside of a female one
	Female   bool     `json:"female,omitempty"`
	PitchMM  float64  `json:"pitch_mm,omitempty"` // from a thread gauge that fits; absent if none was tried
	PerInch  float64  `json:"tpi,omitempty"`      // or the gauge's turns to the inch
	Over     *Reading `json:"over,omitempty"`     // or a length over several turns
	Turns    int      `json:"turns,omitempty"`    // and how many turns that is
	Hand     Hand     `json:"hand,omitempty"`
	Family   string   `json:"family,omitempty"` // "bottom-bracket", "freewheel", "axle", "pedal", "steerer", "spoke": absent looks at all
}

// A male thread measures under its name, because its crests are cut back, by up to a quarter of its pitch (common
// practice). A female one is measured across its crests, about one pitch under the name.
const (
	maleUnderPitches = 0.25
	femaleBandMM     = 0.25 // either side of the core
	gaugePitchMM     = 0.01 // pitches closer than this are the same gauge leaf
	corePitches      = 1.08 // core of a 60° thread: this many pitches under the name (ISO 261 profile)
)

// Identify names the thread.
func (t Thread) Identify() (Result, error) {
	if err := t.validate(); err != nil {
		return Result{}, err
	}
	r := Result{Part: "thread", ReadsBadly: tooFine(t.Diameter)}
	for _, k := range standard.KnownThreads() {
		switch {
		case t.Family != "" && k.Family != t.Family:
		case t.fits(k):
			r.Matches = append(r.Matches, Match{k.Thread.String(), k.Use, k.Reference})
		case t.nearly(k):
			r.NearMisses = append(r.NearMisses, NearMiss{k.Thread.String(), k.Use, t.differs(k), k.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	names := distinct(matchNames(r.Matches))
	switch {
	case len(names) == 1 && anyFirm(r.Matches):
		var uses []string
		for _, m := range r.Matches {
			uses = append(uses, m.Detail)
		}
		r.Verdict = fmt.Sprintf("This is %s (%s).", names[0], strings.Join(uses, "; "))
	case anyFirm(r.Matches):
		r.Verdict = fmt.Sprintf("It could be %s.", choice(r.Matches))
		if interchange(names) {
			r.Verdict += " These differ by hundredths of a millimetre and are made to interchange (not on tandems or for strong riders); French 1.0 mm pitch never does."
		}
	case len(r.Matches) > 0:
		r.Verdict = fmt.Sprintf("It reads as %s, known here from memory only: try it on a part that is marked.", or(names))
	default:
		r.Verdict = "No thread in the table reads so: misread, worn, or not a bicycle thread. Try a thread gauge before forcing anything."
	}
	t.advise(&r)
	return r, nil
}

func (t Thread) validate() error {
	if err := check("thread diameter", t.Diameter, 1.5, 60); err != nil {
		return err
	}
	if t.Diameter == nil {
		return fmt.Errorf("the diameter was not measured: measure across the crests of the thread")
	}
	given := 0
	for _, said := range []bool{t.PitchMM != 0, t.PerInch != 0, t.Over != nil} {
		if said {
			given++
		}
	}
	switch {
	case given > 1:
		return fmt.Errorf("the pitch was given twice: give the gauge's pitch, its turns to the inch, or a length over turns")
	case t.PitchMM != 0 && !(t.PitchMM >= 0.2 && t.PitchMM <= 5):
		return fmt.Errorf("a pitch of %v mm is no screw thread's: pitches run from 0.2 to 5 mm; were turns to the inch meant?", t.PitchMM)
	case t.PerInch != 0 && !(t.PerInch >= 8 && t.PerInch <= 80):
		return fmt.Errorf("%v turns to the inch is no bicycle thread: they run from about 8 to 80; was a pitch in millimetres meant?", t.PerInch)
	case t.Over != nil && t.Turns < 2:
		return fmt.Errorf("a length over turns needs at least two turns: count ten crests to the eleventh for a sharp figure")
	case t.Hand != HandUnknown && t.Hand != LeftHand && t.Hand != RightHand:
		return fmt.Errorf("the hand is left or right, not %q", t.Hand)
	}
	return check("length over turns", t.Over, 0.2*float64(t.Turns), 5*float64(t.Turns))
}

// pitch is the measured pitch and its error; ok is false when nobody measured it.
func (t Thread) pitch() (pitch, err float64, ok bool) {
	switch {
	case t.PitchMM != 0:
		return t.PitchMM, gaugePitchMM, true
	case t.PerInch != 0:
		return standard.Inch / t.PerInch, gaugePitchMM, true
	case t.Over != nil:
		return t.Over.MM / float64(t.Turns), t.Over.ErrorMM / float64(t.Turns), true
	}
	return 0, 0, false
}

func (t Thread) diameterFits(k standard.KnownThread) bool {
	if !t.Female {
		return t.Diameter.allows(k.OutsideMM()-maleUnderPitches*k.Thread.PitchMM, k.OutsideMM())
	}
	core := core(k)
	return t.Diameter.allows(core-femaleBandMM, core+femaleBandMM)
}

// core is the diameter inside a female thread: the table's figure, or one worked out from the 60° profile.
func core(k standard.KnownThread) float64 {
	if k.CoreMM != 0 {
		return k.CoreMM
	}
	return k.Thread.DiameterMM - corePitches*k.Thread.PitchMM
}

func (t Thread) pitchFits(k standard.KnownThread) bool {
	pitch, err, ok := t.pitch()
	return !ok || math.Abs(pitch-k.Thread.PitchMM) <= err+1e-9
}

func (t Thread) handFits(k standard.KnownThread) bool {
	return t.Hand == HandUnknown || (t.Hand == LeftHand) == k.Thread.Left
}

func (t Thread) fits(k standard.KnownThread) bool {
	return t.diameterFits(k) && t.pitchFits(k) && t.handFits(k)
}

// nearly reports whether just one of diameter (by up to 0.8 mm), pitch and hand keeps the thread out.
func (t Thread) nearly(k standard.KnownThread) bool {
	out := 0
	for _, fits := range []bool{t.diameterFits(k), t.pitchFits(k), t.handFits(k)} {
		if !fits {
			out++
		}
	}
	return out == 1 && math.Abs(t.nominal(k)-t.Diameter.MM) <= 0.8
}

func (t Thread) nominal(k standard.KnownThread) float64 {
	if t.Female {
		return core(k)
	}
	return k.OutsideMM()
}

func (t Thread) differs(k standard.KnownThread) string {
	switch {
	case !t.handFits(k):
		return "the same but for the hand"
	case !t.pitchFits(k):
		pitch, _, _ := t.pitch()
		return fmt.Sprintf("its pitch is %s mm (%s to the inch), yours %s: it starts, then binds and strips", mm(k.Thread.PitchMM), mm2(k.Thread.PerInch()), mm(pitch))
	}
	return fmt.Sprintf("its diameter is %s mm here, yours reads %s", mm2(t.nominal(k)), mm(t.Diameter.MM))
}

func (t Thread) advise(r *Result) {
	if !t.Female {
		r.ReadsBadly = append(r.ReadsBadly, "A male thread reads under its name by up to a quarter of its pitch, because its crests are cut back (common practice, no published source).")
	} else {
		r.ReadsBadly = append(r.ReadsBadly, "Inside a thread a caliper reads the crests, about one pitch under the thread's name.")
	}
	if _, _, ok := t.pitch(); !ok {
		r.Next = append(r.Next, Step{"Find the pitch", "thread gauge", "diameters a few tenths apart belong to different pitches: a caliper alone does not decide"})
	} else if t.Over != nil {
		r.Next = append(r.Next, Step{"Check the pitch with a gauge", "thread gauge", "24 and 26 to the inch lie either side of 1.0 mm, by less than a ruler shows over a few turns"})
	}
	if t.Hand == HandUnknown && bothHands(r.Matches) {
		r.Next = append(r.Next, Step{"See which way it tightens", "eye: a right-hand thread rises to the right", "this thread is cut in both hands"})
	}
	for _, m := range r.Matches {
		if strings.Contains(m.Detail, "pedal") || strings.Contains(m.Detail, "axle") {
			r.Cautions = append(r.Cautions, "A pedal or axle on the wrong thread holds for a while and then lets go: never force one that stops turning freely.")
			break
		}
	}
	for _, m := range r.Matches {
		if strings.Contains(m.Detail, "bottom bracket") {
			r.Cautions = append(r.Cautions, "English and French bottom-bracket threads are 0.2 mm apart but differ in pitch and hand: check both before turning a cup in.")
			break
		}
	}
}

// interchange reports whether the threads are the freewheel and bottom-bracket ones at 24 to the inch, of one hand, that
// trade pages call interchangeable (Sheldon Brown's freewheel page; ISO 6696 for bottom brackets).
func interchange(names []string) bool {
	for _, n := range names {
		size := strings.TrimSuffix(n, " left")
		if (size != "1.37x24" && size != "1.375x24" && size != "1.378x24") || strings.HasSuffix(n, " left") != strings.HasSuffix(names[0], " left") {
			return false
		}
	}
	return true
}

// bothHands reports whether two of the matches differ in hand.
func bothHands(matches []Match) bool {
	left, right := false, false
	for _, m := range matches {
		if strings.HasSuffix(m.Name, " left") {
			left = true
		} else {
			right = true
		}
	}
	return left && right
}

func distinct(names []string) []string {
	var once []string
	seen := map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			once = append(once, n)
		}
		seen[n] = true
	}
	return once
}
