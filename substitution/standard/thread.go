package standard

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Thread is a screw thread: how thick, how steep, and which way round. Two threads go together only if all three agree.
type Thread struct {
	DiameterMM float64 `json:"diameter_mm"` // nominal outside diameter
	PitchMM    float64 `json:"pitch_mm"`    // from one turn to the next
	Left       bool    `json:"left"`        // left hand: tightens anticlockwise
	HandSaid   bool    `json:"hand_said"`   // the text named the hand; if not, right is only the convention
	inches     float64 // nominal diameter in inches, for an inch thread
	perInch    float64 // turns to the inch, where the pitch is written so
	series     string  // "FG" for rolled spoke threads, which are named by nominal size alone
}

// InchThread makes a thread named in inches, 1.37 × 24.
func InchThread(inches, perInch float64, left bool) Thread {
	return Thread{DiameterMM: inches * Inch, PitchMM: Inch / perInch, Left: left, HandSaid: left, inches: inches, perInch: perInch}
}

// MetricThread makes a thread named in millimetres, M10 × 1.
func MetricThread(mm, pitchMM float64, left bool) Thread {
	return Thread{DiameterMM: mm, PitchMM: pitchMM, Left: left, HandSaid: left}
}

// MixedThread makes a thread of metric diameter with its pitch in turns to the inch, 36 × 24 tpi (Italian bottom brackets).
func MixedThread(mm, perInch float64, left bool) Thread {
	return Thread{DiameterMM: mm, PitchMM: Inch / perInch, Left: left, HandSaid: left, perInch: perInch}
}

// PerInch is the number of turns to the inch.
func (t Thread) PerInch() float64 { return Inch / t.PitchMM }

// String is the vocabulary's form: "1.37x24", "9/16x20 left", "M10x1", "36x24", "FG 2.3". A right-hand thread, said or
// not, has no mark.
func (t Thread) String() string {
	text := ""
	switch {
	case t.series == "FG":
		text = "FG " + trim(t.DiameterMM)
	case t.inches > 0:
		text = inchDiameter(t.inches) + "x" + trim(t.perInch)
	case t.perInch > 0:
		text = trim(t.DiameterMM) + "x" + trim(t.perInch)
	default:
		text = "M" + trim(t.DiameterMM) + "x" + trim(t.PitchMM)
	}
	if t.Left {
		text += " left"
	}
	return text
}

// inchDiameter writes small threads as the fractions they are ("9/16") and the rest as decimals ("1.37").
func inchDiameter(inches float64) string {
	if inches < 1 {
		if text, ok := fractionOfInch(inches); ok {
			return text
		}
	}
	return trim(inches)
}

// Same reports whether two threads are one and the same by name: diameter, pitch and hand.
func (t Thread) Same(u Thread) bool {
	return math.Abs(t.DiameterMM-u.DiameterMM) < 5e-3 && math.Abs(t.PitchMM-u.PitchMM) < 1e-4 && t.Left == u.Left
}

// CheckHand is an error when the text did not say the hand and the thread is used in both hands on bicycles: a pedal,
// a bottom-bracket cup. There right-hand must not be taken for granted.
func (t Thread) CheckHand() error {
	if t.HandSaid {
		return nil
	}
	left, right := t, t
	left.Left = true
	var places []string
	for _, k := range knownThreads {
		if k.Thread.Same(left) || k.Thread.Same(right) {
			hand := "right"
			if k.Thread.Left {
				hand = "left"
			}
			places = append(places, k.Use+": "+hand)
		}
	}
	both := strings.Join(places, "; ")
	if strings.Contains(both, ": left") && strings.Contains(both, ": right") {
		return fmt.Errorf("%s is cut in both hands (%s): say left or right", t, both)
	}
	return nil
}

var (
	threadForm = regexp.MustCompile(`^(m|bc|bsc|fg|din)? ?(\d+(?:[ -]\d+/\d+)?|\d+/\d+|\d*\.\d+) ?(mm|in|inch|")? ?(?:(?:x|-) ?(?:p)?(\d+(?:\.\d+)?|\.\d+) ?(tpi|mm|t\.p\.i\.|t)?)?(?: ?(?:f|thread))?$`)
	handForm   = regexp.MustCompile(`[ ,(-]*\b(left[ -]?hand(?:ed)?|right[ -]?hand(?:ed)?|left|right|lh|rh)\b\)?| \(?([lr])\)?$`)
)

// bcPitch are the turns to the inch that JIS B 0225 gives each BC size, so that "BC 3/8" is a whole name.
var bcPitch = map[float64]float64{5. / 16: 26, 3. / 8: 26, 7. / 16: 26, 1. / 2: 20, 9. / 16: 20}

// finePitch are the metric threads that are unambiguous without a pitch on a bicycle. From M8 up both a coarse and a
// fine pitch are in use.
var finePitch = map[float64]float64{4: 0.7, 5: 0.8, 6: 1}

