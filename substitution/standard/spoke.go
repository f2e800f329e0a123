package standard

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Spoke is a spoke's wire: the diameter at the elbow, in the middle and at the thread.
type Spoke struct {
	ElbowMM  float64 `json:"elbow_mm"`
	MiddleMM float64 `json:"middle_mm"`
	EndMM    float64 `json:"end_mm"` // the wire at the threaded end, which decides the nipple
}

// Butted reports whether the wire is not one thickness throughout.
func (s Spoke) Butted() bool { return s.ElbowMM != s.MiddleMM || s.MiddleMM != s.EndMM }

// String is "2", "2/1.8" for a spoke butted at the elbow only, or "2/1.8/2"; [ParseSpoke] reads it back.
func (s Spoke) String() string {
	switch {
	case !s.Butted():
		return trim(s.ElbowMM) + " mm"
	case s.MiddleMM == s.EndMM:
		return "SB " + trim(s.ElbowMM) + "/" + trim(s.MiddleMM)
	case s.ElbowMM == s.EndMM:
		return "DB " + trim(s.ElbowMM) + "/" + trim(s.MiddleMM)
	}
	return trim(s.ElbowMM) + "/" + trim(s.MiddleMM) + "/" + trim(s.EndMM)
}

// Gauge is a wire gauge number and its diameter.
type Gauge struct {
	Number int     `json:"gauge"`
	MM     float64 `json:"gauge_mm"`
	Reference
}

var refGauge = Reference{"US and British spoke gauges, two reference pages", Practice}

var gauges = []Gauge{{12, 2.6, refGauge}, {13, 2.3, refGauge}, {14, 2.0, refGauge}, {15, 1.8, refGauge}, {16, 1.6, refGauge}, {17, 1.4, refGauge}}

// Gauges are all spoke gauges; the slice is the caller's own.
func Gauges() []Gauge { return append([]Gauge(nil), gauges...) }

// frenchGauge are the French numbers, which run the other way: the thicker the wire, the higher. Only two are published.
var frenchGauge = map[int]float64{13: 2.0, 15: 2.3}

// SpokeThread is the rolled thread (DIN 79012) on wire of a diameter: the thread is the next size up from the wire, so a
// nipple for 2.0 mm spokes is FG 2.3.
func SpokeThread(wireMM float64) (Thread, bool) {
	size, ok := map[float64]float64{1.6: 1.8, 1.8: 2.0, 2.0: 2.3, 2.3: 2.6}[wireMM]
	return fg(size), ok
}

var spokeForm = regexp.MustCompile(`^(sb|db|tb|single butted|double butted|triple butted|plain|pg)?:? ?((?:\d+(?:\.\d+)?)(?: ?[/-] ?\d+(?:\.\d+)?){0,2}) ?(mm|g|ga|gauge)?\.?$`)

// ParseSpoke reads a spoke's wire: "14g", "2.0 mm", "DB 2.0/1.8", "2.0/1.8/2.0", "14/15g", "14-15-14". Two figures are the
// elbow and the middle; with SB the end is as thin as the middle, otherwise as thick as the elbow. The French
// numbers ("French 13") run the other way, and only 13 and 15 are published.
func ParseSpoke(s string) (Spoke, error) {
	const what = "a spoke size"
	if err := checkText(what, s); err != nil {
		return Spoke{}, err
	}
	text := plain(s)
	french := strings.HasPrefix(text, "french ")
	form := spokeForm.FindStringSubmatch(strings.TrimPrefix(text, "french "))
	if form == nil {
		return Spoke{}, &ReadingError{What: what, Input: s, Problem: "write a gauge or millimetres: 14g, 2.0 mm, DB 2.0/1.8"}
	}
	var wires []float64
	for _, figure := range strings.FieldsFunc(form[2], func(r rune) bool { return r == '/' || r == '-' || r == ' ' }) {
		mm, err := wire(s, figure, form[3], french)
		if err != nil {
			return Spoke{}, err
		}
		wires = append(wires, mm)
	}
	switch single := strings.HasPrefix(form[1], "s"); {
	case len(wires) == 3:
		return Spoke{wires[0], wires[1], wires[2]}, nil
	case len(wires) == 2 && wires[1] > wires[0] && !single:
		return Spoke{}, &ReadingError{What: what, Input: s, Problem: "a spoke is thicker at the elbow than in the middle; were the figures turned round?"}
	case len(wires) == 2 && single:
		return Spoke{wires[0], wires[1], wires[1]}, nil
	case len(wires) == 2:
		return Spoke{wires[0], wires[1], wires[0]}, nil
	}
	if strings.HasSuffix(form[1], "b") || strings.HasSuffix(form[1], "butted") {
		return Spoke{}, &ReadingError{What: what, Input: s, Problem: "a butted spoke needs two figures: DB 2.0/1.8"}
	}
	return Spoke{wires[0], wires[0], wires[0]}, nil
}

// wire turns one figure into millimetres: a whole number from 12 on is a gauge, anything under 3.5 is millimetres.
func wire(input, figure, unit string, french bool) (float64, error) {
	const what = "a spoke size"
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil {
		return 0, &ReadingError{What: what, Input: input, Problem: "write a gauge or millimetres: 14g, 2.0 mm"}
	}
	isGauge := unit != "mm" && v >= 12 && v == math.Trunc(v)
	if french {
		if mm, ok := frenchGauge[int(v)]; ok && isGauge {
			return mm, nil
		}
		return 0, &ReadingError{What: what, Input: input, Problem: "French gauges run the other way and only 13 (2.0 mm) and 15 (2.3 mm) are published; measure the wire"}
	}
	if isGauge {
		for _, g := range gauges {
			if float64(g.Number) == v {
				return g.MM, nil
			}
		}
		return 0, &ReadingError{What: what, Input: input, Problem: "spoke gauges run from 12 (2.6 mm) to 17 (1.4 mm)"}
	}
	if v < 0.8 || v > 3.5 {
		return 0, &ReadingError{What: what, Input: input, Problem: "a spoke's wire is between 0.8 and 3.5 mm thick; is it a length?"}
	}
	return v, nil
}

// SpokeLengthMM is the length of a spoke: rim (ERD) and flange circle as diameters, flange to hub middle, spokes in the
// wheel, how many it crosses, and what to take off for the hole (half the hub hole's diameter by the published
// formula). Wheel-building pages print worked examples; see the tests.
func SpokeLengthMM(erdMM, flangeMM, offsetMM float64, spokes, crosses int, holeMM float64) float64 {
	rim, flange := erdMM/2, flangeMM/2
	angle := 4 * math.Pi * float64(crosses) / float64(spokes)
	return math.Sqrt(rim*rim+flange*flange+offsetMM*offsetMM-2*rim*flange*math.Cos(angle)) - holeMM/2
}
