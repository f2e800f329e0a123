package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

func TestThruAxlePublished(t *testing.T) {
	type row struct {
		cite
		Text      string `json:"text"`
		Canonical string `json:"canonical"`
	}
	for _, c := range readCases[row](t, "thru_axles.json") {
		t.Run(c.Case, func(t *testing.T) {
			a, err := ParseThruAxle(c.Text)
			require.NoError(t, err)
			require.Equal(t, c.Canonical, a.String())
			require.Contains(t, a.String(), a.Key())
		})
	}
}

func TestParseThruAxleRefuses(t *testing.T) {
	for in, says := range map[string]string{
		"12x143": "nearest: 135, 141, 142, 148, 150", "12x142 P2": "1.0, 1.5 or 1.75", "13x142": "not 13", "12x142 L130": "20 to 30 mm longer",
		"quick release": "write diameter", "": "nothing is written", "12": "write diameter",
	} {
		_, err := ParseThruAxle(in)
		require.ErrorContains(t, err, says, in)
	}
}

func TestThruAxleRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := ThruAxle{DiameterMM: rapid.SampledFrom([]float64{12, 15}).Draw(t, "diameter"), OLNMM: rapid.SampledFrom(AxleWidths()).Draw(t, "width").OLNMM,
			PitchMM: rapid.SampledFrom([]float64{0, 1, 1.5, 1.75}).Draw(t, "pitch")}
		if rapid.Bool().Draw(t, "with length") {
			a.LengthMM = a.OLNMM + float64(rapid.IntRange(15, 40).Draw(t, "extra"))
		}
		again, err := ParseThruAxle(a.String())
		if err != nil || again != a {
			t.Fatalf("%s reads back as %s: %v", a, again, err)
		}
	})
}

func FuzzParseThruAxle(f *testing.F) {
	for _, seed := range []string{"12x142 P1.5", "15 x 100 mm", "12x142 M12x1.75 L171"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := ParseThruAxle(s)
		if err != nil {
			return
		}
		again, err := ParseThruAxle(a.String())
		require.NoError(t, err, "%q reads as %s", s, a)
		require.Equal(t, a, again)
	})
}