// ParseThread reads a thread: "1.37x24", "1.37\"×24", "1.375 × 24 tpi", "1 3/8 x 26", "M10x1", "35x1", "36x24",
// "9/16x20 left", "1/2 x 20 LH", "BC 3/8", "FG 2.3". Diameters under 5 are inches, others millimetres; a second figure
// under 5 is a pitch in millimetres, over 9 turns to the inch. A thread without its pitch is an error that names the
// known threads of that diameter, except BC and FG sizes and M4 to M6, whose pitch the name fixes.
//
// The hand is right unless the text says left; see [Thread.CheckHand] for where silence will not do.
func ParseThread(s string) (Thread, error) {
	const what = "a thread"
	if err := checkText(what, s); err != nil {
		return Thread{}, err
	}
	text := plain(s)
	left, said := false, false
	if hands := handForm.FindAllStringSubmatch(text, -1); len(hands) > 0 {
		for i, h := range hands {
			isLeft := strings.HasPrefix(h[1]+h[2], "l")
			if i > 0 && isLeft != left {
				return Thread{}, &ReadingError{What: what, Input: s, Problem: "it says both left and right"}
			}
			left, said = isLeft, true
		}
		text = strings.TrimSpace(handForm.ReplaceAllString(text, ""))
	}
	form := threadForm.FindStringSubmatch(text)
	if form == nil {
		return Thread{}, &ReadingError{What: what, Input: s, Problem: "write diameter x pitch, such as 1.37x24, 9/16x20 left or M10x1"}
	}
	series, unit, second, secondUnit := form[1], form[3], form[4], form[5]
	size, ok := number(form[2])
	if !ok || size <= 0 {
		return Thread{}, &ReadingError{What: what, Input: s, Problem: "the diameter is no number above nothing"}
	}
	t, err := threadOf(s, series, size, unit, second, secondUnit)
	if err != nil {
		return Thread{}, err
	}
	t.Left, t.HandSaid = left, said
	return t, nil
}

func threadOf(input, series string, size float64, unit, second, secondUnit string) (Thread, error) {
	fail := func(problem string, nearest ...string) (Thread, error) {
		return Thread{}, &ReadingError{What: "a thread", Input: input, Problem: problem, Nearest: nearest}
	}
	if series == "fg" {
		for _, k := range knownThreads {
			if k.Thread.series == "FG" && k.Thread.DiameterMM == size && (second == "" || second == "56") {
				return k.Thread, nil
			}
		}
		return fail("the rolled spoke threads are FG 1.8, FG 2.0, FG 2.3 and FG 2.6, all 56 to the inch")
	}
	metric := series == "m" || unit == "mm" || (unit == "" && series == "" && size >= 5)
	if metric && (size < 1 || size > 80) || !metric && (size < 0.06 || size > 3) {
		return fail("no bicycle part has a thread of that diameter")
	}
	if second == "" {
		if tpi, ok := bcPitch[size]; ok && !metric && (series == "bc" || series == "bsc") {
			return InchThread(size, tpi, false), nil
		}
		if pitch, ok := finePitch[size]; ok && series == "m" {
			return MetricThread(size, pitch, false), nil
		}
		return fail("the pitch is missing; measure it with a thread gauge", threadsOfDiameter(size, metric)...)
	}
	pitch, err := strconv.ParseFloat(second, 64)
	if err != nil || pitch <= 0 {
		return fail("the pitch is no number above nothing")
	}
	perInch := strings.HasPrefix(secondUnit, "t") || (secondUnit == "" && pitch > 9)
	switch {
	case series == "m" && perInch && secondUnit == "":
		return fail("that is a bolt and its length, not a pitch; if it is turns to the inch, write tpi", threadsOfDiameter(size, true)...)
	case perInch && (pitch < 8 || pitch > 80):
		return fail("threads run from about 8 to 80 turns to the inch")
	case !perInch && (pitch < 0.2 || pitch > 5):
		return fail("a pitch lies between 0.2 and 5 mm, or 8 and 80 turns to the inch; is it a bolt length?", threadsOfDiameter(size, metric)...)
	case !perInch && metric && pitch >= size/2:
		return fail("the pitch is too coarse for the diameter")
	case !perInch && !metric:
		return fail("an inch diameter needs its pitch in turns to the inch", threadsOfDiameter(size, false)...)
	case metric && perInch:
		return MixedThread(size, pitch, false), nil
	case metric:
		return MetricThread(size, pitch, false), nil
	}
	return InchThread(size, pitch, false), nil
}

// threadsOfDiameter names the known threads within 0.3 mm of a diameter.
func threadsOfDiameter(size float64, metric bool) []string {
	mm := size
	if !metric {
		mm *= Inch
	}
	var names []string
	for _, k := range knownThreads {
		name := k.Thread.String()
		if math.Abs(k.Thread.DiameterMM-mm) <= 0.3 && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}
