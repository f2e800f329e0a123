package substitution

import (
	"fmt"
	"slices"
)

// TubelessSetUp is what it takes to run a wheel without a tube, beside the tape over its spoke holes.
type TubelessSetUp struct {
	Stops    []string // why it cannot be done, or what to find out before it can be said
	Brings   []Bring  // what the tyre that is chosen does not bring of itself
	Checks   []string // what to measure, and how much of what goes in
	Cautions []string
}

// SetUpTubeless says what it takes on the wheel at an end, "front" or "rear". A tyre or a rim whose place is open is to be
// chosen, and is held against the other by its own rules; those that stay are held against each other here.
func SetUpTubeless(s Scene, end string) TubelessSetUp {
	tyreAt, rimAt := Place(end+".tyre"), Place(end+".rim")
	var t TubelessSetUp
	if !s.Open[tyreAt] {
		t.Stops = tyreWithoutTube(s, tyreAt)
	}
	if !s.Open[tyreAt] || !tyreBringsSetUp(s, tyreAt) {
		t.Brings = []Bring{tubelessValve(s, tyreAt), small("sealant", "tyre sealant", 1)}
	}
	t.valve(s, rimAt)
	t.Checks = append(t.Checks, sealantWords(s, tyreAt))
	t.Cautions = append(t.Cautions, hookCaution(s, rimAt))
	return t
}

// tyreWithoutTube are the reasons why a tyre that stays does not run without a tube on its rim.
func tyreWithoutTube(s Scene, at Place) (stops []string) {
	tyre, words := s.Now[at], at.end()+" tyre"
	if v, known := tyre.Get("tubular"); known && v.Equal(Yes(true)) {
		return []string{"the " + words + " is a tubular: it is glued on, and not set up tubeless"}
	}
	switch v, known := tyre.Get("tubeless"); {
	case !known:
		stops = append(stops, "whether the "+words+" is made to run without a tube is not known: read \"tubeless\" or \"tubeless ready\" on its side, and record it")
	case v.Equal(Yes(false)):
		stops = append(stops, "the "+words+" is made for a tube: its beads do not hold without one; set up one that is tubeless ready in its place")
	}
	fresh := s // as though the tyre were put on this rim for the first time
	fresh.Was = s.Was.Without(at)
	for _, f := range fresh.Check(at).Stops() {
		if f.Answer == Breaks && slices.Contains(rimCarries, f.Rule.ID) {
			stops = append(stops, fmt.Sprintf("the %s stays on its rim, and does not go on it without a tube: %s", words, f.Words))
		}
	}
	return stops
}

// rimCarries are the rules that say which tyre a rim carries.
var rimCarries = []string{"rim.hookless-tubes", "rim.hookless-width", "tyre.rim-width", "tyre.bead"}

// tyreBringsSetUp tells whether a tubeless tyre, whichever is chosen, brings valve and sealant by its own rule.
func tyreBringsSetUp(s Scene, at Place) bool {
	chosen := s.Choose(at, &Part{Family: "tyre", Spec: Spec{"tubeless": {Value: Yes(true), Origin: FromStandard}}})
	return len(tubelessSetup(chosen, at).Brings) > 0
}

// What a valve stands out of the rim at least, so that any pump holds on, and how much longer than that it may be, in mm.
// Common practice, no source.
const (
	valveOut  = 10
	valveOver = 40
)

// tubelessValve is long enough for the rim, where its depth is known.
func tubelessValve(s Scene, at Place) Bring {
	valve := small("tubeless-valve", "tubeless valve", 1)
	depth := s.side(theirs("~.rim", "depth_mm"), at)
	if !depth.known || s.Open[depth.place] {
		return valve
	}
	least := max(20, depth.now.number+valveOut)
	valve.Spec["valve_mm"] = Fact{Value: Num(least), Origin: FromStandard}
	valve.Over = map[string]float64{"valve_mm": valveOver}
	valve.Words = "tubeless valve of " + figure(least) + " mm or more"
	return valve
}

// A presta valve's hole and the least that is drilled for the wider kind, in mm.
const (
	prestaHole = 6
	widerHole  = 7.5
)

// valve says what of the rim is to be measured before a valve goes in.
func (t *TubelessSetUp) valve(s Scene, at Place) {
	rim, words := s.Now[at], at.end()+" rim"
	if s.Open[at] {
		rim, words = nil, "new "+words
	}
	if _, known := rim.Get("depth_mm"); !known {
		t.Checks = append(t.Checks, fmt.Sprintf("measure the depth of the %s (%s): the valve is %d mm longer at least", words, rimDepth.Measure, valveOut))
	}
	hole, known := rim.Get("valve_hole_mm")
	switch {
	case !known:
		t.Checks = append(t.Checks, fmt.Sprintf("measure the valve hole of the %s (%s): a tubeless valve is as thick as a presta one", words, valveHole.Measure))
	case hole.number < prestaHole:
		t.Stops = append(t.Stops, fmt.Sprintf("the valve hole of the %s is %s mm wide: too small for a tubeless valve", words, hole))
	case hole.number >= widerHole:
		t.Checks = append(t.Checks, fmt.Sprintf("the valve hole of the %s is %s mm wide: the valve wants a foot that closes it, by its maker's word", words, hole))
	}
}

// hookCaution is said of a rim without hooks, and of one of which nobody knows whether it has them.
func hookCaution(s Scene, at Place) string {
	const carries = "carries only a tyre that its own maker and the tyre's both list with it, at 5 bar (72.5 psi) at most, whatever the tyre says"
	words, lower := at.end()+" rim", "see that its maker allows it without a tube, and pump to the lower of what tyre and rim say"
	hookless, known := s.Now[at].Get("hookless")
	switch {
	case s.Open[at] || !known:
		return fmt.Sprintf("%s: feel along the inside of its edge; one without hooks %s. With hooks, %s", words, carries, lower)
	case hookless.Equal(Yes(true)):
		return fmt.Sprintf("%s: it has no hooks, and %s", words, carries)
	}
	return words + ": " + lower
}

// sealants are how much goes into tyres up to a width. A trade page's figures for road, gravel and mountain bike tyres
// (vehiclestire.com): 1 to 2, 2 to 4 and 4 to 6 ounces.
var sealants = []struct {
	upTo float64 // mm
	ml   string
}{{32, "30 to 60 ml"}, {54, "60 to 120 ml"}, {76, "120 to 180 ml"}}

// sealantWords say how much sealant goes into the tyre at a place.
func sealantWords(s Scene, at Place) string {
	const bottle = "what its bottle says counts before a list"
	width, known := s.Now[at].Get("width_mm")
	if !known || s.Open[at] {
		words := "sealant for the " + at.end() + " tyre, by the width that is read on it: "
		for _, amount := range sealants {
			words += amount.ml + " up to " + figure(amount.upTo) + " mm, "
		}
		return words + bottle
	}
	for _, amount := range sealants {
		if width.number <= amount.upTo {
			return fmt.Sprintf("sealant for the %s tyre, %s mm wide: %s by a list; %s", at.end(), width, amount.ml, bottle)
		}
	}
	return fmt.Sprintf("sealant for the %s tyre, %s mm wide: no list that was read has so wide a tyre; what its bottle says", at.end(), width)
}
