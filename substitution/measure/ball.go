package measure

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"stead/substitution/standard"
)

// Balls is what was measured on loose balls. A row of balls against a straight edge is far sharper than one ball, because
// the tool's error is shared among them.
type Balls struct {
	Diameter *Reading `json:"diameter,omitempty"`
	Row      *Reading `json:"row,omitempty"` // length of a row of balls touching
	InRow    int      `json:"in_row,omitempty"`
	MassG    float64  `json:"mass_g,omitempty"` // mass of Weighed balls together; absent if not weighed
	Weighed  int      `json:"weighed,omitempty"`
}

// scaleError is what a kitchen or parts scale can be trusted to, in grams.
const scaleError = 0.1

// Identify names the ball.
func (b Balls) Identify() (Result, error) {
	if err := b.validate(); err != nil {
		return Result{}, err
	}
	r := Result{Part: "loose balls", ReadsBadly: tooFine(b.Diameter)}
	for _, ball := range standard.Balls() {
		if b.allows(ball) {
			r.Matches = append(r.Matches, Match{ball.String(), mm(ball.MM) + " mm", ball.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	r.NearMisses = b.nearMisses(r.Matches)
	switch {
	case sole(r.Matches):
		r.Verdict = fmt.Sprintf("These are %s balls (%s).", r.Matches[0].Name, r.Matches[0].Detail)
	case len(r.Matches) > 1:
		r.Verdict = fmt.Sprintf("They are %s: these readings cannot tell which.", choice(r.Matches))
	case len(r.Matches) == 1:
		r.Verdict = fmt.Sprintf("They read as %s balls, a size known here from memory only; measure a row of ten.", r.Matches[0].Name)
	default:
		r.Verdict = "The size is not in my list of balls: the balls are worn, or one was misread. A ball that measures under its size is scrap, and so are the others of its race; measure the least worn, or the cup."
		if meant := pointForSlash(b.Diameter); meant != "" {
			r.Verdict = fmt.Sprintf("No ball measures %s mm. If %s in was meant, write it with the slash: %s.", mm(b.Diameter.MM), meant, meant)
		}
	}
	b.separate(&r)
	r.Cautions = append(r.Cautions, "Replace all balls of a race together, from one lot: one larger ball carries the load alone.")
	return r, nil
}

// pointForSlash is the inch size that was meant where its fraction was written with a point: 5.32 for 5/32.
func pointForSlash(d *Reading) string {
	for _, ball := range standard.Balls() {
		inch, isInch := strings.CutSuffix(ball.String(), " in")
		if isInch && d != nil && strings.ReplaceAll(inch, "/", ".") == mm(d.MM) {
			return inch
		}
	}
	return ""
}

func (b Balls) validate() error {
	if err := check("ball diameter", b.Diameter, 1, 26); err != nil {
		return err
	}
	if b.Diameter == nil && b.Row == nil && b.MassG == 0 {
		return fmt.Errorf("nothing was measured: give the diameter of a ball, or the length of a row and how many are in it")
	}
	if b.Row != nil {
		if b.InRow < 2 {
			return fmt.Errorf("a row needs at least two balls: say how many are in it")
		}
		if err := check("length of the row", b.Row, float64(b.InRow), 26*float64(b.InRow)); err != nil {
			return err
		}
	}
	if b.MassG != 0 && (b.Weighed < 1 || !(b.MassG > 0) || math.IsInf(b.MassG, 0)) {
		return fmt.Errorf("a mass of %v g needs the number of balls that were weighed", b.MassG)
	}
	return nil
}

func (b Balls) allows(ball standard.Ball) bool {
	if b.Diameter != nil && !b.Diameter.allows(ball.MM, ball.MM) {
		return false
	}
	if b.Row != nil && !b.Row.allows(ball.MM*float64(b.InRow), ball.MM*float64(b.InRow)) {
		return false
	}
	if b.MassG != 0 && math.Abs(b.MassG-ball.MassG()*float64(b.Weighed)) > scaleError {
		return false
	}
	return true
}

// size is the best figure for one ball's diameter.
func (b Balls) size() float64 {
	switch {
	case b.Row != nil:
		return b.Row.MM / float64(b.InRow)
	case b.Diameter != nil:
		return b.Diameter.MM
	}
	return math.Cbrt(b.MassG / float64(b.Weighed) * 6 / math.Pi / 7.85e-3)
}

// nearMisses are the standard balls within 0.85 mm (one step of inch sizes) that the readings exclude.
func (b Balls) nearMisses(matches []Match) []NearMiss {
	var misses []NearMiss
	for _, ball := range standard.Balls() {
		off := ball.MM - b.size()
		if math.Abs(off) > 0.25 && len(matches) > 0 || math.Abs(off) > 0.85 || has(matches, ball.String()) || !ball.Confidence.Firm() {
			continue
		}
		misses = append(misses, NearMiss{ball.String(), mm(ball.MM) + " mm", fmt.Sprintf("%s mm %s than yours", mm2(math.Abs(off)), largerSmaller(off)), ball.Reference})
	}
	sort.SliceStable(misses, func(i, j int) bool { return gap(misses[i], b.size()) < gap(misses[j], b.size()) })
	return misses[:min(len(misses), 3)]
}

// gap is how far a named ball lies from a size.
func gap(n NearMiss, size float64) float64 {
	ball, err := standard.ParseBall(n.Name)
	if err != nil {
		return math.Inf(1)
	}
	return math.Abs(ball.MM - size)
}

func largerSmaller(off float64) string {
	if off > 0 {
		return "larger"
	}
	return "smaller"
}

// separate says which measurement tells the remaining sizes apart, with the figures to expect.
func (b Balls) separate(r *Result) {
	if len(r.Matches) < 2 {
		return
	}
	var row, mass string
	for i, m := range r.Matches {
		ball, err := standard.ParseBall(m.Name)
		if err != nil {
			continue
		}
		if i > 0 {
			row, mass = row+", ", mass+", "
		}
		row += fmt.Sprintf("%s: %.2f mm", m.Name, ball.MM*10)
		mass += fmt.Sprintf("%s: %.1f g", m.Name, ball.MassG()*100)
	}
	r.Next = append(r.Next,
		Step{"Lay ten in a row against a straight edge and measure the row", "caliper", row},
		Step{"Or weigh a hundred", "scale to 0.1 g", mass})
}

// BallRing is what was measured on a race, to find how many balls belong in it.
type BallRing struct {
	Across *Reading `json:"across,omitempty"` // across the outside of the ring of balls, seated in the cup
	Pitch  *Reading `json:"pitch,omitempty"`  // or the circle through the balls' centres
	BallMM float64  `json:"ball_mm"`
	Found  int      `json:"found,omitempty"` // balls that came out; absent if nobody counted
}

// jamRoom is the room, in balls, under which a full ring may jam.
const jamRoom = 0.1

// Count works out how many balls belong in the race.
func (b BallRing) Count() (Result, error) {
	pitch := b.Pitch
	if pitch == nil && b.Across != nil {
		pitch = &Reading{b.Across.MM - b.BallMM, b.Across.ErrorMM, b.Across.Tool}
	}
	if pitch == nil {
		return Result{}, fmt.Errorf("nothing was measured: seat the balls in the cup and measure across the outside of the ring")
	}
	if err := check("pitch circle", pitch, 3, 100); err != nil {
		return Result{}, err
	}
	mid, err := standard.CountBalls(pitch.MM, b.BallMM)
	if err != nil {
		return Result{}, err
	}
	low, err := standard.CountBalls(math.Max(pitch.MM-pitch.ErrorMM, b.BallMM+1e-6), b.BallMM)
	if err != nil {
		return Result{}, err
	}
	high, err := standard.CountBalls(pitch.MM+pitch.ErrorMM, b.BallMM)
	if err != nil {
		return Result{}, err
	}
	ref := standard.Reference{Source: "chord formula for balls on a circle", Confidence: standard.Handbook}
	r := Result{Part: "ring of balls"}
	for n := low.Most; n <= high.Most; n++ {
		r.Matches = append(r.Matches, Match{fmt.Sprintf("%d balls", n), fmt.Sprintf("of %s mm on a circle of %s mm", mm(b.BallMM), mm2(pitch.MM)), ref})
	}
	r.Verdict = fmt.Sprintf("At most %d balls fit, with room for %.2f of another.", mid.Most, mid.Room)
	if low.Most != high.Most {
		r.Verdict = fmt.Sprintf("Between %d and %d balls fit: the measurement is not sharp enough to say.", low.Most, high.Most)
		r.Next = append(r.Next, Step{"Fill the race with new balls and count", "balls", "the measurement lies where one more ball just fits"})
	}
	if mid.Room < jamRoom {
		r.Cautions = append(r.Cautions, fmt.Sprintf("%d balls leave almost no room and may jam: fit %d.", mid.Most, mid.Most-1))
	}
	if b.Found > 0 && b.Found != mid.Most {
		r.Verdict += fmt.Sprintf(" %d came out.", b.Found)
		if b.Found == mid.Most-1 {
			r.Verdict += " Filling the race and taking one out again is common practice: put back what came out."
		} else {
			r.Cautions = append(r.Cautions, "What came out is neither the full ring nor one fewer: balls may be missing, or of the wrong size.")
		}
	} else if b.Found == 0 {
		r.Next = append(r.Next, Step{"Count what comes out before cleaning", "eye", "workshops fill a race and take one ball out again; no published text settles it, so the count found decides"})
	}
	return r, nil
}
