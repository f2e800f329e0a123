package standard

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Inch is one inch in millimetres, exact by definition since 1959.
const Inch = 25.4

// Unit is the unit that a written length names.
type Unit string

const (
	UnitNone Unit = ""   // a bare decimal: the reader must know from the subject
	UnitMM   Unit = "mm" // millimetres
	UnitInch Unit = "in" // inches; a fraction is always inches in this trade
)

var (
	lengthForm  = regexp.MustCompile(`^(\d+(?:[ -]\d+/\d+)?|\d+/\d+|\d*\.\d+|\d+\.)\s*(mm|cm|m|in|inch|inches|")?$`)
	spacePlain  = regexp.MustCompile(`\s+`)
	commaNumber = regexp.MustCompile(`(\d),(\d)`)
	textPlainer = strings.NewReplacer(
		"×", "x", "✕", "x", "⨯", "x", "*", "x",
		"″", `"`, "”", `"`, "“", `"`, "''", `"`, "′′", `"`,
		"‑", "-", "–", "-", "—", "-", "−", "-",
		"⁄", "/", "\u00a0", " ", "\u202f", " ",
		"¼", " 1/4", "½", " 1/2", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3",
	)
)

// plain brings the many ways to type one size to one: lower case, "x" for every multiplication sign, ASCII dashes,
// quotes and fractions, a point for a decimal comma, single spaces.
func plain(s string) string {
	s = textPlainer.Replace(strings.ToLower(s))
	s = commaNumber.ReplaceAllString(s, "$1.$2")
	return strings.TrimSpace(spacePlain.ReplaceAllString(s, " "))
}

// Plain is a text as the readers of this package see it: lower case, "x" for every multiplication sign, ASCII dashes,
// quotes and fractions, a point for a decimal comma, single spaces. "27,2 MM" is "27.2 mm".
func Plain(s string) string { return plain(s) }

// Fraction reads a bare figure, whole, decimal or with a fraction: "3.97", "5/32", "1 3/8". It reports false for what
// is none.
func Fraction(s string) (float64, bool) { return number(s) }

// ParseLength reads a length: "3.97 mm", "2 cm", "0.15625 in", "5/32", `1 3/8"`, "27¼". A fraction without a unit is
// inches, as everywhere in the trade; a bare decimal is returned as written with [UnitNone], so the caller decides.
// Centimetres and metres come back as millimetres. The value is in the unit returned. The error names the size that the
// text is instead, where it is one.
func ParseLength(s string) (value float64, unit Unit, err error) {
	value, unit, err = length(s)
	if notOne, ok := err.(*ReadingError); ok {
		notOne.Nearest = namesOf(s)
	}
	return value, unit, err
}

// length is [ParseLength] for readers that have their own words for what is no length.
func length(s string) (value float64, unit Unit, err error) {
	const what = "a length"
	if err := checkText(what, s); err != nil {
		return 0, UnitNone, err
	}
	form := lengthForm.FindStringSubmatch(plain(s))
	if form == nil {
		return 0, UnitNone, &ReadingError{What: what, Input: s, Problem: `write a number and a unit, such as 3.97 mm or 5/32 in`}
	}
	value, ok := number(form[1])
	if !ok {
		return 0, UnitNone, &ReadingError{What: what, Input: s, Problem: "the fraction has nothing below the line"}
	}
	switch form[2] {
	case "mm":
		unit = UnitMM
	case "cm":
		value, unit = value*10, UnitMM
	case "m":
		value, unit = value*1000, UnitMM
	case "in", "inch", "inches", `"`:
		unit = UnitInch
	default:
		if strings.Contains(form[1], "/") {
			unit = UnitInch
		}
	}
	return value, unit, nil
}

// number reads "3.97", "5/32", "1 3/8" or "1-3/8". It reports false for what is no finite number.
func number(s string) (float64, bool) {
	whole := 0.0
	s = strings.TrimSpace(s)
	if i := strings.LastIndexAny(s, " -"); i > 0 && strings.Contains(s[i:], "/") {
		w, err := strconv.ParseFloat(strings.TrimSpace(s[:i]), 64)
		if err != nil {
			return 0, false
		}
		whole, s = w, strings.TrimSpace(s[i+1:])
	}
	if above, below, found := strings.Cut(s, "/"); found {
		a, errA := strconv.ParseFloat(above, 64)
		b, errB := strconv.ParseFloat(below, 64)
		if errA != nil || errB != nil || b == 0 {
			return 0, false
		}
		return finite(whole + a/b)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, false
	}
	return finite(whole + v)
}

func finite(v float64) (float64, bool) {
	return v, !math.IsNaN(v) && !math.IsInf(v, 0) && math.Abs(v) < 1e6
}

// trim writes a number without needless zeros: 15, 2.5, 4.7625.
func trim(v float64) string { return strconv.FormatFloat(round(v, 5), 'f', -1, 64) }

func round(v float64, places int) float64 {
	scale := math.Pow10(places)
	return math.Round(v*scale) / scale
}

// fractionOfInch writes an inch size as the trade does, in 32nds or coarser ("5/32", "1 3/8"); ok is false when the
// size is no such fraction.
func fractionOfInch(inches float64) (text string, ok bool) {
	for _, below := range []float64{1, 2, 4, 8, 16, 32} {
		above := inches * below
		if math.Abs(above-math.Round(above)) > 1e-9 || above < 1 {
			continue
		}
		whole := math.Floor(math.Round(above) / below)
		rest := math.Round(above) - whole*below
		switch {
		case rest == 0:
			return trim(whole), true
		case whole == 0:
			return trim(rest) + "/" + trim(below), true
		default:
			return trim(whole) + " " + trim(rest) + "/" + trim(below), true
		}
	}
	return "", false
}
