package standard

import "regexp"

// NLGI is a grease's stiffness: how deep a cone sinks into it, worked 60 strokes at 25 °C, in tenths of a millimetre
// (ASTM D217).
type NLGI struct {
	Grade string `json:"nlgi"`
	Low   int    `json:"penetration_low"`
	High  int    `json:"penetration_high"`
	Reference
}

// String is "NLGI 2"; [ParseNLGI] reads it back.
func (g NLGI) String() string { return "NLGI " + g.Grade }

var refNLGI = Reference{"NLGI grades by ASTM D217 penetration, four reference pages", Handbook}

var nlgiGrades = []NLGI{
	{"000", 445, 475, refNLGI}, {"00", 400, 430, refNLGI}, {"0", 355, 385, refNLGI}, {"1", 310, 340, refNLGI}, {"2", 265, 295, refNLGI},
	{"3", 220, 250, refNLGI}, {"4", 175, 205, refNLGI}, {"5", 130, 160, refNLGI}, {"6", 85, 115, refNLGI},
}

var nlgiForm = regexp.MustCompile(`^(?:nlgi)? ?(?:grade|no\.?|#)? ?(000|00|0|[1-6])$`)

// ParseNLGI reads "NLGI 2", "grade 00" or "2".
func ParseNLGI(s string) (NLGI, error) {
	const what = "an NLGI grade"
	if err := checkText(what, s); err != nil {
		return NLGI{}, err
	}
	if form := nlgiForm.FindStringSubmatch(plain(s)); form != nil {
		for _, g := range nlgiGrades {
			if g.Grade == form[1] {
				return g, nil
			}
		}
	}
	return NLGI{}, &ReadingError{What: what, Input: s, Problem: "grades are 000, 00, 0 and 1 to 6; bearing greases are 1 to 3"}
}

// mixingOutcome says what happens when two greases meet.
type mixingOutcome string

const (
	compatible   mixingOutcome = "compatible"
	borderline   mixingOutcome = "borderline"
	incompatible mixingOutcome = "incompatible"
)

// thickeners are the grease thickeners of the compatibility table, in its order.
var thickeners = []string{"sodium", "aluminium complex", "barium", "calcium", "calcium complex", "clay", "lithium", "lithium complex", "polyurea"}

// refMixing is a chart of 1990. A review of 21 such charts found them to contradict one another.
var refMixing = Reference{"FIST 2-4 (US Bureau of Reclamation, 11/90) table 2; charts disagree, and thickener alone does not decide", Handbook}

// mixing is the table row by row, in the order of thickeners: C, B or I. It is symmetric; clay with clay is printed B.
var mixing = [9]string{"CIIIIIIII", "ICIIIIBCI", "IICIIIIII", "IIICIIBCI", "IIIICIIII", "IIIIIBIII", "IBIBIICCI", "ICICIICCI", "IIIIIIIIC"}

// mixGreases looks two thickeners up. ok is false when either is not in the table.
//
// The workshop's policy does not rest on the table: unless it says compatible, clean the bearing out fully before
// changing grease, and even then purging is better. See [MixingAdvice].
func mixGreases(a, b string) (mixingOutcome, Reference, bool) {
	i, j := thickenerIndex(a), thickenerIndex(b)
	if i < 0 || j < 0 {
		return "", Reference{}, false
	}
	switch mixing[i][j] {
	case 'C':
		return compatible, refMixing, true
	case 'B':
		return borderline, refMixing, true
	}
	return incompatible, refMixing, true
}

func thickenerIndex(name string) int {
	for i, t := range thickeners {
		if t == name {
			return i
		}
	}
	return -1
}

// MixingAdvice is what to do when grease b goes where grease a was.
func MixingAdvice(a, b string) string {
	m, _, known := mixGreases(a, b)
	switch {
	case !known:
		return "thickener unknown: clean out fully before changing grease"
	case m == compatible:
		return "listed as compatible; charts disagree, so purging the old grease is still better"
	}
	return string(m) + " by thickener: clean out fully before changing grease"
}
