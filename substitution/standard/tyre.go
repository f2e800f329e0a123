package standard

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Tyre is a tyre size in ISO 5775 terms: nominal section width and bead seat diameter.
type Tyre struct {
	WidthMM  int    `json:"width_mm"`
	BeadMM   int    `json:"bead_mm"`
	FromInch bool   `json:"width_from_inches,omitempty"` // the width was worked out from an inch name and may be a few mm off what is moulded on the tyre
	Name     string `json:"name,omitempty"`              // the inch or French name as read; absent for the ISO form
	Reference
}

// String is the ISO 5775 form, "28-622"; [ParseTyre] reads it back.
func (t Tyre) String() string { return fmt.Sprintf("%02d-%d", t.WidthMM, t.BeadMM) }

var (
	isoTyre   = regexp.MustCompile(`\b(\d{1,3}) ?[-/] ?(\d{3})\b`)
	inchTyre  = regexp.MustCompile(`^(\d{2}(?:\.5)?|12 1/2|27 1/2) ?(?:"|in|inch)? ?x ?(\d(?:\.\d+)?|\d[ -]\d/\d) ?(?:"|in|inch)?$`)
	oldTyre   = regexp.MustCompile(`^\d{2} ?x ?\d \d/\d ?x ?\d(?: \d/\d)?$`) // 28 x 1 5/8 x 1 3/8: the middle figure is the height
	metTyre   = regexp.MustCompile(`^(\d{3}) ?([abc])? ?x ?(\d{2,3}) ?(?:mm)? ?([abc])?$`)
	tyreNoise = regexp.MustCompile(`\b(tyre|tire|etrto|iso)\b:?`)
	tyreMarks = strings.NewReplacer("(", " ", ")", " ", ",", " ", "[", " ", "]", " ")
)

var refISO5775 = Reference{"ISO 5775-1 designation", Published}

// ParseTyre reads a tyre size: "28-622", "700 x 28C", "26 x 1.95", "27 x 1¼", "20x1 3/8", "29x2.25", "650B x 47", or an inch
// name with the ISO form beside it, "26 x 1.95 (53-559)", where the ISO figures are taken and must agree with the
// name. A name that means several bead seats ("24 x 1") is an [AmbiguousError]; readings known only from memory count
// only when there is no other (see [tyreReadings] for all of them).
func ParseTyre(s string) (Tyre, error) {
	readings, err := tyreReadings(s)
	if err != nil {
		return Tyre{}, err
	}
	var firm []Tyre
	for _, r := range readings {
		if r.Confidence.Firm() {
			firm = append(firm, r)
		}
	}
	if len(firm) == 0 {
		firm = readings
	}
	return only(aTyre, s, askSidewall, firm)
}

const aTyre = "a tyre size"

// tyreReadings is [ParseTyre] that returns every reading, likeliest first.
func tyreReadings(s string) ([]Tyre, error) {
	if err := checkText(aTyre, s); err != nil {
		return nil, err
	}
	text := plain(tyreMarks.Replace(tyreNoise.ReplaceAllString(plain(s), " ")))
	name := text
	var iso *Tyre
	if at := isoTyre.FindStringSubmatchIndex(text); at != nil {
		width, _ := strconv.Atoi(text[at[2]:at[3]])
		bead, _ := strconv.Atoi(text[at[4]:at[5]])
		if _, known := BeadSeatByMM(bead); known {
			if width < 16 || width > 130 {
				return nil, &ReadingError{What: aTyre, Input: s, Problem: "a tyre " + strconv.Itoa(width) + " mm wide is beyond those in my list"}
			}
			iso = &Tyre{WidthMM: width, BeadMM: bead, Reference: refISO5775}
			name = strings.Trim(plain(text[:at[0]]+" "+text[at[1]:]), " -/;:")
		} else if _, swapped := BeadSeatByMM(width); !swapped {
			return nil, &ReadingError{What: aTyre, Input: s, Problem: "a bead seat of " + strconv.Itoa(bead) + " mm is not in my list", Nearest: beadsNear(strconv.Itoa(bead))}
		}
	}
	if iso != nil && (name == "" || oldTyre.MatchString(name)) {
		return []Tyre{*iso}, nil
	}
	if oldTyre.MatchString(name) {
		return nil, &ReadingError{What: aTyre, Input: s, Problem: "the old name in three parts does not settle the bead seat; read the two figures joined by a dash on the sidewall"}
	}
	named, err := namedTyre(s, name)
	if err != nil || iso == nil {
		return named, err
	}
	for _, t := range named {
		if t.BeadMM == iso.BeadMM {
			iso.Name = t.Name
			return []Tyre{*iso}, nil
		}
	}
	return nil, &ReadingError{What: aTyre, Input: s,
		Problem: fmt.Sprintf("the name means a bead seat of %d but the figures say %d; read the sidewall again", named[0].BeadMM, iso.BeadMM),
		Nearest: []string{iso.String(), named[0].String()}}
}

