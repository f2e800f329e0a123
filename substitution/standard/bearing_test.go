package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestBearingPublished(t *testing.T) {
	type row struct {
		cite
		Designation string    `json:"designation"`
		MM          []float64 `json:"mm"` // bore, outer, width
		Seal        Seal      `json:"seal"`
		Name        string    `json:"name"`
	}
	for _, c := range readCases[row](t, "bearings.json") {
		t.Run(c.Case, func(t *testing.T) {
			b, err := ParseBearing(c.Designation)
			require.NoError(t, err)
			width, known := b.WidthMM()
			require.True(t, known, "the designation settles the width")
			require.InDeltaSlice(t, c.MM, []float64{b.BoreMM, b.OuterMM, width}, 5e-4)
			require.Equal(t, c.Seal, b.Seal)
			if c.Name != "" {
				require.Equal(t, c.Name, b.Name)
			}
		})
	}
}

// Public size lists carry slips; a checker must catch each of them, and pass the right figures.
func TestCheckBearingCatchesKnownErrors(t *testing.T) {
	type row struct {
		cite
		Designation string     `json:"designation"`
		Wrong       [3]float64 `json:"wrong"`
		Right       [3]float64 `json:"right"`
		Says        string     `json:"says"`
	}
	for _, c := range readCases[row](t, "bearing_errors.json") {
		t.Run(c.Case, func(t *testing.T) {
			err := checkBearing(c.Designation, c.Wrong[0], c.Wrong[1], c.Wrong[2])
			require.ErrorContains(t, err, c.Says)
			require.NoError(t, checkBearing(c.Designation, c.Right[0], c.Right[1], c.Right[2]))
		})
	}
}

func TestParseBearingAsks(t *testing.T) {
	for name, c := range map[string]struct {
		in       string
		readings []string
		ask      string
	}{
		"wide or stainless":         {"W688ZZ", []string{"688-ZZ", "SS 688-ZZ"}, "wider shielded version"},
		"wide or stainless, spaced": {"W 688", []string{"688-ZZ", "SS 688"}, "whose number"},
		"flange or stainless":       {"F688ZZ", []string{"FL 688-ZZ", "SS 688-ZZ"}, "outer ring"},
		"one row or two":            {"17x26x7", []string{"63803", "3803"}, "rows of balls"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseBearing(c.in)
			var ambiguous *AmbiguousError
			require.ErrorAs(t, err, &ambiguous)
			require.Equal(t, c.readings, ambiguous.Readings)
			require.Contains(t, ambiguous.Ask, c.ask)
		})
	}
}

