package standard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestBallPublished(t *testing.T) {
	type row struct {
		cite
		Size        string  `json:"size"`
		MM          float64 `json:"mm"`
		Inch        string  `json:"inch"`
		ThousandsKG float64 `json:"thousand_kg"` // absent where the standard prints no mass
	}
	for _, c := range readCases[row](t, "balls.json") {
		t.Run(c.Case, func(t *testing.T) {
			b, err := ParseBall(c.Size)
			require.NoError(t, err)
			require.InDelta(t, c.MM, b.MM, 1e-9)
			require.Equal(t, c.Inch, b.Inch)
			if c.ThousandsKG != 0 {
				require.InEpsilon(t, c.ThousandsKG, b.MassG(), 0.005, "a gram a ball is a kilogram a thousand; printed to three figures")
			}
		})
	}
}

func TestBallCountPublished(t *testing.T) {
	type row struct {
		cite
		PitchMM float64 `json:"pitch_mm"`
		BallMM  float64 `json:"ball_mm"`
		Fill    float64 `json:"fill"`
		Most    int     `json:"most"`
	}
	for _, c := range readCases[row](t, "ball_counts.json") {
		t.Run(c.Case, func(t *testing.T) {
			n, err := CountBalls(c.PitchMM, c.BallMM)
			require.NoError(t, err)
			require.Equal(t, c.Most, n.Most)
			require.InDelta(t, c.Fill, float64(n.Most)+n.Room, 5e-4)
		})
	}
}

func TestParseBallRefuses(t *testing.T) {
	for name, c := range map[string]struct{ in, says string }{
		"point for slash":     {"5.32", "was the fraction 5/32 meant?"},
		"slash or decimal":    {"3.16", "1/8 in or 3/16 in"},
		"a description":       {"quarter inch", "write a fraction"},
		"between sizes":       {"6.3 mm", "1/4 in (6.35 mm)"},
		"nothing under line":  {"5/0", "write a fraction"},
		"a negative":          {"-4", "write a fraction"},
		"an enormous ball":    {"25 mm", "no standard ball measures 25 mm"},
		"three decimals":      {"4.333", "nearest"},
		"inches for millis":   {"3.97 in", "no standard ball"},
		"nothing at all":      {"", "write a fraction"},
		"grease, not a ball":  {"6.35 mm grease", "write a fraction"},
		"two sizes, one line": {"1/4 5/32", "write a fraction"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseBall(c.in)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestBallsAreSortedAndTold(t *testing.T) {
	sizes := Balls()
	for i, b := range sizes {
		require.NotEmpty(t, b.Source)
		if i > 0 {
			require.Greater(t, b.MM, sizes[i-1].MM)
			require.Greater(t, b.MM-sizes[i-1].MM, 0.02+1e-9, "two balls closer than a written decimal can tell")
		}
	}
}

func TestBallRoundTrip(t *testing.T) {
	for _, b := range Balls() {
		again, err := ParseBall(b.String())
		require.NoError(t, err)
		require.Equal(t, b, again)
	}
}

func TestBallGrades(t *testing.T) { // ISO 3290-1:2014 and AFBMA Std 10-1989 grade tables
	byName := map[string]BallGrade{}
	for _, g := range BallGrades() {
		byName[g.String()] = g
	}
	for name, variation := range map[string]float64{"G3": 0.08, "G24": 0.6, "G100": 2.5, "G200": 5, "G1000": 25} {
		require.Equal(t, variation, byName[name].VariationMicron, name)
		require.Equal(t, name != "G1000", byName[name].ISO, name)
	}
	for _, ofTheTrade := range []string{"G25", "G50"} {
		require.NotContains(t, byName, ofTheTrade, "no standard lists it")
	}
}

func TestCountBallsRefuses(t *testing.T) {
	for _, c := range [][2]float64{{6.35, 6.35}, {5, 6.35}, {0, 3}, {-20, 3}, {20, 0}, {20, -1}, {math.NaN(), 3}, {20, math.NaN()}, {math.Inf(1), 3}} {
		_, err := CountBalls(c[0], c[1])
		require.ErrorContains(t, err, "larger than one ball")
	}
}

// As many balls as CountBalls says fit side by side on the circle, and one more does not.
func TestCountBallsFitsAndNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ball := rapid.Float64Range(1, 10).Draw(t, "ball")
		pitch := rapid.Float64Range(ball*1.2, 80).Draw(t, "pitch")
		n, err := CountBalls(pitch, ball)
		if err != nil {
			t.Fatal(err)
		}
		chord := func(n int) float64 { return pitch * math.Sin(math.Pi/float64(n)) }
		if n.Most > 1 && chord(n.Most) < ball-1e-6 || chord(n.Most+1) >= ball+1e-6 {
			t.Fatalf("%d balls of %g on %g", n.Most, ball, pitch)
		}
		if n.Room < 0 || n.Room >= 1 {
			t.Fatalf("room for %g balls", n.Room)
		}
	})
}

func FuzzParseBall(f *testing.F) {
	for _, seed := range []string{"5/32", "3.97 mm", "¼", "5.32", "0.15625 in", "1-1/2"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ParseBall(s)
		if err != nil {
			return
		}
		again, err := ParseBall(b.String())
		require.NoError(t, err)
		require.Equal(t, b, again, "%q", s)
	})
}
