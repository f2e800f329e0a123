package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestThreadPublished(t *testing.T) {
	type row struct {
		cite
		Thread     string  `json:"thread"`
		Name       string  `json:"name"`
		DiameterMM float64 `json:"diameter_mm"`
		PitchMM    float64 `json:"pitch_mm"`
		Left       bool    `json:"left"`
	}
	for _, c := range readCases[row](t, "threads.json") {
		t.Run(c.Case, func(t *testing.T) {
			thread, err := ParseThread(c.Thread)
			require.NoError(t, err)
			require.Equal(t, c.Name, thread.String())
			require.InDelta(t, c.DiameterMM, thread.DiameterMM, 0.04, "tables print one or two decimals: 32.8 for 1.29 in")
			require.InDelta(t, c.PitchMM, thread.PitchMM, 5e-4)
			require.Equal(t, c.Left, thread.Left)
		})
	}
}

func TestParseThreadRefuses(t *testing.T) {
	for name, c := range map[string]struct{ in, says string }{
		"a word":              {"freewheel thread", "write diameter x pitch"},
		"no pitch":            {"1.37", "pitch is missing"},
		"no pitch, asked":     {"M10", "M10x1"},
		"both hands":          {"9/16x20 left right", "both left and right"},
		"bolt and its length": {"M6x20", "a bolt and its length"},
		"a pipe":              {"120x2", "not in my list of bicycle threads"},
		"too coarse":          {"M6x3", "too coarse"},
		"inch with metric":    {"1.37x1", "turns to the inch"},
		"seven to the inch":   {"1.37x7", "8 and 80"},
		"no such spoke":       {"FG 2.2", "FG 1.8"},
		"nothing":             {"", "nothing is written"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseThread(c.in)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestThreadsThatLookAlikeAreNotTheSame(t *testing.T) {
	parse := func(s string) Thread {
		thread, err := ParseThread(s)
		require.NoError(t, err)
		return thread
	}
	require.False(t, parse("1.37x24 left").Same(parse("M35x1 left")), "English and Swiss drive side are 0.2 mm apart")
	require.False(t, parse("M9x1").Same(parse("3/8x26")))
	require.False(t, parse("M10x1").Same(parse("10x26")))
	require.False(t, parse("M35x1").Same(parse("M35x1 left")), "French and Swiss differ by hand alone")
	require.True(t, parse("3/8 x 26").Same(parse("BC 3/8")))
	// 34.7 mm belongs to the French thread, not to ISO 6698, whatever pages repeat.
	require.InDelta(t, 34.925, parse("1.375x24").DiameterMM, 1e-9)
}

func drawThread(t *rapid.T) Thread {
	left := rapid.Bool().Draw(t, "left")
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return inchThread(float64(rapid.IntRange(8, 96).Draw(t, "32nds"))/32, float64(rapid.IntRange(10, 60).Draw(t, "tpi")), left)
	case 1:
		return metricThread(float64(rapid.IntRange(8, 60).Draw(t, "mm")), rapid.SampledFrom([]float64{0.5, 0.8, 1, 1.25, 1.5, 1.75}).Draw(t, "pitch"), left)
	case 2:
		return mixedThread(float64(rapid.IntRange(6, 60).Draw(t, "mm")), float64(rapid.IntRange(10, 60).Draw(t, "tpi")), left)
	}
	known := rapid.SampledFrom(KnownThreads()).Draw(t, "known").Thread
	known.Left = known.Left || left
	return known
}

func TestThreadRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thread := drawThread(t)
		again, err := ParseThread(thread.String())
		if err != nil {
			t.Fatal(err)
		}
		if !again.Same(thread) || again.String() != thread.String() {
			t.Fatalf("%s reads back as %s", thread, again)
		}
	})
}

func FuzzParseThread(f *testing.F) {
	for _, seed := range []string{"1.37x24", "M10x1", "9/16x20 left", "BC 3/8", "FG 2.3", "36 x 24 tpi", "1 3/8 x 26 LH"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		thread, err := ParseThread(s)
		if err != nil {
			return
		}
		again, err := ParseThread(thread.String())
		require.NoError(t, err, "%q reads as %s", s, thread)
		require.True(t, again.Same(thread), "%q: %s then %s", s, thread, again)
	})
}

// One thread, the ways that lists and mechanics write it.
func TestThreadSpellings(t *testing.T) {
	for want, spellings := range map[string][]string{
		"9/16x20 left": {"9/16x20 left", `9/16" x 20 TPI LH`, "left 9/16 x 20", "9/16 x 20 (L)", "9/16 x 20t l", "BC 9/16 left-hand"},
		"1.37x24":      {`1.37"×24`, "1.37 in x 24tpi", "BSC 1.37 x 24", "1,37 x 24"},
		"M10x1":        {"M10x1", "m10 x 1.0 mm", "10x1", "M10×P1"},
		"3/8x26":       {"3/8 x 26", "BC 3/8", "0.375 x 26", "⅜ × 26"},
	} {
		for _, s := range spellings {
			thread, err := ParseThread(s)
			require.NoError(t, err, s)
			require.Equal(t, want, thread.String(), s)
		}
	}
}
