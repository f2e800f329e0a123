package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSpokePublished(t *testing.T) {
	type row struct {
		cite
		Text   string  `json:"text"`
		Elbow  float64 `json:"elbow_mm"`
		Middle float64 `json:"middle_mm"`
		End    float64 `json:"end_mm"`
		Thread string  `json:"thread"` // absent where no thread is published for the wire
	}
	for _, c := range readCases[row](t, "spokes.json") {
		t.Run(c.Case, func(t *testing.T) {
			s, err := ParseSpoke(c.Text)
			require.NoError(t, err)
			require.Equal(t, Spoke{c.Elbow, c.Middle, c.End}, s)
			if c.Thread != "" {
				thread, ok := SpokeThread(s.EndMM)
				require.True(t, ok)
				require.Equal(t, c.Thread, thread.String())
			}
		})
	}
}

func TestSpokeLengthPublished(t *testing.T) {
	type row struct {
		cite
		ERD     float64 `json:"erd_mm"`
		Flange  float64 `json:"flange_mm"`
		Offset  float64 `json:"offset_mm"`
		Spokes  int     `json:"spokes"`
		Crosses int     `json:"crosses"`
		Hole    float64 `json:"hole_mm"`
		Length  float64 `json:"length_mm"`
		Within  float64 `json:"within"` // half the last figure that the page prints
	}
	for _, c := range readCases[row](t, "spoke_lengths.json") {
		t.Run(c.Case, func(t *testing.T) {
			require.InDelta(t, c.Length, SpokeLengthMM(c.ERD, c.Flange, c.Offset, c.Spokes, c.Crosses, c.Hole), c.Within)
		})
	}
}

func TestParseSpokeRefuses(t *testing.T) {
	for in, says := range map[string]string{
		"265 mm": "is it a length?", "DB 2.0": "needs two figures", "1.8/2.0": "turned round", "20g": "from 12 (2.6 mm) to 17",
		"French 14": "run the other way", "spokes": "write a gauge", "": "nothing is written", "0.5": "between 0.8 and 3.5",
	} {
		_, err := ParseSpoke(in)
		require.ErrorContains(t, err, says, in)
	}
}

func TestSpokeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wires := []float64{1.4, 1.5, 1.6, 1.8, 2.0, 2.3, 2.6}
		s := Spoke{rapid.SampledFrom(wires).Draw(t, "elbow"), rapid.SampledFrom(wires).Draw(t, "middle"), rapid.SampledFrom(wires).Draw(t, "end")}
		if s.MiddleMM > s.ElbowMM {
			return
		}
		again, err := ParseSpoke(s.String())
		if err != nil || again != s {
			t.Fatalf("%s reads back as %s: %v", s, again, err)
		}
	})
}

func FuzzParseSpoke(f *testing.F) {
	for _, seed := range []string{"14g", "DB 2.0/1.8", "2.0/1.8/2.0", "French 13", "SB 2.3/2.0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		spoke, err := ParseSpoke(s)
		if err != nil {
			return
		}
		for _, mm := range []float64{spoke.ElbowMM, spoke.MiddleMM, spoke.EndMM} {
			require.True(t, mm >= 0.8 && mm <= 3.5, "%q has wire of %g mm", s, mm)
		}
	})
}
