package standard

import (
	"fmt"
	"math"
	"sort"
)

// Ball is a standard ball size. Inch balls are exact fractions: 5/32 in is 3.96875 mm, which no caliper tells from 4 mm.
type Ball struct {
	MM   float64 `json:"ball_mm"`
	Inch string  `json:"inch,omitempty"` // the fraction of an inch; absent for metric balls
	Reference
}

// Balls are the sizes in the table, smallest first.
func Balls() []Ball { return append([]Ball(nil), balls...) }

var (
	refBall       = Reference{"ISO 3290-1 nominal ball diameters, as GOST 3722 (its national adoption) tabulates them", Published}
	refBallExact  = Reference{"exact fraction of an inch", Published}
	refBallMetric = Reference{"metric ball, neighbour of an inch size", Handbook}
)

var balls = []Ball{
	inchBall(3, refBall), metricBall(2.5, fromMemory("metric ball size")), metricBall(3, fromMemory("metric ball size")),
	inchBall(4, refBall), metricBall(3.5, fromMemory("metric ball size")), inchBall(5, refBall), metricBall(4, refBallMetric),
	metricBall(4.5, fromMemory("metric ball size")), inchBall(6, refBall), metricBall(5, fromMemory("metric ball size")),
	metricBall(5.5, refBallMetric), inchBall(7, refBall), metricBall(6, fromMemory("metric ball size")), inchBall(8, refBall),
	metricBall(6.5, fromMemory("metric ball size")), metricBall(7, fromMemory("metric ball size")),
	inchBall(9, refBallExact), metricBall(7.5, fromMemory("metric ball size")), inchBall(10, refBall), metricBall(8, refBallMetric),
}

func inchBall(thirtySeconds int, ref Reference) Ball {
	inches := float64(thirtySeconds) / 32
	text, _ := fractionOfInch(inches)
	return Ball{MM: inches * Inch, Inch: text, Reference: ref}
}

func metricBall(mm float64, ref Reference) Ball { return Ball{MM: mm, Reference: ref} }

// String is "5/32 in" or "4 mm"; [ParseBall] reads it back.
func (b Ball) String() string {
	if b.Inch != "" {
		return b.Inch + " in"
	}
	return trim(b.MM) + " mm"
}

// namedWithin is how far a written decimal may lie from the ball it names: catalogues round 3.96875 to 3.97.
const namedWithin = 0.02

// ParseBall reads a ball size: "5/32", "0.15625 in", "3.97 mm", "1/4\"", "4 mm". A bare decimal of one or more is
// millimetres, below one inches. A size that is no standard ball is an error naming the nearest ones. A point typed for a
// slash is noticed: 5.32 is no ball but 5/32 is, and 3.16 could be 1/8 in (3.175 mm) or 3/16, which is asked.
func ParseBall(s string) (Ball, error) {
	const what = "a ball size"
	value, unit, err := length(s)
	if err != nil {
		return Ball{}, &ReadingError{What: what, Input: s, Problem: "write a fraction of an inch (5/32) or millimetres (3.97 mm)"}
	}
	mm := value
	if unit == UnitInch || (unit == UnitNone && value < 1) {
		mm = value * Inch
	}
	near := ballsNear(mm)
	fraction, mistyped := slashForPoint(value)
	mistyped = mistyped && unit == UnitNone
	if math.Abs(near[0].MM-mm) <= namedWithin {
		if mistyped {
			return only(what, s, "write the fraction with a slash, or the unit: "+trim(value)+" mm", []Ball{near[0], fraction})
		}
		return near[0], nil
	}
	problem := fmt.Sprintf("no standard ball measures %s mm", trim(round(mm, 3)))
	names := []string{describeBall(near[0]), describeBall(near[1])}
	if mistyped {
		problem += fmt.Sprintf(" (was the fraction %s meant?)", fraction.Inch)
		names = append([]string{describeBall(fraction)}, names...)
	}
	return Ball{}, &ReadingError{What: what, Input: s, Problem: problem, Nearest: names}
}

func describeBall(b Ball) string {
	if b.Inch == "" {
		return b.String()
	}
	return fmt.Sprintf("%s (%s mm)", b, trim(round(b.MM, 3)))
}

// ballsNear are all balls by how near they are to mm.
func ballsNear(mm float64) []Ball {
	near := Balls()
	sort.SliceStable(near, func(i, j int) bool { return math.Abs(near[i].MM-mm) < math.Abs(near[j].MM-mm) })
	return near
}

// slashForPoint finds the fraction that a decimal such as 5.32 or 3.16 was probably meant to be.
func slashForPoint(v float64) (Ball, bool) {
	for _, b := range balls {
		var above, below int
		if n, _ := fmt.Sscanf(b.Inch, "%d/%d", &above, &below); n != 2 {
			continue
		}
		digits := 10.0
		if below > 9 {
			digits = 100
		}
		if math.Abs(v-(float64(above)+float64(below)/digits)) < 1e-9 {
			return b, true
		}
	}
	return Ball{}, false
}

// steelDensity is that of bearing steel, 7.85 g/cm³, in grams a cubic millimetre.
const steelDensity = 7.85e-3

// MassG is the mass of one steel ball in grams: weighing a hundred tells 5/32 in from 4 mm, which a caliper cannot.
func (b Ball) MassG() float64 { return math.Pi / 6 * b.MM * b.MM * b.MM * steelDensity }

// BallCount is how many balls fill a ring: the most that fit, and the room that is left over in balls (always less than
// one).
type BallCount struct {
	Most int     `json:"most"`
	Room float64 `json:"room_in_balls"`
}

// CountBalls works out how many balls of ballMM fit on a pitch circle (the circle through their centres) of pitchMM.
// Neighbours' centres are pitch·sin(π/n) apart, which must be at least one ball.
// To get the pitch circle with a caliper, measure across the outside of the ball ring and take one ball off.
//
// Workshops fill a race and take one ball out again; no published text settles whether that means Most or one fewer,
// so count what comes out and compare.
func CountBalls(pitchMM, ballMM float64) (BallCount, error) {
	if !(ballMM > 0) || !(pitchMM > ballMM) || math.IsInf(pitchMM, 0) {
		return BallCount{}, fmt.Errorf("balls of %s mm cannot lie on a circle of %s mm: the circle through their centres must be larger than one ball", trim(ballMM), trim(pitchMM))
	}
	fill := math.Pi / math.Asin(ballMM/pitchMM)
	most := math.Floor(fill + 1e-9) // exact fits come out a hair low in floating point
	return BallCount{Most: int(most), Room: math.Max(0, fill-most)}, nil
}
