package standard

import (
	"fmt"
	"strconv"
	"strings"
)

// BallGrade is how round and how alike the balls of a lot are. The number is roughly the roundness in millionths of
// an inch. No caliper shows it: even the worst grade here is 25 µm out.
type BallGrade struct {
	Grade           int     `json:"grade"`
	VariationMicron float64 `json:"variation_micron"`     // largest diameter less smallest of one ball
	LotMicron       float64 `json:"lot_variation_micron"` // between balls of one lot
	ISO             bool    `json:"iso"`                  // false: an American grade beyond ISO 3290-1, which ends at 200
	Reference       `json:"reference"`
}

// String is "G100"; [ParseBallGrade] reads it back.
func (g BallGrade) String() string { return fmt.Sprintf("G%d", g.Grade) }

var (
	refGrades   = Reference{"ISO 3290-1:2014 grade table, as ball makers republish it", Catalogue}
	refUSGrades = Reference{"ANSI/AFBMA Std 10-1989 grade table", Published}
)

var ballGrades = []BallGrade{
	{3, 0.08, 0.13, true, refGrades}, {5, 0.13, 0.25, true, refGrades}, {10, 0.25, 0.5, true, refGrades},
	{16, 0.4, 0.8, true, refGrades}, {20, 0.5, 1, true, refGrades}, {24, 0.6, 1.2, true, refGrades},
	{28, 0.7, 1.4, true, refGrades}, {40, 1, 2, true, refGrades}, {60, 1.5, 3, true, refGrades},
	{100, 2.5, 5, true, refGrades}, {200, 5, 10, true, refGrades},
	{500, 13, 25, false, refUSGrades}, {1000, 25, 50, false, refUSGrades},
}

// BallGrades are the grades in the table, finest first.
func BallGrades() []BallGrade { return append([]BallGrade(nil), ballGrades...) }

// ParseBallGrade reads "G25"-style grades: "G100", "grade 24", "200". 25 and 50 are trade names that no standard
// lists; they are errors that name the neighbours.
func ParseBallGrade(s string) (BallGrade, error) {
	const what = "a ball grade"
	if err := checkText(what, s); err != nil {
		return BallGrade{}, err
	}
	digits := strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(plain(s), "grade"), "g"))
	n, err := strconv.Atoi(digits)
	if err != nil || n <= 0 {
		return BallGrade{}, &ReadingError{What: what, Input: s, Problem: "write G and a number, such as G100"}
	}
	var below, above string
	for _, g := range ballGrades {
		switch {
		case g.Grade == n:
			return g, nil
		case g.Grade < n:
			below = g.String()
		case above == "":
			above = g.String()
		}
	}
	nearest := []string{below, above}
	if below == "" || above == "" {
		nearest = []string{below + above}
	}
	return BallGrade{}, &ReadingError{What: what, Input: s, Problem: "neither ISO 3290-1 nor the American list has that grade; 25 and 50 are trade names", Nearest: nearest}
}
