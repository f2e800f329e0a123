package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestBoltCirclePublished(t *testing.T) {
	type row struct {
		cite
		Name        string  `json:"name"`
		BCDMM       float64 `json:"bcd_mm"`
		Bolts       int     `json:"bolts"`
		Adjacent    float64 `json:"adjacent_mm"`
		NonAdjacent float64 `json:"non_adjacent_mm"` // absent where the table does not print it
		MinTeeth    int     `json:"min_teeth"`       // absent where the table does not print it
	}
	for _, c := range readCases[row](t, "bolt_circles.json") {
		t.Run(c.Case, func(t *testing.T) {
			b, err := ParseBoltCircle(c.Name)
			require.NoError(t, err)
			require.Equal(t, c.BCDMM, b.BCDMM)
			require.Equal(t, c.Bolts, b.Bolts)
			require.Equal(t, c.MinTeeth, b.MinTeeth)
			require.Equal(t, PatternEven, b.Pattern)
			require.InDelta(t, c.Adjacent, AdjacentMM(b.BCDMM, b.Bolts), 0.3, "published tables differ by up to 0.2 mm")
			require.Equal(t, c.Adjacent, b.Adjacent)
			if c.NonAdjacent != 0 {
				require.InDelta(t, c.NonAdjacent, NonAdjacentMM(b.BCDMM, b.Bolts), 0.1)
			}
		})
	}
}

// A shop's table prints 53.3 mm between the holes of 5 × 92; geometry says 54.1, and 53.3 would be a circle of 90.7.
func TestPublishedSlipFor92IsCaught(t *testing.T) {
	require.InDelta(t, 54.08, AdjacentMM(92, 5), 0.01)
	require.InDelta(t, 90.7, BCDFromAdjacent(53.3, 5), 0.05)
}

// A cycling magazine's technical answers: 36 teeth cannot be drilled for 130, 38 can.
func TestRingClearsBolts(t *testing.T) {
	require.InDelta(t, 137.97, RootMM(36), 0.01)
	require.False(t, RingClearsBolts(36, 130))
	require.InDelta(t, 146.04, RootMM(38), 0.01)
	require.True(t, RingClearsBolts(38, 130))
}

func TestParseBoltCircleAsksAndRefuses(t *testing.T) {
	for in, says := range map[string]string{
		"110 bcd": "110 BCD 5-bolt or 110 BCD 4-bolt asymmetric", "94": "94 BCD 5-bolt or 94 BCD 4-bolt",
		"129/5": "nearest: 130 BCD 5-bolt, 128 BCD 5-bolt", "chainring": "write the circle and the number of bolts", "": "nothing is written",
		"104 and 64": "write the circle",
	} {
		_, err := ParseBoltCircle(in)
		require.ErrorContains(t, err, says, in)
	}
	four, err := ParseBoltCircle("110/4")
	require.NoError(t, err)
	require.Equal(t, PatternAsymmetric, four.Pattern, "every 4-bolt 110 in the table has unequal angles")
}

func TestBoltCircleRoundTrip(t *testing.T) {
	for _, b := range BoltCircles() {
		again, err := ParseBoltCircle(b.String())
		require.NoError(t, err)
		require.Equal(t, b, again)
		require.NotEmpty(t, b.Source)
	}
}

func TestBoltDistancesInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bcd := rapid.Float64Range(40, 160).Draw(t, "bcd")
		bolts := rapid.IntRange(3, 6).Draw(t, "bolts")
		if back := BCDFromAdjacent(AdjacentMM(bcd, bolts), bolts); back < bcd-1e-9 || back > bcd+1e-9 {
			t.Fatalf("%g came back as %g", bcd, back)
		}
		if bolts == 4 && (NonAdjacentMM(bcd, bolts) < bcd-1e-9 || NonAdjacentMM(bcd, bolts) > bcd+1e-9) {
			t.Fatalf("on four bolts the next but one is opposite")
		}
	})
}

func FuzzParseBoltCircle(f *testing.F) {
	for _, seed := range []string{"110 BCD 5-bolt", "5x110", "104/4", "110", "96 asymmetric 4 bolt"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ParseBoltCircle(s)
		if err != nil {
			return
		}
		again, err := ParseBoltCircle(b.String())
		require.NoError(t, err)
		require.Equal(t, b, again)
	})
}
