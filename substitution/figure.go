package substitution

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"stead/substitution/standard"
)

// figure reads the number of a dimension as a person types it: "27.2mm", "27,2", "1 1/8", "5/32", "34T", "-6°", "14g".
func (d Dimension) figure(text string) (float64, error) {
	if x, err := strconv.ParseFloat(text, 64); err == nil && d.plainly(x) {
		return x, nil
	}
	plain := standard.Plain(text)
	if x, ok := d.bySize(plain); ok {
		return x, nil
	}
	form := figureForm.FindStringSubmatch(plain)
	if form == nil {
		return 0, d.notOne(text, plain)
	}
	x, ok := standard.Fraction(strings.TrimLeft(form[2], "+-"))
	if !ok || strings.Contains(form[2], "/") && !d.takesFraction(form[2]) {
		return 0, d.notOne(text, plain)
	}
	unit, inches := strings.Trim(form[3], " -."), strings.Contains(form[2], "/")
	scale, known := d.scale(unit)
	switch {
	case !known:
		return 0, d.notOne(text, plain)
	case d.Name == "bead_mm" && (inches || isInch(unit)): // a wheel's name, not its bead seat
		return 0, d.notOne(text, plain)
	case strings.HasSuffix(d.Name, "_mm") && (inches && unit == "" || isInch(unit)):
		x = d.fromInches(x)
	default:
		x = math.Round(x*scale*1e6) / 1e6 // 2.72 cm is 27.2 mm and not a hair more
	}
	if form[1] == "-" {
		x = -x
	}
	return x, nil
}

var figureForm = regexp.MustCompile(`^([+-]|\+/-|±)? ?(\d+ \d+/\d+|\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)( ?-? ?[a-z"'°]*(?: [a-z]+)?\.?)$`)

// plainly tells whether a bare figure can be meant as it stands. A gauge number stands for a wire that is thinner.
func (d Dimension) plainly(x float64) bool {
	return !math.IsInf(x, 0) && !math.IsNaN(x) && !(d.Name == "gauge_mm" && x >= 12 && x <= 17) && !(d.Name == "bead_mm" && x < d.Low)
}

// takesFraction tells a fraction of an inch, 5/32, from two figures of a list, 50/34.
func (d Dimension) takesFraction(text string) bool {
	_, fraction, mixed := strings.Cut(strings.Replace(text, "-", " ", 1), " ")
	if !mixed {
		fraction = text
	}
	above, below, _ := strings.Cut(fraction, "/")
	a, _ := strconv.Atoi(above)
	b, _ := strconv.Atoi(below)
	return d.Form == Number && strings.HasSuffix(d.Name, "_mm") && a < b && slices.Contains([]int{2, 4, 8, 16, 32, 64, 128}, b)
}

func isInch(unit string) bool {
	return slices.Contains([]string{"in", "inch", "inches", `"`, "zoll"}, unit)
}

// fromInches is the millimetres of a size in inches. Steerers, clamps and tubes are named in inches and made to the
// tenth: 1 1/8 is 28.6. Balls and bearings are exact.
func (d Dimension) fromInches(x float64) float64 {
	mm := x * standard.Inch
	switch {
	case d.Form == Int:
		return math.Round(mm)
	case slices.Contains(inTenths, d.Name), d.Name == "diameter_mm" && d.of == "seatpost":
		return math.Round(mm*10+1e-9) / 10
	}
	return mm
}

var inTenths = []string{"steerer_mm", "crown_mm", "clamp_mm", "quill_mm", "grip_mm", "seat_tube_mm", "seatpost_mm"}

// scales are the units of a dimension's kind with what one of them is in the dimension's own; the empty one is the figure
// alone.
var scales = map[string]map[string]float64{
	"_mm":  {"": 1, "mm": 1, "millimetres": 1, "millimeters": 1, "cm": 10, "m": 1000, "in": 0, "inch": 0, "inches": 0, `"`: 0, "zoll": 0},
	"_deg": {"": 1, "deg": 1, "degree": 1, "degrees": 1, "°": 1, "d": 1},
	"_ml":  {"": 1, "ml": 1, "cl": 10, "l": 1000, "litre": 1000, "litres": 1000, "liter": 1000},
	"_g":   {"": 1, "g": 1, "gr": 1, "gram": 1, "grams": 1, "kg": 1000},
	"_bar": {"": 1, "bar": 1, "psi": 0.0689476, "kpa": 0.01},
}

