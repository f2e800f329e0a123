package measure

import (
	"fmt"
	"math"
	"strings"

	"stead/substitution/standard"
)

const (
	chamferWithinDeg = 3.0  // how far a protractor may be off on a ring; the angles in use are 36 and 45
	headsetBoreMM    = 24.0 // a headset bearing goes round a steerer
	headsetOuterMM   = 57.0 // and into a head tube

	byAllFive = "order it by all five: bore, outer, height and both angles; more than 45 sizes are sold."
)

// chamfered reports whether an angle was read on either ring.
func (b Bearing) chamfered() bool { return b.InnerDeg > 0 || b.OuterDeg > 0 }

// headsetSizes are the headset bearings that the readings allow; an angle that was not read excludes none.
func (b Bearing) headsetSizes() []standard.HeadsetBearing {
	var sizes []standard.HeadsetBearing
	for _, h := range standard.HeadsetBearings() {
		within := b.Bore != nil && b.Bore.allows(h.BoreMM, h.BoreMM) && b.Outer != nil && b.Outer.allows(h.OuterMM, h.OuterMM) &&
			(b.Width == nil || b.Width.allows(h.WidthMM, h.WidthMM))
		if within && angleAllows(b.InnerDeg, h.InnerDeg) && angleAllows(b.OuterDeg, h.OuterDeg) {
			sizes = append(sizes, h)
		}
	}
	return sizes
}

func angleAllows(read, nominal float64) bool {
	return read == 0 || math.Abs(read-nominal) <= chamferWithinDeg
}

// headset answers for a bearing with chamfered rings, or one that no plain size fits and a headset's may.
func (b Bearing) headset() Result {
	r := Result{Part: "headset bearing", ReadsBadly: tooFine(b.Bore, b.Outer, b.Width),
		Cautions: []string{"Fork and headset are safety parts: a bearing with another angle touches at an edge and wears into its seat."}}
	sizes := b.headsetSizes()
	var names []string
	for _, h := range sizes {
		names = append(names, h.Name())
		if b.InnerDeg > 0 && b.OuterDeg > 0 && b.Width != nil {
			r.Matches = append(r.Matches, Match{Name: h.Name(), Detail: "bore × outer × height in mm, angle inside/outside", Reference: h.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	switch {
	case len(r.Matches) > 0 && !anyFirm(r.Matches):
		r.Verdict = fmt.Sprintf("It reads as a headset bearing: %s. That size is from memory: order by the five numbers that you measured.", or(names))
	case len(r.Matches) > 0:
		r.Verdict = fmt.Sprintf("This is a headset bearing: %s.", or(names))
	case len(sizes) > 0:
		r.Verdict = fmt.Sprintf("A headset bearing reads so: %s. The angles decide, and no caliper shows them.", or(names))
	case b.chamfered():
		r.Verdict = "No listed headset bearing reads so: " + byAllFive
	default:
		r.Part, r.NearMisses = "cartridge bearing", b.nearMisses()
		r.Verdict = b.noMatch() + " If it comes out of a headset, " + byAllFive
	}
	if len(r.Matches) == 0 {
		r.Next = append(r.Next, Step{"Read the mark on the seal or the ring, or the angle of both chamfers", "eye, protractor", "36° and 45° are common, and one does not go in the other's seat"})
	}
	return r
}

// couldBeHeadset reports whether the rings are of a size that headsets use.
func (b Bearing) couldBeHeadset() bool {
	return b.Bore != nil && b.Outer != nil && b.Bore.MM >= headsetBoreMM && b.Outer.MM <= headsetOuterMM
}

// headsetMisses are the headset bearings of just the size of a plain one.
func (b Bearing) headsetMisses() []NearMiss {
	var misses []NearMiss
	for _, h := range b.headsetSizes() {
		misses = append(misses, NearMiss{"headset bearing", strings.TrimSuffix(h.Name(), ", "+h.Angles()) + " mm",
			"its rings are chamfered at " + h.Angles() + "; neither goes in the other's place", h.Reference})
	}
	return misses
}
