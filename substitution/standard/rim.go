package standard

import (
	"fmt"
	"regexp"
	"strconv"
)

// Rim is a rim size in ISO 5775-2 terms: bead seat diameter and the width inside the hooks.
type Rim struct {
	BeadMM  int     `json:"bead_mm"`
	InnerMM float64 `json:"inner_width_mm"`
}

// String is the ISO form, "622x19C"; [ParseRim] reads it back.
func (r Rim) String() string { return fmt.Sprintf("%dx%sC", r.BeadMM, trim(r.InnerMM)) }

var rimForm = regexp.MustCompile(`^(\d{3}) ?x ?(\d{2}(?:\.\d+)?) ?c?$`)

// ParseRim reads "622x19C" or "622 x 19": bead seat and inner width.
func ParseRim(s string) (Rim, error) {
	const what = "a rim size"
	if err := checkText(what, s); err != nil {
		return Rim{}, err
	}
	form := rimForm.FindStringSubmatch(plain(s))
	if form == nil {
		return Rim{}, &ReadingError{What: what, Input: s, Problem: "write bead seat x inner width, such as 622x19C"}
	}
	bead, _ := strconv.Atoi(form[1])
	if _, known := BeadSeatByMM(bead); !known {
		return Rim{}, &ReadingError{What: what, Input: s, Problem: "a bead seat of " + form[1] + " mm is not in my list", Nearest: beadsNear(form[1])}
	}
	inner, _ := number(form[2])
	if inner < 11 {
		return Rim{}, &ReadingError{What: what, Input: s, Problem: form[2] + " mm wide inside is less than the rims in my list"}
	}
	return Rim{BeadMM: bead, InnerMM: inner}, nil
}

// RimList names one of the two published lists of tyre widths for a rim, which disagree for rims of 17 mm and more.
type RimList string

const (
	Before2006 RimList = "ETRTO before 2006"
	From2006   RimList = "ETRTO 2006 extended"
)

// TyreRange is the tyre widths that a list allows on a rim.
type TyreRange struct {
	RimMM int     `json:"rim_inner_mm"`
	List  RimList `json:"list"`
	MinMM int     `json:"min_tyre_mm"`
	MaxMM int     `json:"max_tyre_mm"`
	Reference
}

var (
	refRimOld  = Reference{"ETRTO list before 2006, as two reference pages print it", Practice}
	refRimNew  = Reference{"ETRTO 2006 list, as one reference page prints it", Practice}
	refRimRows = fromMemory("ETRTO 2006 list, a row whose columns were lost in the copy and reconstructed")
)

var tyreRanges = []TyreRange{
	{13, Before2006, 18, 25, refRimOld}, {13, From2006, 18, 25, refRimNew},
	{15, Before2006, 23, 32, refRimOld}, {15, From2006, 23, 32, refRimNew},
	{17, Before2006, 25, 37, refRimOld}, {17, From2006, 25, 50, refRimNew},
	{19, Before2006, 28, 47, refRimOld}, {19, From2006, 28, 62, refRimNew},
	{21, Before2006, 35, 50, refRimOld}, {21, From2006, 35, 62, refRimNew},
	{23, Before2006, 37, 50, refRimRows}, {23, From2006, 37, 62, refRimRows},
	{25, Before2006, 44, 60, refRimRows}, {25, From2006, 44, 62, refRimRows},
	{27, From2006, 47, 62, refRimRows}, {29, From2006, 54, 62, refRimRows},
}

// TyreRanges are all rows of both lists; the slice is the caller's own.
func TyreRanges() []TyreRange { return append([]TyreRange(nil), tyreRanges...) }

// MeasuringRimMM is the inside width of the rim on which a tyre of a nominal width is measured since January 2020; a tyre
// holds on its own measuring rim. False for widths that no row has.
func MeasuringRimMM(tyreMM int) (float64, bool) {
	for _, row := range measuringRims {
		if tyreMM >= row[0] && tyreMM <= row[1] {
			return float64(row[2]), true
		}
	}
	return 0, false
}

// measuringRims: from, to, rim. A tyre maker's page "2020 ETRTO standards for bike tires".
var measuringRims = [][3]int{{18, 21, 15}, {22, 24, 17}, {25, 28, 19}, {29, 34, 21}, {35, 46, 23}, {47, 57, 25}, {58, 65, 30}, {66, 71, 35}, {72, 83, 45}, {84, 113, 76}, {114, 132, 94}}
