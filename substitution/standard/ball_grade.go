package standard

import "fmt"

// BallGrade is how round and how alike the balls of a lot are. The number is roughly the roundness in millionths of
// an inch. No caliper shows it: even the worst grade here is 25 µm out.
type BallGrade struct {
	Grade           int     `json:"grade"`
	VariationMicron float64 `json:"variation_micron"`     // largest diameter less smallest of one ball
	LotMicron       float64 `json:"lot_variation_micron"` // between balls of one lot
	ISO             bool    `json:"iso"`                  // false: an American grade beyond ISO 3290-1, which ends at 200
	Reference       `json:"reference"`
}

// String is "G100".
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
