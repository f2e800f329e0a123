package standard

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestHeadsetPublished(t *testing.T) {
	type row struct {
		cite
		Code      string  `json:"code"`
		Canonical string  `json:"canonical"`
		UpperBore float64 `json:"upper_bore_mm"`
		Steerer   float64 `json:"steerer_mm"`
		LowerBore float64 `json:"lower_bore_mm"`
		Crown     float64 `json:"crown_mm"`
	}
	for _, c := range readCases[row](t, "headsets.json") {
		t.Run(c.Case, func(t *testing.T) {
			codes := strings.Split(c.Canonical, " | ")
			require.Len(t, codes, 2)
			upper, err := ParseHeadsetEnd(codes[0])
			require.NoError(t, err)
			lower, err := ParseHeadsetEnd(codes[1])
			require.NoError(t, err)
			require.Equal(t, []float64{c.UpperBore, c.Steerer, c.LowerBore, c.Crown}, []float64{upper.BoreMM, upper.SeatMM, lower.BoreMM, lower.SeatMM})
		})
	}
}

func TestParseHeadsetEndRefuses(t *testing.T) {
	for name, c := range map[string]struct{ in, says string }{
		"lower without its crown": {"EC34", "second number is missing"},
		"two ends":                {"EC34/28.6 | EC34/30", "write type, bore and seat"},
		"a description":           {"tapered headset with spacers", "write type, bore and seat"},
		"no such bore":            {"EC94/28.6", "bore of 94 mm is not in my list"},
		"a seat from nowhere":     {"EC34/60", "does not go with that bore"},
		"nothing":                 {"", "nothing is written"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseHeadsetEnd(c.in)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestHeadsetEndRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		end := HeadsetEnd{rapid.SampledFrom([]string{"EC", "ZS", "IS"}).Draw(t, "type"),
			rapid.SampledFrom([]float64{30, 34, 38, 41, 42, 44, 49, 52, 55, 56, 62}).Draw(t, "bore"), rapid.SampledFrom([]float64{25.4, 26.4, 27, 28.6, 30, 31.8, 33, 40}).Draw(t, "seat")}
		if end.SeatMM >= end.BoreMM+12 {
			return
		}
		again, err := ParseHeadsetEnd(end.String())
		if err != nil || again != end {
			t.Fatalf("%s reads back as %s: %v", end, again, err)
		}
	})
}

func FuzzParseHeadsetEnd(f *testing.F) {
	for _, seed := range []string{"EC34/28.6", "ZS44/30", "upper EC34/28.6", "zs56 40mm lower"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		end, err := ParseHeadsetEnd(s)
		if err != nil {
			return
		}
		again, err := ParseHeadsetEnd(end.String())
		require.NoError(t, err)
		require.Equal(t, end, again)
	})
}
