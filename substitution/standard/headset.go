package standard

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// HeadsetEnd is one end of a headset in the open headset code: how it sits in the frame, the frame's bore, and the
// diameter of what passes through or sits on it.
type HeadsetEnd struct {
	Type   string  `json:"type"`    // EC pressed external cup, ZS pressed cup inside the head tube, IS bearing straight in the frame
	BoreMM float64 `json:"bore_mm"` // nominal: the head tube's bore for EC and ZS, the bearing seat for IS
	SeatMM float64 `json:"seat_mm"` // upper end: the steerer at the stem clamp; lower end: the crown-race seat of the fork
}

// String is the code of one end, "EC34/28.6"; [ParseHeadsetEnd] reads it back.
func (e HeadsetEnd) String() string { return e.Type + trim(e.BoreMM) + "/" + trim(e.SeatMM) }

var headsetEnd = regexp.MustCompile(`^(?:upper|lower|top|bottom)? ?(ec|zs|is) ?(\d{2}(?:\.\d+)?) ?[/|, -] ?(\d{2}(?:\.\d+)?)(?: ?mm)?(?: upper| lower| top| bottom)?\|?$`)
var headsetEnds = regexp.MustCompile(`(ec|zs|is) ?\d{2}(?:\.\d+)?(?: ?/ ?\d{2}(?:\.\d+)?)?`)

// ParseHeadsetEnd reads one end: "EC34/28.6". An end without its second number is an error: the bore alone does not
// say which fork goes with it.
func ParseHeadsetEnd(s string) (HeadsetEnd, error) {
	const what = "one end of a headset code"
	if err := checkText(what, s); err != nil {
		return HeadsetEnd{}, err
	}
	text := plain(s)
	form := headsetEnd.FindStringSubmatch(text)
	if form == nil {
		problem := "write type, bore and seat: EC34/28.6 above, ZS44/30 below"
		if headsetEnds.FindString(text) == text {
			problem = "the second number is missing: the steerer's diameter above, the crown-race seat below"
		}
		return HeadsetEnd{}, &ReadingError{What: what, Input: s, Problem: problem}
	}
	end := HeadsetEnd{Type: strings.ToUpper(form[1])}
	end.BoreMM, _ = strconv.ParseFloat(form[2], 64)
	end.SeatMM, _ = strconv.ParseFloat(form[3], 64)
	switch {
	case end.BoreMM < 28 || end.BoreMM > 65:
		return HeadsetEnd{}, &ReadingError{What: what, Input: s, Problem: "a head tube's bore of " + form[2] + " mm is not in my list"}
	case end.SeatMM < 22 || end.SeatMM >= end.BoreMM+12:
		return HeadsetEnd{}, &ReadingError{What: what, Input: s, Problem: "a seat of " + form[3] + " mm does not go with that bore"}
	}
	return end, nil
}

// Steerer is a fork steerer with the crown-race seat that goes with it.
type Steerer struct {
	Name      string  `json:"name"`
	SteererMM float64 `json:"steerer_mm"`
	CrownMM   float64 `json:"crown_mm"`              // as the open headset code writes it
	SeatMM    float64 `json:"seat_mm,omitempty"`     // the seat as it is really cut, where that differs
	CupMM     float64 `json:"cup_mm,omitempty"`      // outside of the pressed cup, for the 1 inch sizes
	BoreMinMM float64 `json:"bore_min_mm,omitempty"` // head-tube bore as specified, for the 1 inch sizes
	BoreMaxMM float64 `json:"bore_max_mm,omitempty"`
	Reference
}

var refOneInch = Reference{"a headset maker's specification guide for the bores, a Japanese workshop note for cup and crown race", Practice}

// The code writes whole millimetres: 33 for a seat of 33.06, 40 for one of 39.8.
var (
	refCrown33 = Reference{"a headset maker's guide as a forum quotes it: a seat of 33.06 mm, which the code writes 33", Catalogue}
	refCrown40 = Reference{"a tool maker's page on reading the open headset code; seats read 39.8 to 40.0", Handbook}
)

var steerers = []Steerer{
	{"1 inch JIS", 25.4, 27.0, 0, 30.0, 29.85, 29.90, refOneInch},
	{"1 inch ISO", 25.4, 26.4, 0, 30.2, 30.05, 30.10, refOneInch},
	{"1 inch, older national size", 25.4, 26.7, 0, 0, 0, 0, fromMemory("older 1 inch crown race")},
	{"1 1/8 inch", 28.6, 30.0, 0, 0, 0, 0, Reference{"owners' measurements on reference pages", Practice}},
	{"1 1/4 inch", 31.8, 33.0, 33.06, 0, 0, 0, refCrown33},
	{"tapered, 33 mm crown race", 28.6, 33.0, 33.06, 0, 0, 0, refCrown33},
	{"tapered, 40 mm crown race", 28.6, 40.0, 39.8, 0, 0, 0, refCrown40},
}

// crownSeats are the seats that one code or reading means: the code writes whole millimetres, 26 for 26.4 and 40 for the
// 39.8 of the 1.5 inch seat; real seats of 30 read 29.9 to 30.15 and that of 33 is 33.06.
var crownSeats = [][][2]float64{
	{{26, 26}, {26.3, 26.55}}, {{26.6, 26.8}}, {{26.85, 27.15}}, {{29.85, 30.15}}, {{32.9, 33.15}}, {{39.7, 40.1}},
}

// SameCrownSeat reports whether two readings of a crown race, off a code or by a caliper, mean one seat.
func SameCrownSeat(a, b float64) bool {
	class := func(x float64) int {
		for i, spans := range crownSeats {
			for _, span := range spans {
				if x >= span[0]-1e-9 && x <= span[1]+1e-9 {
					return i
				}
			}
		}
		return -1
	}
	if i, j := class(a), class(b); i >= 0 || j >= 0 {
		return i == j
	}
	return math.Abs(a-b) <= 0.15
}

// Steerers are all rows; the slice is the caller's own.
func Steerers() []Steerer { return append([]Steerer(nil), steerers...) }