func TestParseBearingRefuses(t *testing.T) {
	for name, c := range map[string]struct{ in, says string }{
		"nothing":                  {" ", "nothing is written"},
		"a description":            {"bottom bracket bearing", "no bearing number"},
		"a long description":       {"sealed cartridge bearing for the drive side of a bottom bracket with 24 mm axle, pair", "it is a description"},
		"bore larger than outer":   {"28x15x7", "6902 (15 × 28 × 7)"},
		"a ball":                   {"5/32", "no bearing number"},
		"one figure wrong":         {"6912", "6902 (15 × 28 × 7)"},
		"a colour behind":          {"6902 black", `the mark "BLACK"`},
		"shielded and sealed":      {"6902 ZZ 2RS", "contradicts"},
		"two clearances":           {"6902 C2 C3", "contradicts"},
		"width not in the name":    {"MR128", "its width is not in the name"},
		"metres":                   {"150x280x7", "no size of the table"},
		"zero":                     {"0x28x7", "more than nothing"},
		"an impossible width":      {"15x16x7", "narrower than that"},
		"number against sizes":     {"6902 2RS (15x26x7)", "the number and the sizes beside it disagree: 6902 is 15 × 28 × 7"},
		"no such size":             {"15x26x6", "15267"},
		"digits that are no sizes": {"70307", "no bearing of the table"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseBearing(c.in)
			require.Error(t, err)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestBearingWidthNeedsSealUnderTenMillimetres(t *testing.T) {
	b, err := ParseBearing("688")
	require.NoError(t, err)
	_, known := b.WidthMM()
	require.False(t, known, "688 is 4 mm wide open and 5 closed, and the name does not say which")
}

func TestBicycleSizesAreFlagged(t *testing.T) {
	for _, in := range []string{"15267", "17287-2RS", "MR24377", "163110 2RS"} {
		b, err := ParseBearing(in)
		require.NoError(t, err)
		require.False(t, b.ISO, in)
		require.False(t, b.Confidence.Firm(), in)
	}
	iso, err := ParseBearing("61802")
	require.NoError(t, err)
	require.True(t, iso.ISO, "61802 is ISO before it is 61 × 80 × 2")
	require.Equal(t, "6802", iso.Name)
}

func TestBoreOfCode(t *testing.T) { // a bearing maker's catalogue, 61000 series table
	for code, want := range map[int]float64{0: 10, 1: 12, 2: 15, 3: 17, 4: 20, 5: 25, 10: 50} {
		got, err := boreOfCode(code)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	for _, code := range []int{-1, 97} {
		_, err := boreOfCode(code)
		require.Error(t, err)
	}
}

// The 108 sizes of the six ISO series can be bearings, and no two closed ones are alike, so that a caliper can name them.
func TestISOSeriesAreDistinct(t *testing.T) {
	seen := map[[3]float64]string{}
	for _, s := range BearingSizes()[:108] {
		require.Empty(t, possibleBearing(s.BoreMM, s.OuterMM, s.ClosedMM), s.Name)
		key := [3]float64{s.BoreMM, s.OuterMM, s.ClosedMM}
		require.Empty(t, seen[key], s.Name)
		seen[key] = s.Name
	}
	require.Len(t, seen, 108)
}

func TestEveryBearingNameIsItsOwn(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range BearingSizes() {
		for _, name := range append([]string{s.Name}, s.Aliases...) {
			require.False(t, seen[name], name)
			seen[name] = true
			found, ok := BearingByName(name)
			require.True(t, ok)
			require.Equal(t, s.Name, found.Name)
		}
		require.NotEmpty(t, s.Source, s.Name)
	}
}

func TestBearingTolerance(t *testing.T) { // ISO 492 Normal class
	for name, c := range map[string]struct {
		bore, outer       float64
		boreLow, outerLow int
	}{
		"608": {8, 22, -8, -9}, "6902": {15, 28, -8, -9}, "6805": {25, 37, -10, -11}, "6210": {50, 90, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			bore, outer, width, _, ok := BearingTolerance(c.bore, c.outer)
			require.Equal(t, name != "6210", ok, "an outer over 80 mm is outside the table")
			if ok {
				require.Equal(t, c.boreLow, bore.LowMicron)
				require.Equal(t, c.outerLow, outer.LowMicron)
				require.Equal(t, -120, width.LowMicron)
			}
		})
	}
}

func drawBearing(t *rapid.T) Bearing {
	b := Bearing{BearingSize: rapid.SampledFrom(BearingSizes()).Draw(t, "size")}
	m := rapid.SampledFrom(bearingMarks).Draw(t, "mark")
	if m.apply == nil {
		b.Seal, b.Contact = m.seal, m.contact
	} else {
		m.apply(&b)
	}
	b.Clearance = rapid.SampledFrom([]string{"", "c2", "cn", "c3", "c4"}).Draw(t, "clearance")
	b.Stainless = rapid.Bool().Draw(t, "stainless")
	b.FullComplement = rapid.Bool().Draw(t, "full complement")
	return b
}

func TestBearingRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBearing(t)
		if b.Name[0] == 'M' {
			b.Stainless = false // MR is itself a prefix, and none stands before it
		}
		again, err := ParseBearing(b.String())
		if err != nil {
			t.Fatalf("%s: %v", b, err)
		}
		if again.String() != b.String() || again.Name != b.Name {
			t.Fatalf("%s reads back as %s", b, again)
		}
	})
}

func FuzzParseBearing(f *testing.F) {
	for _, seed := range []string{"6902-2RS", "W688ZZ", "15x28x7", "MR85", "R8", "60/22 LLU C3", "15267", "¼", "6902 2RS MAX", "MR71", "6902 2RS (15x28x7)"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		readings, err := bearingReadings(s)
		require.Equal(t, err == nil, len(readings) > 0)
		for _, b := range readings {
			require.Empty(t, possibleBearing(b.BoreMM, b.OuterMM, b.ClosedMM), "%q", s)
			_, err := bearingReadings(b.String())
			require.NoError(t, err, "%q reads as %s", s, b)
		}
	})
}
