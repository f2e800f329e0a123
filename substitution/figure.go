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
	key := spelled{d.of, d.Name, text}
	if known, ok := figures.Load(key); ok {
		return known.(float64), nil
	}
	x, err := d.figureAnew(text)
	if err == nil && figures.room() {
		figures.Store(key, x)
	}
	return x, err
}

// figures remembers what texts were read as, as [spellings] does.
var figures memory

func (d Dimension) figureAnew(text string) (float64, error) {
	plain := standard.Plain(text)
	if x, ok := d.bySize(plain); ok {
		return x, nil
	}
	plain = d.bareFigure(plain)
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
	case strings.HasSuffix(d.Name, "_mm") && (inches && unit == "" || isInch(unit) || unit == "" && x < 3 && slices.Contains(inTenths, d.Name)):
		x = d.fromInches(x)
	default:
		x = math.Round(x*scale*1e6) / 1e6 // 2.72 cm is 27.2 mm and not a hair more
		if strings.HasSuffix(d.Name, "_nm") && scale != 1 {
			x = math.Round(x*10) / 10 // no torque wrench reads finer
		}
	}
	if form[1] == "-" {
		x = -x
	}
	return x, nil
}

var figureForm = regexp.MustCompile(`^([+-]|\+/-|±)? ?(\d+ \d+/\d+|\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)( ?-? ?[a-z"'°]*(?: [a-z]+)?\.?)$`)