// nouns are what is counted, written behind the figure.
var nouns = map[string][]string{
	"teeth": {"t", "th", "teeth", "tooth"}, "bolts": {"bolt", "bolts", "b", "arm", "arms", "hole", "holes"}, "holes": {"h", "hole", "holes", "spoke", "spokes"},
	"links": {"l", "link", "links", "pitches"}, "balls": {"ball", "balls"}, "pack": {"pc", "pcs", "piece", "pieces", "pack", "off"},
	"grade": {"grade", "g"}, "percent": {"%", "percent"}, "rows": {"row", "rows"}, "rings": {"ring", "rings", "x", "speed"},
	"speed": {"speed", "spd", "s"}, "crosses": {"x", "cross", "crosses"},
}

func (d Dimension) scale(unit string) (float64, bool) {
	for suffix, units := range scales {
		if strings.HasSuffix(d.Name, suffix) {
			scale, known := units[unit]
			return scale, known
		}
	}
	if unit == "" {
		return 1, true
	}
	for counted, words := range nouns {
		if (strings.HasPrefix(d.Name, counted) || strings.HasSuffix(d.Name, "_"+counted) || counted == "teeth" && (d.Name == "capacity" || d.Name == "pairs_with")) && slices.Contains(words, unit) {
			return 1, true
		}
	}
	return 0, false
}

var (
	rangeForm = regexp.MustCompile(`^(\d{1,3}) ?(?:-|/|to) ?(\d{1,3}) ?(?:t|teeth|mm)?$`)
	withC     = regexp.MustCompile(`^(\d{2}(?:\.\d+)?) ?c$`)
	gradeForm = regexp.MustCompile(`^(?:g|grade) ?(\d{1,4})$`)
)

// bySize reads a figure out of the size that it belongs to: the wire of a gauge, the bead seat of "28-622" or "700c", the
// smallest sprocket of "11-32".
func (d Dimension) bySize(plain string) (float64, bool) {
	switch d.Name {
	case "gauge_mm":
		wire, err := standard.ParseSpoke(plain)
		return wire.EndMM, err == nil
	case "bead_mm":
		return beadOf(plain)
	case "grade":
		if form := gradeForm.FindStringSubmatch(plain); form != nil {
			return standard.Fraction(form[1])
		}
	case "pack":
		n, ok := map[string]float64{"pair": 2, "a pair": 2, "1 pair": 2, "gross": 144, "each": 1, "single": 1, "dozen": 12}[plain]
		return n, ok
	case "width_mm", "inner_width_mm":
		if size, err := standard.ParseTyre(plain); err == nil && d.Name == "width_mm" && d.Form == Int {
			return float64(size.WidthMM), true
		}
		if size, err := standard.ParseRim(plain); err == nil && d.Name == "inner_width_mm" {
			return size.InnerMM, true
		}
		if form := withC.FindStringSubmatch(plain); form != nil {
			return standard.Fraction(form[1])
		}
	case "teeth_min", "width_min_mm", "teeth_max", "width_max_mm":
		if form := rangeForm.FindStringSubmatch(plain); form != nil {
			low, _ := standard.Fraction(form[1])
			high, _ := standard.Fraction(form[2])
			if strings.Contains(d.Name, "min") {
				return min(low, high), true
			}
			return max(low, high), true
		}
	}
	return 0, false
}

// beadOf is the bead seat of a tyre's or rim's size, or of a wheel's name where only one is meant.
func beadOf(plain string) (float64, bool) {
	if bead, err := standard.ParseBead(plain); err == nil {
		return float64(bead.MM), true
	}
	if tyre, err := standard.ParseTyre(plain); err == nil {
		return float64(tyre.BeadMM), true
	}
	if rim, err := standard.ParseRim(plain); err == nil {
		return float64(rim.BeadMM), true
	}
	return 0, false
}

var severalForm = regexp.MustCompile(`^\d+(\.\d+)? ?[a-z]*( ?[-/,;&+] ?| and | or )\d+(\.\d+)? ?[a-z]*([-/,;&+ ].*)?$`)

