package standard

import (
	"regexp"
	"strconv"
	"strings"
)

const aBearing = "a bearing designation"

var (
	bearingPrefix = regexp.MustCompile(`^(D/W|WBB1|SS|S|W|FL|F|MR)[ -]?`)
	bearingCore   = regexp.MustCompile(`^(R\d{1,2}A?|\d{2,3}/\d{1,2}|\d{3,6})`)
	miniCode      = regexp.MustCompile(`^MR(\d{2,3})`)
	besideNumber  = regexp.MustCompile(`^(.*\S)[ ([]+(\d[\d.]* ?X ?\d[\d.]* ?X ?\d[\d.]*)(?: ?MM)? ?[)\]]?$`)
	threeNumbers  = regexp.MustCompile(`^([\d.]+) ?x ?([\d.]+) ?x ?([\d.]+)(?: ?mm)?(.*)$`)
)

// ParseBearing reads a bearing designation: "6902", "61902-2RS1", "628/8", "60/22 LLU C3", "R8ZZ", "15267 2RS",
// "MR85", "6902 2RS MAX", or the three sizes "15x28x7 2RS". Spaces, dashes, slashes and case do not matter.
//
// The number is looked up in this order, because "61802" read digit by digit would be 61 × 80 × 2: the table of known
// names first, then the ISO bore-code names the table holds under other spellings, and only then the bicycle
// trade's dimension code (bore, outer, width run together).
//
// Sizes beside the number, "6902-2RS (15x28x7)", must agree with it.
//
// It returns an [AmbiguousError] where a prefix means two things (W, F) and a [ReadingError] for what is no bearing.
func ParseBearing(s string) (Bearing, error) {
	readings, err := bearingReadings(s)
	if err != nil {
		return Bearing{}, err
	}
	return only(aBearing, s, askPrefix(s), readings)
}

// bearingReadings is [ParseBearing] that returns every reading of an ambiguous designation, likeliest first.
func bearingReadings(s string) ([]Bearing, error) {
	if err := checkText(aBearing, s); err != nil {
		return nil, err
	}
	text := strings.ToUpper(plain(s))
	text = strings.ReplaceAll(strings.ReplaceAll(text, " /", "/"), "/ ", "/")
	text = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(text, "BEARINGS"), "BEARING"))
	if form := threeNumbers.FindStringSubmatch(strings.ToLower(text)); form != nil {
		return bearingOfSizes(s, form)
	}
	if form := besideNumber.FindStringSubmatch(text); form != nil {
		return bearingBesideSizes(s, strings.TrimRight(form[1], " ([-:,"), form[2])
	}
	prefix := bearingPrefix.FindString(text)
	body := text[len(prefix):]
	prefix = strings.TrimRight(prefix, " -")
	if prefix == "MR" {
		if b, ok, err := miniBearing(s, text); err != nil {
			return nil, err
		} else if ok {
			return []Bearing{b}, nil
		}
	}
	b, err := readNumber(s, body)
	if err != nil {
		return nil, err
	}
	switch prefix {
	case "SS", "S", "D/W", "WBB1":
		b.Stainless = true
	case "FL":
		b.Flanged = true
	case "F":
		flanged, stainless := b, b
		flanged.Flanged, stainless.Stainless = true, true
		return []Bearing{flanged, stainless}, nil
	case "W":
		// only small bearings are made wider when closed: from 10 mm bore the letter can mean nothing but stainless
		if b.OpenMM == b.ClosedMM {
			b.Stainless = true
			break
		}
		wide, stainless := b, b
		stainless.Stainless = true
		if wide.Seal == SealUnsaid {
			wide.Seal = SealZZ
		}
		return []Bearing{wide, stainless}, nil
	}
	return []Bearing{b}, nil
}

