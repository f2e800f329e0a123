package standard

import (
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

// inchThread makes a thread named in inches, 1.37 × 24.
func inchThread(inches, perInch float64, left bool) Thread {
	return Thread{DiameterMM: inches * Inch, PitchMM: Inch / perInch, Left: left, HandSaid: left, inches: inches, perInch: perInch}
}

// metricThread makes a thread named in millimetres, M10 × 1.
func metricThread(mm, pitchMM float64, left bool) Thread {
	return Thread{DiameterMM: mm, PitchMM: pitchMM, Left: left, HandSaid: left}
}

// mixedThread makes a thread of metric diameter with its pitch in turns to the inch, 36 × 24 tpi (Italian bottom brackets).
func mixedThread(mm, perInch float64, left bool) Thread {
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
// The hand is right unless the text says left; HandSaid tells which.
func ParseThread(s string) (Thread, error) {
	if err := checkText(aThread, s); err != nil {
		return Thread{}, err
	}
	text, hand, ok := cutHand(plain(s))
	if !ok {
		return Thread{}, noThread(s, "it says both left and right")
	}
	form := threadForm.FindStringSubmatch(text)
	if form == nil {
		return Thread{}, noThread(s, "write diameter x pitch, such as 1.37x24, 9/16x20 left or M10x1")
	}
	written := writtenThread{input: s, series: form[1], unit: form[3], pitch: form[4], pitchUnit: form[5]}
	if written.size, ok = number(form[2]); !ok || written.size <= 0 {
		return Thread{}, noThread(s, "the diameter is no number above nothing")
	}
	t, err := written.thread()
	if err != nil {
		return Thread{}, err
	}
	t.Left, t.HandSaid = hand == "l", hand != ""
	return t, nil
}

const aThread = "a thread"

// noThread says why a text is none, and which threads may be meant.
func noThread(input, problem string, nearest ...string) error {
	return &ReadingError{What: aThread, Input: input, Problem: problem, Nearest: nearest}
}

// cutHand takes the words for the hand off a text: "l", "r", or "" where it says none; ok is false where it says both.
func cutHand(text string) (rest, hand string, ok bool) {
	for _, h := range handForm.FindAllStringSubmatch(text, -1) {
		says := (h[1] + h[2])[:1]
		if hand != "" && says != hand {
			return "", "", false
		}
		hand = says
	}
	if hand != "" {
		text = strings.TrimSpace(handForm.ReplaceAllString(text, ""))
	}
	return text, hand, true
}

// writtenThread is a thread as it is written, part by part.
type writtenThread struct {
	input            string
	series           string  // "m", "bc", "bsc", "fg", "din", or none
	size             float64 // in its unit
	unit             string
	pitch, pitchUnit string // empty where it is not written
}

func (w writtenThread) thread() (Thread, error) {
	switch {
	case w.series == "fg":
		return w.rolledSpoke()
	case w.metric() && (w.size < 1 || w.size > 80), !w.metric() && (w.size < 0.06 || w.size > 3):
		return Thread{}, noThread(w.input, "a thread of that diameter is not in my list of bicycle threads")
	case w.pitch == "":
		return w.named()
	}
	pitch, err := strconv.ParseFloat(w.pitch, 64)
	if err != nil || pitch <= 0 {
		return Thread{}, noThread(w.input, "the pitch is no number above nothing")
	}
	if strings.HasPrefix(w.pitchUnit, "t") || w.pitchUnit == "" && pitch > 9 {
		return w.ofTurns(pitch)
	}
	return w.ofPitch(pitch)
}

// metric reports whether the diameter is in millimetres.
func (w writtenThread) metric() bool {
	return w.series == "m" || w.unit == "mm" || w.unit == "" && w.series == "" && w.size >= 5
}

// rolledSpoke is a rolled spoke thread, which its nominal size names.
func (w writtenThread) rolledSpoke() (Thread, error) {
	for _, k := range knownThreads {
		if k.Thread.series == "FG" && k.Thread.DiameterMM == w.size && (w.pitch == "" || w.pitch == "56") {
			return k.Thread, nil
		}
	}
	return Thread{}, noThread(w.input, "the rolled spoke threads are FG 1.8, FG 2.0, FG 2.3 and FG 2.6, all 56 to the inch")
}

// named is a thread whose name fixes its pitch.
func (w writtenThread) named() (Thread, error) {
	if perInch, ok := bcPitch[w.size]; ok && !w.metric() && (w.series == "bc" || w.series == "bsc") {
		return inchThread(w.size, perInch, false), nil
	}
	if pitch, ok := finePitch[w.size]; ok && w.series == "m" {
		return metricThread(w.size, pitch, false), nil
	}
	return Thread{}, noThread(w.input, "the pitch is missing; measure it with a thread gauge", threadsOfDiameter(w.size, w.metric())...)
}

// ofTurns is a thread of so many turns to the inch.
func (w writtenThread) ofTurns(perInch float64) (Thread, error) {
	switch {
	case w.series == "m" && w.pitchUnit == "":
		return Thread{}, noThread(w.input, "that is a bolt and its length, not a pitch; if it is turns to the inch, write tpi", threadsOfDiameter(w.size, true)...)
	case perInch < 8 || perInch > 80:
		return Thread{}, noThread(w.input, "threads run from about 8 to 80 turns to the inch")
	case w.metric():
		return mixedThread(w.size, perInch, false), nil
	}
	return inchThread(w.size, perInch, false), nil
}

// ofPitch is a thread whose pitch is in millimetres.
func (w writtenThread) ofPitch(pitchMM float64) (Thread, error) {
	switch {
	case pitchMM < 0.2 || pitchMM > 5:
		return Thread{}, noThread(w.input, "a pitch lies between 0.2 and 5 mm, or 8 and 80 turns to the inch; is it a bolt length?", threadsOfDiameter(w.size, w.metric())...)
	case !w.metric():
		return Thread{}, noThread(w.input, "an inch diameter needs its pitch in turns to the inch", threadsOfDiameter(w.size, false)...)
	case pitchMM >= w.size/2:
		return Thread{}, noThread(w.input, "the pitch is too coarse for the diameter")
	}
	return metricThread(w.size, pitchMM, false), nil
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