// notOne says what was expected in place of a text that is no figure of the dimension.
func (d Dimension) notOne(text, plain string) error {
	if d.Name == "bead_mm" {
		_, wheel := standard.ParseBead(plain)
		_, tyre := standard.ParseTyre(plain)
		for _, err := range []error{wheel, tyre} {
			var several *standard.AmbiguousError
			if errors.As(err, &several) {
				return fmt.Errorf("%s: %w", d.Name, err)
			}
		}
	}
	if severalForm.MatchString(plain) {
		return fmt.Errorf("%s is %s, not a list or a range: %q", d.Name, d.Form, text)
	}
	return fmt.Errorf("%s is %s, not %q: write the figure%s, such as %s=%s", d.Name, d.Form, text, d.inUnit(), d.Name, d.example())
}

// inUnit names the unit that the figure is in.
func (d Dimension) inUnit() string {
	if _, unit := d.unit(); unit != "" {
		return " in " + strings.TrimSpace(unit)
	}
	return " alone"
}

var (
	listBreak = regexp.MustCompile(`\s*[,/&+;]\s*|\s+and\s+|\s+`)
	listNoun  = regexp.MustCompile(`[ -]?(speeds?|spd|sp|s|mm|fach)\.?$`)
)

// list reads the counts of a list: "8,9,10", "6-8", "9/10 speed", "single".
func (d Dimension) list(text string) (Value, error) {
	if n, err := strconv.Atoi(text); err == nil {
		return List(n), nil
	}
	plain := strings.TrimSpace(strings.NewReplacer("–", "-", "—", "-").Replace(strings.ToLower(text)))
	refused := fmt.Errorf("%s is %s, not %q: write them apart by commas, such as %s", d.Name, d.Form, text, d.listExample())
	if slices.Contains([]string{"single", "single speed", "single-speed", "singlespeed", "ss"}, plain) {
		return List(1), nil
	}
	var all []int
	for _, one := range listBreak.Split(strings.TrimSpace(listNoun.ReplaceAllString(plain, "")), -1) {
		one = listNoun.ReplaceAllString(one, "")
		if strings.HasPrefix(d.Name, "bead") {
			mm, ok := beadOf(one)
			if !ok {
				return Value{}, refused
			}
			all = append(all, int(mm))
			continue
		}
		low, high, isRange := strings.Cut(one, "-")
		from, errFrom := strconv.Atoi(low)
		to, errTo := from, error(nil)
		if isRange {
			to, errTo = strconv.Atoi(high)
		}
		if errFrom != nil || errTo != nil || to < from || to-from > 20 {
			return Value{}, refused
		}
		for n := from; n <= to; n++ {
			all = append(all, n)
		}
	}
	return List(all...), nil
}

func (d Dimension) listExample() string {
	if strings.HasPrefix(d.Name, "bead") {
		return d.Name + "=622,635"
	}
	return d.Name + "=8,9"
}

// flag reads yes or no, and the words that a yes or no goes by: "hookless", "hooked", "not butted".
func (d Dimension) flag(text string) (Value, error) {
	plain := spelling(text)
	name := spelling(d.Name)
	if no, ok := strings.CutPrefix(plain, "not"); ok && no == name {
		return Yes(false), nil
	}
	if no, ok := strings.CutPrefix(plain, "non"); ok && no == name {
		return Yes(false), nil
	}
	switch {
	case slices.Contains([]string{"yes", "true", "y", "1", "ja", "oui", "with"}, plain), plain == name:
		return Yes(true), nil
	case slices.Contains([]string{"no", "false", "n", "0", "nein", "non", "without"}, plain):
		return Yes(false), nil
	}
	if yes, ok := flagWords[d.Name][plain]; ok {
		return Yes(yes), nil
	}
	return Value{}, fmt.Errorf("%s is yes or no, not %q", d.Name, text)
}

var flagWords = map[string]map[string]bool{
	"hookless":    {"hooked": false, "hooks": false, "crochet": false, "crotchet": false, "tss": true, "straightside": true},
	"butted":      {"plain": false, "pg": false, "db": true, "doublebutted": true, "sb": true, "singlebutted": true, "plaingauge": false},
	"brake_track": {"disc": false, "disconly": false, "none": false, "machined": true, "msw": true},
	"tubeless":    {"tlr": true, "tubelessready": true, "ready": true, "tubetype": false, "clincher": false, "tl": true},
}
