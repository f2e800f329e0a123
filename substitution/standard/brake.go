package standard

import (
	"math"
)

// Rotor is a disc-rotor diameter. 200 and 203 are different sizes: the pads sit 1.5 mm off.
type Rotor struct {
	MM int `json:"rotor_mm"`
	Reference
}

// String is "203 mm"; [ParseRotor] reads it back.
func (r Rotor) String() string { return trim(float64(r.MM)) + " mm" }

var refRotor = Reference{"two rotor reference pages", Practice}

var rotors = []Rotor{{140, refRotor}, {160, refRotor}, {180, refRotor}, {200, refRotor}, {203, refRotor}, {220, refRotor}}

// ParseRotor reads "203", "160 mm". 202 is an error that names both 200 and 203.
func ParseRotor(s string) (Rotor, error) {
	const what = "a rotor size"
	value, unit, err := length(s)
	if err != nil || unit == UnitInch {
		return Rotor{}, &ReadingError{What: what, Input: s, Problem: "write the diameter in millimetres: 160"}
	}
	var near []string
	for _, r := range rotors {
		if float64(r.MM) == value {
			return r, nil
		}
		if math.Abs(float64(r.MM)-value) <= 10 {
			near = append(near, r.String())
		}
	}
	return Rotor{}, &ReadingError{What: what, Input: s, Problem: trim(value) + " mm is not in my list of rotors", Nearest: near}
}

// PadMinimumLiningMM is the limit for the friction lining alone in one brake maker's manual, as a page quotes it.
const PadMinimumLiningMM = 0.5

// Cable is an inner cable's diameter and what it pulls. A brake cable will not enter gear parts; a gear cable, or gear
// housing, must never be in a brake.
type Cable struct {
	Use  string  `json:"use"` // gear or brake
	MM   float64 `json:"diameter_mm"`
	Note string  `json:"note,omitempty"`
	Reference
}

var refCable = Reference{"two cable reference pages", Practice}

var cables = []Cable{
	{"gear", 1.1, "", refCable}, {"gear", 1.2, "", refCable}, {"gear", 1.3, "older", refCable},
	{"brake", 1.5, "", refCable}, {"brake", 1.6, "", refCable},
}

// Cables are all inner cable diameters; the slice is the caller's own.
func Cables() []Cable { return append([]Cable(nil), cables...) }

// HousingOutersMM are the outside diameters of cable housing for a use, from the same pages; none for an unknown use.
func HousingOutersMM(use string) []float64 {
	switch use {
	case "gear":
		return []float64{4, 5}
	case "brake":
		return []float64{5}
	}
	return nil
}

// CableUse says what an inner cable of this diameter is for: "gear", "brake", or "" for none made.
func CableUse(mm float64) string {
	for _, c := range cables {
		if math.Abs(c.MM-mm) < 0.04 {
			return c.Use
		}
	}
	return ""
}

// CablePull is how much cable a lever pulls, or a brake needs, over its travel.
type CablePull struct {
	Part string  `json:"part"`
	MM   float64 `json:"pull_mm"`
	Reference
}

var refPullPage = Reference{"a brake lever and caliper reference page", Practice}

// leverPulls and caliperPulls are the cable travel of levers and what brakes need. They must match: a long-pull lever on a
// short-pull brake stops weakly, the other way round the lever meets the bar first.
var (
	leverPulls = []CablePull{{"direct-pull", 15, refPullPage}, {"cantilever", 7, refPullPage}, {"older road", 7, refPullPage}, {"newer road", 8, refPullPage}}

	caliperPulls = []CablePull{
		{"direct-pull", 15, refPullPage}, {"short-arm direct-pull", 7, refPullPage}, {"cantilever", 7, refPullPage}, {"older road", 7, refPullPage},
		{"newer road", 8, refPullPage}, {"mountain mechanical disc", 15, refPullPage}, {"road mechanical disc", 8, refPullPage},
		{"U-brake", 7, refPullPage}, {"roller", 7, refPullPage},
	}
)

// LeverPulls is how much cable each kind of lever pulls; the slice is the caller's own.
func LeverPulls() []CablePull { return append([]CablePull(nil), leverPulls...) }

// CaliperPulls is how much cable each kind of brake needs; the slice is the caller's own.
func CaliperPulls() []CablePull { return append([]CablePull(nil), caliperPulls...) }