func askPrefix(s string) string {
	switch prefix := strings.ToUpper(strings.TrimSpace(s)); {
	case strings.HasPrefix(prefix, "W"):
		return "W is the wider shielded version with one maker and stainless steel with another; say whose number it is, or measure the width"
	case strings.HasPrefix(prefix, "F"):
		return "F is a flange with many makers and stainless steel with one; look at the outer ring"
	}
	return "more than one size of the table has these dimensions; count the rows of balls"
}

// readNumber reads a designation without its prefix. A known name with the longest run of digits wins, so that
// "60012RS" is 6001-2RS and "63802" is not 638 with a stray 02.
func readNumber(input, body string) (Bearing, error) {
	core := bearingCore.FindString(body)
	if core == "" {
		return Bearing{}, &ReadingError{What: aBearing, Input: input,
			Problem: "it has no bearing number; write the number on the seal (6902-2RS) or bore x outer x width"}
	}
	unread, understood := "", ""
	for end := len(core); end >= 2; end-- {
		size, ok := BearingByName(body[:end])
		if !ok {
			continue
		}
		b := Bearing{BearingSize: size}
		rest := readMarks(body[end:], &b)
		if rest == "" {
			return b, nil
		}
		if understood == "" {
			unread, understood = rest, size.Name
		}
	}
	for _, digits := range []int{5, 6} {
		if len(core) < digits || strings.Contains(core, "/") {
			continue
		}
		size, ok := dimensionCode(body[:digits])
		if !ok {
			continue
		}
		b := Bearing{BearingSize: size}
		if readMarks(body[digits:], &b) == "" {
			return b, nil
		}
	}
	if understood != "" {
		return Bearing{}, &ReadingError{What: aBearing, Input: input,
			Problem: "after " + understood + " the mark " + strconv.Quote(unread) + " is not one this table knows, or it contradicts the mark before it",
			Nearest: []string{understood}}
	}
	return Bearing{}, &ReadingError{What: aBearing, Input: input,
		Problem: "no bearing of the table has the number " + core, Nearest: namesLike(core)}
}

// dimensionCode reads the bicycle trade's run of digits, two for the bore, two for the outer, one or two for the
// width: 15267 is 15 × 26 × 7. Sizes that no radial bearing can have are refused.
func dimensionCode(digits string) (BearingSize, bool) {
	bore, _ := strconv.Atoi(digits[:2])
	outer, _ := strconv.Atoi(digits[2:4])
	width, _ := strconv.Atoi(digits[4:])
	if possibleBearing(float64(bore), float64(outer), float64(width)) != "" {
		return BearingSize{}, false
	}
	s := bicycle(digits, float64(bore), float64(outer), float64(width))
	s.Note = "read from its digits as bore, outer, width; not in any table here"
	if same := sizesOf(s.BoreMM, s.OuterMM, s.OpenMM); len(same) > 0 {
		s.Note = "read from its digits as bore, outer, width; the same envelope as " + same[0].Name
	}
	return s, true
}

// miniBearing reads MR followed by outer and bore ("MR85" is 5 × 8). It is not ok for MR with a bicycle code or an
// ISO number behind it, where MR is only somebody's prefix. The width is not in the name: an MR size that is not in
// the table is an error that says so.
func miniBearing(input, text string) (Bearing, bool, error) {
	form := miniCode.FindStringSubmatch(text)
	rest := strings.TrimPrefix(text, "MR")
	if form == nil || (len(bearingCore.FindString(rest)) > 3) {
		return Bearing{}, false, nil
	}
	code := form[1]
	size, known := BearingByName("MR" + code)
	if !known {
		outer, _ := strconv.Atoi(code[:len(code)-1])
		bore, _ := strconv.Atoi(code[len(code)-1:])
		if bore == 0 || outer <= bore {
			return Bearing{}, false, nil
		}
		return Bearing{}, true, &ReadingError{What: aBearing, Input: input,
			Problem: "MR" + code + " is bore " + strconv.Itoa(bore) + " mm and outer " + strconv.Itoa(outer) +
				" mm, but its width is not in the name; measure it and write bore x outer x width"}
	}
	b := Bearing{BearingSize: size}
	if unread := readMarks(text[len("MR")+len(code):], &b); unread != "" {
		return Bearing{}, true, &ReadingError{What: aBearing, Input: input,
			Problem: "the mark " + strconv.Quote(unread) + " is not one this table knows", Nearest: []string{"MR" + code}}
	}
	return b, true, nil
}

