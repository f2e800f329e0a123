package measure

import (
	"fmt"
	"math"

	"stead/substitution/standard"
)

// WheelBuild is what a wheel's spokes are worked out from: the rim, the hub and how it is laced.
type WheelBuild struct {
	ERD         *Reading `json:"erd,omitempty"`          // rim diameter where the spokes end: at the nipples' slots
	FlangeLeft  *Reading `json:"flange_left,omitempty"`  // circle through the spoke holes, across
	FlangeRight *Reading `json:"flange_right,omitempty"` // likewise; absent where it is the left one's
	OffsetLeft  *Reading `json:"offset_left,omitempty"`  // flange to the middle of the hub
	OffsetRight *Reading `json:"offset_right,omitempty"`
	OLN         *Reading `json:"oln,omitempty"`        // or the hub's width over the locknuts
	LeftNut     *Reading `json:"left_nut,omitempty"`   // with the left locknut to its flange
	RightNut    *Reading `json:"right_nut,omitempty"`  // and the right one
	Hole        *Reading `json:"hole,omitempty"`       // spoke hole in the flange
	DeductMM    float64  `json:"deduct_mm,omitempty"`  // what to take off for the hole, instead of half of it
	RimOffset   float64  `json:"rim_offset,omitempty"` // nipple holes off the rim's middle, towards the right
	Spokes      int      `json:"spokes"`
	CrossLeft   int      `json:"cross_left"`
	CrossRight  int      `json:"cross_right"`
}

// usualHoleMM is the spoke hole of most hubs.
const usualHoleMM = 2.5

var refSpokeLength = standard.Reference{Source: "spoke length formula of wheel-building pages, which print worked examples", Confidence: standard.Practice}

// Lengths are the lengths of the left and the right spokes in mm, not rounded.
func (w WheelBuild) Lengths() (left, right float64, err error) {
	if err := w.validate(); err != nil {
		return 0, 0, err
	}
	flangeRight := w.FlangeRight
	if flangeRight == nil {
		flangeRight = w.FlangeLeft
	}
	offLeft, offRight := w.offsets()
	left = standard.SpokeLengthMM(w.ERD.MM, w.FlangeLeft.MM, offLeft+w.RimOffset, w.Spokes, w.CrossLeft, 0) - w.deduct()
	right = standard.SpokeLengthMM(w.ERD.MM, flangeRight.MM, offRight-w.RimOffset, w.Spokes, w.CrossRight, 0) - w.deduct()
	return left, right, nil
}

func (w WheelBuild) deduct() float64 {
	switch {
	case w.DeductMM != 0:
		return w.DeductMM
	case w.Hole != nil:
		return w.Hole.MM / 2
	}
	return usualHoleMM / 2
}

// offsets are the distances of the flanges from the middle of the hub.
func (w WheelBuild) offsets() (left, right float64) {
	if w.OffsetLeft != nil {
		left = w.OffsetLeft.MM
		if right = left; w.OffsetRight != nil {
			right = w.OffsetRight.MM
		}
		return left, right
	}
	return w.OLN.MM/2 - w.LeftNut.MM, w.OLN.MM/2 - w.RightNut.MM
}

func (w WheelBuild) validate() error {
	for _, c := range []struct {
		name      string
		r         *Reading
		low, high float64
	}{
		{"ERD", w.ERD, 150, 700}, {"flange circle", w.FlangeLeft, 20, 120}, {"right flange circle", w.FlangeRight, 20, 120},
		{"flange to the middle", w.OffsetLeft, 3, 90}, {"right flange to the middle", w.OffsetRight, 3, 90}, {"width over the locknuts", w.OLN, 70, 220},
		{"left locknut to the flange", w.LeftNut, 2, 90}, {"right locknut to the flange", w.RightNut, 2, 90}, {"spoke hole", w.Hole, 1.8, 4},
	} {
		if err := check(c.name, c.r, c.low, c.high); err != nil {
			return err
		}
	}
	byNuts := w.OLN != nil && w.LeftNut != nil && w.RightNut != nil
	most := w.Spokes / 4
	switch {
	case w.ERD == nil:
		return fmt.Errorf("the rim's ERD was not measured: put two spokes of known length through opposite holes, nipples on, and add the gap between them")
	case w.FlangeLeft == nil:
		return fmt.Errorf("the flange circle was not measured: across the hub from the middle of a spoke hole to the middle of the one opposite")
	case w.OffsetLeft == nil && !byNuts:
		return fmt.Errorf("give the distance of the flanges from the hub's middle, or the width over the locknuts with both distances from locknut to flange")
	case w.OffsetLeft != nil && w.OLN != nil:
		return fmt.Errorf("the flanges' distances were given twice: from the middle, and from the locknuts")
	case w.Spokes < 8 || w.Spokes > 72 || w.Spokes%2 != 0:
		return fmt.Errorf("a wheel has an even number of spokes from 8 to 72, not %d", w.Spokes)
	case w.CrossLeft < 0 || w.CrossLeft > most || w.CrossRight < 0 || w.CrossRight > most:
		return fmt.Errorf("%d spokes cross 0 to %d times", w.Spokes, most)
	case w.deduct() < 0 || w.deduct() > 3:
		return fmt.Errorf("half a spoke hole is about 1.25 mm, not %v", w.deduct())
	}
	if left, right := w.offsets(); left <= 0 || right <= 0 {
		return fmt.Errorf("a flange would stand beyond the hub's middle: was a locknut distance taken from the wrong side?")
	}
	return nil
}

// Identify says how long the spokes of either side are.
func (w WheelBuild) Identify() (Result, error) {
	left, right, err := w.Lengths()
	if err != nil {
		return Result{}, err
	}
	side := func(name string, mm float64, crosses int) Match {
		return Match{fmt.Sprintf("%s: %.1f mm", name, mm), fmt.Sprintf("%d of %d spokes, %d crosses", w.Spokes/2, w.Spokes, crosses), refSpokeLength}
	}
	r := Result{Part: "spokes", Matches: []Match{side("left", left, w.CrossLeft), side("right", right, w.CrossRight)}}
	if math.Abs(left-right) < 0.05 {
		r.Verdict = fmt.Sprintf("All spokes are %.1f mm long: buy the nearest length, and half a millimetre under rather than over.", left)
	} else {
		r.Verdict = fmt.Sprintf("Spokes of %.1f mm on the left and %.1f mm on the right: buy the nearest length, and half a millimetre under rather than over.", left, right)
	}
	if w.Hole == nil && w.DeductMM == 0 {
		r.Next = append(r.Next, Step{"Measure a spoke hole", "caliper or drill shank", fmt.Sprintf("%s mm was taken: half of the usual %s mm hole", mm(usualHoleMM/2), mm(usualHoleMM))})
	}
	r.Next = append(r.Next, Step{"See from where the ERD was taken", "eye", "it goes to the slot of the nipple; a figure to the nipple's seat makes spokes 2 to 3 mm short"})
	r.ReadsBadly = append(r.ReadsBadly, "The ERD is the figure that counts most: a millimetre in it is half a millimetre of spoke. Measure at two places and take the mean.")
	r.Cautions = append(r.Cautions, "A spoke that ends below the nipple's slot by more than a millimetre holds by too little thread.", "Straight-pull spokes are not worked out so: their hub fixes the lacing.")
	return r, nil
}
