package standard

import (
	"fmt"
	"math"
	"regexp"
)

// ThruAxle is a thru-axle. Diameter, hub width (OLN) and thread pitch must agree; the length over all is not standard.
type ThruAxle struct {
	DiameterMM float64 `json:"diameter_mm"`
	OLNMM      float64 `json:"oln_mm"`             // over-locknut width of the hub, between the dropouts
	PitchMM    float64 `json:"pitch_mm,omitempty"` // absent when not written
	LengthMM   float64 `json:"length_mm,omitempty"`
}

// String is "12x142 P1.5"; [ParseThruAxle] reads it back.
func (a ThruAxle) String() string {
	text := trim(a.DiameterMM) + "x" + trim(a.OLNMM)
	if a.PitchMM != 0 {
		text += " P" + trim(a.PitchMM)
	}
	if a.LengthMM != 0 {
		text += " L" + trim(a.LengthMM)
	}
	return text
}

// Key is the vocabulary's form, DIAMETERxOLN: "12x142".
func (a ThruAxle) Key() string { return trim(a.DiameterMM) + "x" + trim(a.OLNMM) }

var (
	axleForm  = regexp.MustCompile(`^(\d{1,2}) ?(?:mm)? ?x ?(\d{2,3})(?: ?mm)?((?: ?,? ?(?:p|m ?\d{2} ?x|x|l|pitch|length) ?\d+(?:\.\d+)?(?: ?mm)?)*)$`)
	axlePitch = regexp.MustCompile(`(?:p|pitch|x) ?(\d+(?:\.\d+)?)`)
	axleLong  = regexp.MustCompile(`(?:l|length) ?(\d+(?:\.\d+)?)`)
)

// AxleWidth is a hub width in use, with the axle diameters that go with it.
type AxleWidth struct {
	OLNMM       float64   `json:"oln_mm"`
	DiametersMM []float64 `json:"thru_axle_mm,omitempty"` // thru-axle diameters; absent where only quick release or nuts are used
	Use         string    `json:"use"`
	Reference   `json:"reference"`
}

var refOLN = Reference{"hub spacing reference pages", Practice}

var axleWidths = []AxleWidth{
	{93, nil, "utility front", refOLN}, {100, []float64{12, 15}, "front", refOLN}, {110, []float64{12, 15}, "boost front; small-wheel rear", refOLN},
	{120, nil, "5-speed rear, track", refOLN}, {126, nil, "6- and 7-speed rear", refOLN}, {130, nil, "road rim-brake rear", refOLN},
	{135, []float64{12}, "mountain and disc quick-release rear", refOLN}, {141, nil, "boost quick-release rear", refOLN},
	{142, []float64{12}, "disc rear", refOLN}, {148, []float64{12}, "boost rear", refOLN}, {150, []float64{12}, "older downhill rear", refOLN},
	{157, []float64{12}, "wide boost rear", refOLN},
}

// AxleWidths are all hub widths, narrowest first; the slice is the caller's own.
func AxleWidths() []AxleWidth { return append([]AxleWidth(nil), axleWidths...) }

// thruPitches are the pitches of 12 and 15 mm thru-axles in use.
var thruPitches = []float64{1, 1.5, 1.75}

// ParseThruAxle reads "12x142 P1.5", "15 x 100 mm", "12x142 P1.0 L163", "12 x 148 M12x1.75". A pitch or width that no
// thru-axle has is an error.
func ParseThruAxle(s string) (ThruAxle, error) {
	const what = "a thru-axle"
	if err := checkText(what, s); err != nil {
		return ThruAxle{}, err
	}
	form := axleForm.FindStringSubmatch(plain(s))
	if form == nil {
		return ThruAxle{}, &ReadingError{What: what, Input: s, Problem: "write diameter x hub width and the thread pitch: 12x142 P1.5"}
	}
	var a ThruAxle
	a.DiameterMM, _ = number(form[1])
	a.OLNMM, _ = number(form[2])
	if p := axlePitch.FindStringSubmatch(form[3]); p != nil {
		a.PitchMM, _ = number(p[1])
	}
	if l := axleLong.FindStringSubmatch(form[3]); l != nil {
		a.LengthMM, _ = number(l[1])
	}
	var widths []string
	listed := false
	for _, w := range axleWidths {
		listed = listed || w.OLNMM == a.OLNMM
		if math.Abs(w.OLNMM-a.OLNMM) <= 8 {
			widths = append(widths, trim(w.OLNMM))
		}
	}
	switch {
	case a.DiameterMM != 9 && a.DiameterMM != 10 && a.DiameterMM != 12 && a.DiameterMM != 15 && a.DiameterMM != 20:
		return ThruAxle{}, &ReadingError{What: what, Input: s, Problem: "axles are 9, 10, 12, 15 or 20 mm thick, not " + form[1]}
	case !listed:
		return ThruAxle{}, &ReadingError{What: what, Input: s, Problem: fmt.Sprintf("a hub width of %s mm is not in my list", form[2]), Nearest: widths}
	case a.PitchMM != 0 && !holds(thruPitches, a.PitchMM):
		return ThruAxle{}, &ReadingError{What: what, Input: s, Problem: "thru-axle threads have a pitch of 1.0, 1.5 or 1.75 mm"}
	case a.LengthMM != 0 && (a.LengthMM <= a.OLNMM || a.LengthMM > a.OLNMM+70):
		return ThruAxle{}, &ReadingError{What: what, Input: s, Problem: "an axle is 20 to 30 mm longer than the hub is wide, and the length says otherwise"}
	}
	return a, nil
}

func holds(list []float64, v float64) bool {
	for _, x := range list {
		if math.Abs(x-v) < 1e-9 {
			return true
		}
	}
	return false
}