// plainly tells whether a bare figure can be meant as it stands. A gauge number stands for a wire that is thinner.
func (d Dimension) plainly(x float64) bool {
	return !math.IsInf(x, 0) && !math.IsNaN(x) && !(d.Name == "gauge_mm" && x >= 12 && x <= 17) && !(d.Name == "bead_mm" && (x < d.Low || x == 700)) &&
		!(x < 3 && slices.Contains(inTenths, d.Name))
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

var (
	figureSign = regexp.MustCompile(`^(?:ø|⌀|#|dia\.?|diameter|id|od|bcd|pcd|erd|oln|old) ?`)
	figureNoun = regexp.MustCompile(` ?(?:o\.?l\.?[dn]\.?|bcd|pcd|erd|i\.?d\.?|o\.?d\.?|dia\.?|diameter|int\.?|internal|inside|outside|wide|long|deep|bore|c ?- ?c|c/c|ctc|o ?- ?o|shell|travel|rise|reach|drop|offset|setback|stack|hub|head tube|inner|outer|width|length|depth)$`)
	setOf      = regexp.MustCompile(`^(?:set|pack|bag|box) of (\d+)$`)
	numeral    = map[string]string{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "triple": "3", "double": "2", "single": "1"}
	downwards  = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?(?:°|deg|degrees)? (?:down|negative)$`)
)

// bareFigure takes off what stands about a figure and says again what it is of: "ø 27.2 mm", "135 OLD", "BCD 110", "44
// cm c-c".
func (d Dimension) bareFigure(plain string) string {
	_, unit := d.unit()
	switch {
	case unit == " mm":
		plain = figureNoun.ReplaceAllString(figureSign.ReplaceAllString(plain, ""), "")
		return strings.TrimSpace(strings.TrimSuffix(plain, ","))
	case unit == "°":
		if form := downwards.FindStringSubmatch(plain); form != nil {
			return "-" + form[1]
		}
	case d.Form == Int:
		if n, ok := numeral[plain]; ok && d.High <= 10 {
			return n
		}
		return setOf.ReplaceAllString(plain, "$1")
	}
	return plain
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
	case d.Name == "crown_mm" && crownOf[x] > 0:
		return crownOf[x]
	case slices.Contains(inTenths, d.Name), d.Name == "diameter_mm" && d.of == "seatpost":
		return math.Round(mm*10+1e-9) / 10
	}
	return mm
}

// crownOf is the crown race's seat by the inches of the steerer's foot, which name it: 1.5 in is 38.1 mm, and its seat 39.8.
// One inch has two seats, 26.4 and 27.0, and is not among them.
var crownOf = map[float64]float64{1.125: 30, 1.25: 33, 1.5: 39.8}

var inTenths = []string{"steerer_mm", "crown_mm", "clamp_mm", "quill_mm", "grip_mm", "seat_tube_mm", "seatpost_mm"}

// scales are the units of a dimension's kind with what one of them is in the dimension's own; the empty one is the figure
// alone.
var scales = map[string]map[string]float64{
	"_mm":  {"": 1, "mm": 1, "millimetres": 1, "millimeters": 1, "cm": 10, "m": 1000, "metre": 1000, "metres": 1000, "meter": 1000, "meters": 1000, "ft": 304.8, "foot": 304.8, "feet": 304.8, "in": 0, "inch": 0, "inches": 0, `"`: 0, "zoll": 0},
	"_deg": {"": 1, "deg": 1, "degree": 1, "degrees": 1, "°": 1, "d": 1},
	"_ml":  {"": 1, "ml": 1, "cl": 10, "l": 1000, "litre": 1000, "litres": 1000, "liter": 1000},
	"_g":   {"": 1, "g": 1, "gr": 1, "gram": 1, "grams": 1, "kg": 1000},
	"_nm":  {"": 1, "nm": 1, "n m": 1, "n·m": 1, "lbin": 0.112985, "inlb": 0.112985, "lb in": 0.112985, "in lb": 0.112985, "lbft": 1.355818, "ftlb": 1.355818, "lb ft": 1.355818, "ft lb": 1.355818, "kgcm": 0.0980665},
	"_kg":  {"": 1, "kg": 1, "kgs": 1, "kilo": 1, "kilos": 1, "lb": 0.45359237, "lbs": 0.45359237},
	"_bar": {"": 1, "bar": 1, "psi": 0.0689476, "kpa": 0.01},
}

// nouns are what is counted, written behind the figure.
var nouns = map[string][]string{
	"teeth": {"t", "th", "teeth", "tooth"}, "bolts": {"bolt", "bolts", "b", "arm", "arms", "hole", "holes", "pc", "pcs", "x"}, "holes": {"h", "hole", "holes", "spoke", "spokes"},
	"links": {"l", "link", "links", "pitches"}, "balls": {"ball", "balls"}, "pack": {"pc", "pcs", "piece", "pieces", "pack", "off"},
	"grade": {"grade", "g"}, "percent": {"%", "percent"}, "rows": {"row", "rows"}, "rings": {"ring", "rings", "x", "speed", "s"},
	"speed": {"speed", "spd", "s"}, "crosses": {"x", "cross", "crosses"}, "volts": {"v", "volt", "volts"}, "watts": {"w", "watt", "watts"}, "poles": {"pole", "poles"},
	"gears": {"g", "gear", "gears", "speed", "spd", "s"}, "hours": {"h", "hr", "hrs", "hour", "hours"}, "cst": {"cst"},
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
	rangeForm = regexp.MustCompile(`^(\d{1,3}) ?t? ?(?:-|/|to|\.\.\.?) ?(\d{1,3}) ?(?:t|teeth|mm|c)?$`)
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
	case "valve_hole_mm":
		hole, ok := map[string]float64{"presta": 6.5, "fv": 6.5, "sv": 6.5, "french": 6.5, "schrader": 8.5, "av": 8.5, "car": 8.5, "dunlop": 8.5}[plain]
		return hole, ok
	case "tyre_max_mm":
		if form := withC.FindStringSubmatch(plain); form != nil {
			return standard.Fraction(form[1])
		}
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
	switch plain {
	case "700":
		plain = "700c" // what 28 inch road wheels are called; no bead seat is so large
	case "700b":
		return 635, true
	}
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
	listNoun  = regexp.MustCompile(`[ -/]?(speeds?|spd|sp|s|v|mm|fach)\.?$`)
)

var (
	fromTo  = regexp.MustCompile(`^(\d+) ?(?:-|to|\.\.\.?) ?(\d+)$`)
	byRings = regexp.MustCompile(`^[123] ?x ?(\d+)$`)
	dashes  = strings.NewReplacer("–", "-", "—", "-")
)

// list reads the counts of a list: "8,9,10", "6-8", "9/10 speed", "single".
func (d Dimension) list(text string) (Value, error) {
	if n, err := strconv.Atoi(text); err == nil {
		return List(n), nil
	}
	plain := strings.TrimSpace(dashes.Replace(strings.ToLower(text)))
	refused := fmt.Errorf("%s is %s, not %q: write them apart by commas, such as %s", d.Name, d.Form, text, d.listExample())
	if slices.Contains([]string{"single", "single speed", "single-speed", "singlespeed", "ss"}, plain) {
		return List(1), nil
	}
	var all []int
	plain = byRings.ReplaceAllString(listNoun.ReplaceAllString(plain, ""), "$1")
	for _, one := range listBreak.Split(strings.TrimSpace(fromTo.ReplaceAllString(plain, "$1-$2")), -1) {
		one = listNoun.ReplaceAllString(one, "")
		if strings.HasPrefix(d.Name, "bead") {
			mm, ok := beadOf(one)
			if !ok {
				return Value{}, refused
			}
			all = append(all, int(mm))
			continue
		}
		if hyphens := strings.Split(one, "-"); len(hyphens) > 2 { // 6-7-8 names each
			for _, each := range hyphens {
				n, err := strconv.Atoi(each)
				if err != nil {
					return Value{}, refused
				}
				all = append(all, n)
			}
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
	"hookless":    {"tc": false, "hooked": false, "hooks": false, "crochet": false, "crotchet": false, "tss": true, "straightside": true},
	"butted":      {"plain": false, "pg": false, "db": true, "doublebutted": true, "sb": true, "singlebutted": true, "plaingauge": false, "straightgauge": false, "straight": false},
	"brake_track": {"disc": false, "disconly": false, "none": false, "machined": true, "msw": true, "rimbrake": true, "machinedsidewall": true, "machinedwall": true},
	"tubeless":    {"tlr": true, "tubelessready": true, "ready": true, "tubetype": false, "clincher": false, "tl": true, "tr": true, "tube": false, "tubed": false, "withtube": false, "wirebead": false},
	"front_tab":   {"brazeon": true, "brazed": true, "none": false},
}