// bearingOfSizes reads "15x28x7 2RS": the table's sizes with that envelope.
func bearingOfSizes(input string, form []string) ([]Bearing, error) {
	var mm [3]float64
	for i := range mm {
		v, ok := number(form[i+1])
		if !ok {
			return nil, &ReadingError{What: aBearing, Input: input, Problem: "write the three sizes as numbers: 15x28x7"}
		}
		mm[i] = v
	}
	if why := possibleBearing(mm[0], mm[1], mm[2]); why != "" {
		return nil, &ReadingError{What: aBearing, Input: input, Problem: why, Nearest: envelopesLike(mm[0], mm[1], mm[2])}
	}
	var marks Bearing
	if unread := readMarks(strings.ToUpper(form[4]), &marks); unread != "" {
		return nil, &ReadingError{What: aBearing, Input: input, Problem: "the mark " + strconv.Quote(unread) + " is not one this table knows"}
	}
	var readings []Bearing
	for _, size := range sizesOf(mm[0], mm[1], mm[2]) {
		b := marks
		b.BearingSize = size
		if width, known := b.WidthMM(); known && width != mm[2] {
			continue
		}
		readings = append(readings, b)
	}
	if len(readings) == 0 {
		return nil, &ReadingError{What: aBearing, Input: input, Problem: "no size of the table has these three dimensions",
			Nearest: envelopesLike(mm[0], mm[1], mm[2])}
	}
	return readings, nil
}

// bearingBesideSizes reads a number with its three sizes beside it, and refuses the pair when they disagree.
func bearingBesideSizes(input, number, sizes string) ([]Bearing, error) {
	readings, err := bearingReadings(number)
	if err != nil {
		return nil, err
	}
	form := threeNumbers.FindStringSubmatch(strings.ToLower(sizes))
	var mm [3]float64
	for i := range mm {
		if mm[i], err = strconv.ParseFloat(form[i+1], 64); err != nil {
			return nil, &ReadingError{What: aBearing, Input: input, Problem: "write the three sizes as numbers: 15x28x7"}
		}
	}
	if err := checkBearing(number, mm[0], mm[1], mm[2]); err != nil {
		return nil, &ReadingError{What: aBearing, Input: input, Problem: "the number and the sizes beside it disagree: " + err.Error()}
	}
	return readings, nil
}

// possibleBearing says why three sizes cannot be a radial bearing, or "" if they can.
func possibleBearing(bore, outer, width float64) string {
	switch {
	case bore <= 0 || outer <= 0 || width <= 0:
		return "bore, outer and width must all be more than nothing"
	case bore >= outer:
		return "the bore (" + trim(bore) + ") must be smaller than the outer (" + trim(outer) + "); are they the wrong way round?"
	case outer > 300 || bore < 1:
		return "no bicycle has a bearing of that size; were inches or tenths read as millimetres?"
	case width >= 2*(outer-bore):
		return "a radial bearing is narrower than that: width " + trim(width) + " on rings only " + trim((outer-bore)/2) + " mm deep"
	}
	return ""
}

// sizesOf returns the sizes with exactly this bore and outer, and this width either open or closed.
func sizesOf(bore, outer, width float64) []BearingSize {
	var same []BearingSize
	for _, s := range bearingSizes {
		if s.BoreMM == bore && s.OuterMM == outer && (s.OpenMM == width || s.ClosedMM == width) {
			same = append(same, s)
		}
	}
	return same
}
