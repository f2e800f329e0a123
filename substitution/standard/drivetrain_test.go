package standard

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSprocketStackPublished(t *testing.T) {
	type row struct {
		cite
		Speeds  int     `json:"speeds"`
		System  string  `json:"system"`
		StackMM float64 `json:"stack_mm"`
	}
	for _, c := range readCases[row](t, "sprocket_stacks.json") {
		t.Run(c.Case, func(t *testing.T) {
			i := slices.IndexFunc(CogPitches(), func(p CogPitch) bool { return p.Speeds == c.Speeds && p.System == c.System })
			require.GreaterOrEqual(t, i, 0)
			p := CogPitches()[i]
			require.InDelta(t, c.StackMM, p.PitchMM*float64(p.Speeds-1)+p.CogMM, 0.005, "first face to last")
		})
	}
}

func TestFreehubFitPublished(t *testing.T) {
	type row struct {
		cite
		Body    string  `json:"body"`
		Set     string  `json:"set"`
		Speeds  int     `json:"speeds"`
		Fits    bool    `json:"fits"`
		Spacers float64 `json:"spacers_mm"` // all of them together
	}
	for _, c := range readCases[row](t, "freehub_fits.json") {
		t.Run(c.Case, func(t *testing.T) {
			i := slices.IndexFunc(FreehubFits(), func(f FreehubFit) bool {
				return f.Body == c.Body && f.Set == c.Set && slices.Contains(f.Speeds, c.Speeds)
			})
			require.GreaterOrEqual(t, i, 0)
			fit := FreehubFits()[i]
			require.Equal(t, c.Fits, fit.Fits)
			total := 0.0
			for _, mm := range fit.Spacers {
				total += mm
			}
			require.InDelta(t, c.Spacers, total, 1e-9)
		})
	}
}

// Shifter and derailleur pages: 2.8 × 1.7 is 4.76 for a pitch of 4.8, 3.4 × 1.2 is 4.08, and mixing 1.1 with 3.4 loses
// 0.34 a click.
func TestPullFamilyTravel(t *testing.T) {
	travel := func(family string, speeds int) PullFamily {
		i := slices.IndexFunc(PullFamilies(), func(p PullFamily) bool { return p.Family == family && p.Speeds == speeds })
		require.GreaterOrEqual(t, i, 0)
		return PullFamilies()[i]
	}
	eight, ten := travel("r1.7", 8), travel("r1.2", 10)
	require.InDelta(t, 4.76, eight.PullMM*eight.Ratio, 1e-9)
	require.InDelta(t, 4.08, ten.PullMM*ten.Ratio, 1e-9)
	require.InDelta(t, 0.34, ten.PullMM*(1.2-1.1), 1e-9)
	for _, p := range PullFamilies() {
		require.InDelta(t, p.PitchMM, p.PullMM*p.Ratio, 0.5, "%s %d", p.Family, p.Speeds)
		require.NotEmpty(t, p.Source)
	}
}

func TestConfidenceWords(t *testing.T) {
	require.Equal(t, Memory, Reference{}.Confidence, "a row that forgets to say is not trusted")
	require.False(t, Memory.Firm())
	for c := Memory; c <= Published; c++ {
		text, err := c.MarshalText()
		require.NoError(t, err)
		var back Confidence
		require.NoError(t, back.UnmarshalText(text))
		require.Equal(t, c, back)
		require.Equal(t, c != Memory, c.Firm())
	}
	var c Confidence
	require.ErrorContains(t, c.UnmarshalText([]byte("certain")), "is not a confidence")
	require.Panics(t, func() { _ = Confidence(9).String() })
}
