package standard

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestTyrePublished(t *testing.T) {
	type row struct {
		cite
		Size        string  `json:"size"`
		ISO         string  `json:"iso"`
		OuterISO    float64 `json:"outer_iso_mm"`
		OuterSimple float64 `json:"outer_simple_mm"`
	}
	for _, c := range readCases[row](t, "tyres.json") {
		t.Run(c.Case, func(t *testing.T) {
			tyre, err := ParseTyre(c.Size)
			require.NoError(t, err)
			require.Equal(t, c.ISO, tyre.String())
			if c.OuterISO != 0 {
				require.Equal(t, c.OuterISO, tyre.OuterISO())
				require.Equal(t, c.OuterSimple, tyre.OuterSimple())
			}
		})
	}
}

func TestRimWidthPublished(t *testing.T) {
	type row struct {
		cite
		TyreMM int     `json:"tyre_mm"`
		RimMM  float64 `json:"rim_inner_mm"`
		Old    bool    `json:"before_2006"`
		New    bool    `json:"from_2006"`
	}
	for _, c := range readCases[row](t, "rim_widths.json") {
		t.Run(c.Case, func(t *testing.T) {
			for list, want := range map[RimList]bool{Before2006: c.Old, From2006: c.New} {
				at := slices.IndexFunc(TyreRanges(), func(r TyreRange) bool { return r.List == list && float64(r.RimMM) == c.RimMM })
				require.GreaterOrEqual(t, at, 0)
				r := TyreRanges()[at]
				require.Equal(t, want, c.TyreMM >= r.MinMM && c.TyreMM <= r.MaxMM, list)
			}
		})
	}
}

func TestInchNamesThatMeanSeveralTyres(t *testing.T) {
	for in, want := range map[string][]string{
		"24x1":     {"25-520", "25-540"},
		"20x1 3/4": {"44-451", "44-419"},
		"20x2":     {"51-428", "51-406"},
	} {
		_, err := ParseTyre(in)
		var ambiguous *AmbiguousError
		require.ErrorAs(t, err, &ambiguous, in)
		require.Equal(t, want, ambiguous.Readings)
		require.Contains(t, ambiguous.Ask, "sidewall")
	}
	readings, err := tyreReadings("26x1.25")
	require.NoError(t, err)
	require.Len(t, readings, 2, "559, and 599 on an old American bicycle from memory")
	tyre, err := ParseTyre("26x1.25")
	require.NoError(t, err)
	require.Equal(t, 559, tyre.BeadMM)
}

func TestParseTyreRefuses(t *testing.T) {
	for name, c := range map[string]struct{ in, says string }{
		"three parts and no ISO":  {"28 x 1 5/8 x 1 3/8", "does not settle the bead seat"},
		"no width":                {"650B", "not the width"},
		"name against figures":    {"26x1 3/8 (37-622)", "means a bead seat of 590 but the figures say 622"},
		"no such bead":            {"28-623", "622"},
		"no such width":           {"5-622", "5 mm wide"},
		"unlisted fraction":       {"26x1 1/8", "a decimal and a fraction of the same width are different tyres"},
		"a description":           {"folding tyre", "write it as on the sidewall"},
		"a rim":                   {"622x19C", "write it as on the sidewall|no wheel"},
		"eleven inches wide":      {"26x11", "write it as on the sidewall"},
		"two letters":             {"700B x 28C", "two different letters"},
		"a letter with no wheel":  {"700x28b", "no wheel of the table"},
		"nothing but punctuation": {"--", "write it as on the sidewall"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseTyre(c.in)
			require.Error(t, err)
			require.Regexp(t, c.says, err.Error())
		})
	}
}

func TestParseBead(t *testing.T) {
	for in, want := range map[string]int{"700C": 622, "29": 622, "650B": 584, `27.5"`: 584, "27½": 584, "622": 622, "ETRTO 559": 559, "27 in": 630, "650A": 590, "600A": 541} {
		b, err := ParseBead(in)
		require.NoError(t, err, in)
		require.Equal(t, want, b.MM, in)
	}
	for in, says := range map[string]string{"26": "559 or 590 or 597", "24": "507 or 520", "623": "622 (", "wheel": "write the bead seat", "": "nothing"} {
		_, err := ParseBead(in)
		require.ErrorContains(t, err, says)
	}
}

func TestBeadSeatsAreTheirOwn(t *testing.T) {
	last := 1000
	for _, b := range BeadSeats() {
		require.Less(t, b.MM, last)
		last = b.MM
		require.NotEmpty(t, b.Names)
		again, err := ParseBead(b.String())
		require.NoError(t, err)
		require.Equal(t, b.MM, again.MM)
	}
}

func TestRimRoundTrip(t *testing.T) {
	rim, err := ParseRim("622 x 19C")
	require.NoError(t, err)
	require.Equal(t, Rim{622, 19}, rim)
	again, err := ParseRim(rim.String())
	require.NoError(t, err)
	require.Equal(t, rim, again)
	for in, says := range map[string]string{"700x28C": "bead seat of 700", "622": "write bead seat x inner width", "622x05": "wide inside"} {
		_, err := ParseRim(in)
		require.ErrorContains(t, err, says)
	}
}

func TestTyreRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tyre := Tyre{WidthMM: rapid.IntRange(16, 130).Draw(t, "width"), BeadMM: rapid.SampledFrom(BeadSeats()).Draw(t, "bead").MM}
		again, err := ParseTyre(tyre.String())
		if err != nil {
			t.Fatal(err)
		}
		if again.WidthMM != tyre.WidthMM || again.BeadMM != tyre.BeadMM {
			t.Fatalf("%s reads back as %s", tyre, again)
		}
	})
}

func FuzzParseTyre(f *testing.F) {
	for _, seed := range []string{"28-622", "700 x 28C", "26 x 1.95 (53-559)", "27 × 1¼", "20x1 3/8", "650Bx47", "24x1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		readings, err := tyreReadings(s)
		require.Equal(t, err == nil, len(readings) > 0)
		for _, r := range readings {
			again, err := ParseTyre(r.String())
			require.NoError(t, err, "%q", s)
			require.Equal(t, r.BeadMM, again.BeadMM)
			require.Equal(t, r.WidthMM, again.WidthMM)
		}
	})
}