// namedTyre reads a size in inches or in the French way.
func namedTyre(input, name string) ([]Tyre, error) {
	if form := metTyre.FindStringSubmatch(name); form != nil {
		return frenchTyre(input, form)
	}
	form := inchTyre.FindStringSubmatch(name)
	if form == nil {
		problem := "write it as on the sidewall: 28-622, 700 x 28C or 26 x 1.95"
		if bead, err := ParseBead(name); err == nil {
			problem = "it names the wheel (bead seat " + bead.String() + ") but not the width"
		}
		return nil, &ReadingError{What: aTyre, Input: input, Problem: problem}
	}
	wheel := strings.Replace(form[1], " 1/2", ".5", 1)
	width := strings.Replace(form[2], "-", " ", 1)
	inches, _ := number(width)
	if inches < 0.7 || inches > 5.2 {
		return nil, &ReadingError{What: aTyre, Input: input, Problem: "a tyre " + form[2] + " inches wide is beyond those in my list"}
	}
	decimal := strings.Contains(width, ".")
	var readings []Tyre
	for _, w := range wheelNames {
		if w.wheel != wheel {
			continue
		}
		for _, known := range w.widths {
			if known == width || known == "decimal" && decimal {
				readings = append(readings, Tyre{WidthMM: int(math.Round(inches * Inch)), BeadMM: w.bead, FromInch: true,
					Name: wheel + " x " + width, Reference: w.ref})
			}
		}
	}
	if len(readings) > 0 {
		return readings, nil
	}
	var near []string
	for _, w := range wheelNames {
		if w.wheel == wheel {
			for _, known := range w.widths {
				near = append(near, nameOfWheel(wheel, known)+" ("+strconv.Itoa(w.bead)+")")
			}
		}
	}
	return nil, &ReadingError{What: aTyre, Input: input,
		Problem: "an inch name with this width is not in the table; a decimal and a fraction of the same width are different tyres", Nearest: near}
}

func frenchTyre(input string, form []string) ([]Tyre, error) {
	letter := form[2] + form[4]
	if len(letter) > 1 {
		letter = form[2]
		if form[2] != form[4] {
			return nil, &ReadingError{What: aTyre, Input: input, Problem: "it has two different letters"}
		}
	}
	width, _ := strconv.Atoi(form[3])
	if width < 16 || width > 130 {
		return nil, &ReadingError{What: aTyre, Input: input, Problem: "a tyre " + form[3] + " mm wide is beyond those in my list"}
	}
	var readings []Tyre
	for _, w := range wheelNames {
		if w.wheel != form[1] {
			continue
		}
		for _, known := range w.widths {
			if known == letter || letter == "" && len(known) == 1 && known >= "a" {
				readings = append(readings, Tyre{WidthMM: width, BeadMM: w.bead, Name: w.wheel + strings.ToUpper(known) + " x " + form[3], Reference: w.ref})
				break
			}
		}
	}
	if len(readings) == 0 {
		return nil, &ReadingError{What: aTyre, Input: input, Problem: "no wheel of the table is called " + form[1] + strings.ToUpper(letter)}
	}
	return readings, nil
}

// OuterISO is the outside diameter of a fitted tyre by ISO 5775-1: bead seat plus twice the height, which is the width,
// or the width and 2.5 mm more for tyres narrower than 28 mm.
func (t Tyre) OuterISO() float64 {
	height := float64(t.WidthMM)
	if t.WidthMM < 28 {
		height += 2.5
	}
	return float64(t.BeadMM) + 2*height
}

// OuterSimple is the outside diameter as most tables print it: bead seat plus twice the width, whatever the width. For
// tyres under 28 mm it is 5 mm less than [Tyre.OuterISO].
func (t Tyre) OuterSimple() float64 { return float64(t.BeadMM + 2*t.WidthMM) }
