package standard

import (
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
			h, err := ParseHeadset(c.Code)
			require.NoError(t, err)
			require.Equal(t, c.Canonical, h.String())
			require.Equal(t, []float64{c.UpperBore, c.Steerer, c.LowerBore, c.Crown}, []float64{h.Upper.BoreMM, h.Upper.SeatMM, h.Lower.BoreMM, h.Lower.SeatMM})
		})
	}
}

func TestParseHeadsetRefuses(t *testing.T) {
	for name, c := range map[string]struct{ in, says string }{
		"lower without its crown": {"EC34/28.6 | EC34", "second number is missing"},
		"one end":                 {"EC34/28.6", "it has 1 ends and needs two"},
		"three ends":              {"EC34/28.6 | EC34/30 | ZS44/30", "it has 3 ends"},
		"a description":           {"tapered headset with spacers", "is no part of a headset code"},
		"no such bore":            {"EC94/28.6 | EC34/30", "no head tube has a bore of 94"},
		"a seat from nowhere":     {"EC34/28.6 | EC34/60", "does not go with that bore"},
		"nothing":                 {"", "nothing is written"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseHeadset(c.in)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestHeadsetRoundTrip(t *testing.T) {
	draw := func(t *rapid.T, seat float64) HeadsetEnd {
		kind := rapid.SampledFrom([]string{"EC", "ZS", "IS"}).Draw(t, "type")
		end := HeadsetEnd{kind, rapid.SampledFrom(headsetBores[kind]).Draw(t, "bore"), seat}
		if !end.ListedBore() {
			t.Fatalf("%s is listed", end)
		}
		return end
	}
	rapid.Check(t, func(t *rapid.T) {
		h := Headset{draw(t, rapid.SampledFrom([]float64{25.4, 28.6, 31.8}).Draw(t, "steerer")), draw(t, rapid.SampledFrom([]float64{26.4, 27, 30, 33, 40}).Draw(t, "crown"))}
		if h.Lower.SeatMM == 40 && h.Lower.BoreMM < 34 || h.Lower.SeatMM >= h.Lower.BoreMM+12 {
			return
		}
		again, err := ParseHeadset(h.String())
		if err != nil || again != h {
			t.Fatalf("%s reads back as %s: %v", h, again, err)
		}
	})
}

func FuzzParseHeadset(f *testing.F) {
	for _, seed := range []string{"EC34/28.6 | ZS44/30", "ZS44/28.6/ZS56/40", "upper EC34/28.6 lower EC34/30"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h, err := ParseHeadset(s)
		if err != nil {
			return
		}
		again, err := ParseHeadset(h.String())
		require.NoError(t, err)
		require.Equal(t, h, again)
	})
}
