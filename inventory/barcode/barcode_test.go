package barcode

import (
	"strings"
	"testing"

	"github.com/boombuler/barcode/ean"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

func TestRead(t *testing.T) {
	for name, c := range map[string]struct {
		scanned string
		want    Code
	}{
		// GS1 General Specifications, section 7.9.1: the worked example of a check digit.
		"GS1's worked example": {"6291041500213", Code{GTIN: "6291041500213"}},
		// Its sum there is 57; an indicator of 1 in front weighs 3 more, which makes 60, so the check digit of a box is 0.
		"a box of it": {"16291041500210", Code{GTIN: "6291041500213", Box: true}},
		// The same with an indicator of 0 is the article itself; weights by hand: 0 in front changes no sum.
		"fourteen digits of one": {"06291041500213", Code{GTIN: "6291041500213"}},
		// By hand, weights 3 1 3 1 3 1 3 of 9 6 3 8 5 0 7: 27+6+9+8+15+0+21 = 86, so 4.
		"eight digits": {"96385074", Code{GTIN: "0000096385074"}},
		// By hand, weights 3 1 3 … of 1 2 3 4 5 6 7 8 9 0 1: 3+2+9+4+15+6+21+8+27+0+3 = 98, so 2.
		"twelve digits": {"123456789012", Code{GTIN: "0123456789012"}},
		// The GTIN is what GS1's introduction to its Digital Link shows, as remembered; its check digit was reckoned above.
		"an element string":         {"]C10109506000134352\x1d10ABC", Code{Text: "0109506000134352 10ABC", GTIN: "9506000134352"}},
		"one that goes on":          {"010950600013435217201231", Code{GTIN: "9506000134352"}},
		"one as people read it":     {"(01)09506000134352(10)ABC", Code{GTIN: "9506000134352"}},
		"a symbol's own sign":       {"\x1d0109506000134352", Code{Text: "0109506000134352", GTIN: "9506000134352"}},
		"a digital link":            {"https://example.org/01/09506000134352?17=201231", Code{GTIN: "9506000134352"}},
		"a link to something else":  {"https://example.org/01/0950600013435", Code{}},
		"a wrong check digit":       {"6291041500214", Code{}},
		"two digits swapped":        {"6291045100213", Code{}},
		"as many digits as no GTIN": {"62910415002", Code{}},
		"nothing but zeros":         {"00000000", Code{}},
		"a part's label":            {"part 71", Code{Label: &Label{Kind: "part", ID: 71}}},
		"in capital letters":        {"PART 71", Code{Label: &Label{Kind: "part", ID: 71}}},
		"a bike's":                  {"bike 1\r\n", Code{Text: "bike 1", Label: &Label{Kind: "bike", ID: 1}}},
		"a job's":                   {"job 101", Code{Label: &Label{Kind: "job", ID: 101}}},
		"a bin's":                   {"]C0bin D2", Code{Text: "bin D2", Label: &Label{Kind: "bin", Name: "D2"}}},
		"a bin of several words":    {"bin over the door", Code{Label: &Label{Kind: "bin", Name: "over the door"}}},
		"a number that none has":    {"part 999999999999999999999", Code{}},
		"a supplier's code":         {"HL-4711/B", Code{}},
		"spaces in it":              {" KES  B14 ", Code{Text: "KES B14"}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Read(c.scanned)
			require.NoError(t, err)
			if c.want.Text == "" {
				c.want.Text = c.scanned
			}
			require.Equal(t, c.want, got)
			if got.Label != nil {
				require.Equal(t, strings.ToLower(got.Text), strings.ToLower(got.Label.String()))
			}
		})
	}
	for name, scanned := range map[string]string{"nothing": "", "only spaces": " \t\n", "only a sign": "]C1", "a book": strings.Repeat("x", 201)} {
		_, err := Read(scanned)
		require.Error(t, err, name)
	}
}

func TestMisread(t *testing.T) {
	for scanned, want := range map[string]byte{"6291041500214": '3', "6291041500213": 0, "96385070": '4', "HL-4711": 0, "4711": 0} {
		c, err := Read(scanned)
		require.NoError(t, err)
		require.Equal(t, want, c.Misread(), scanned)
	}
}

// The check digit is that which the library of bar codes puts under its own, of both lengths that it knows.
func TestCheckDigitIsTheLibrarys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before := rapid.OneOf(rapid.StringMatching(`[0-9]{7}`), rapid.StringMatching(`[0-9]{12}`)).Draw(t, "digits")
		code, err := ean.Encode(before)
		require.NoError(t, err)
		require.Equal(t, code.Content(), before+string(CheckDigit(before)))
	})
}

// One digit misread, or two unlike neighbours swapped by other than five, is noticed: what the check digit is for.
func TestMisreadIsNoticed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before := rapid.OneOf(rapid.StringMatching(`[1-9][0-9]{6}`), rapid.StringMatching(`[1-9][0-9]{10,12}`)).Draw(t, "digits")
		right := before + string(CheckDigit(before))
		c, err := Read(right)
		require.NoError(t, err)
		require.NotEmpty(t, c.GTIN)
		at := rapid.IntRange(0, len(right)-1).Draw(t, "at")
		wrong := []byte(right)
		wrong[at] = '0' + (wrong[at]-'0'+byte(rapid.IntRange(1, 9).Draw(t, "by")))%10
		c, err = Read(string(wrong))
		require.NoError(t, err)
		require.Empty(t, c.GTIN)
		require.NotZero(t, c.Misread())
	})
}

func FuzzRead(f *testing.F) {
	for _, seed := range []string{"part 71", "bin D2", "6291041500213", "]C10109506000134352\x1d10ABC", "https://example.org/01/09506000134352", "\xff\xfe", "bin \x00"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, scanned string) {
		c, err := Read(scanned)
		if err != nil {
			return
		}
		require.NotEmpty(t, c.Text)
		if symbology.MatchString(c.Text) {
			return // a scanner says once as what it was printed
		}
		again, err := Read(c.Text)
		require.NoError(t, err)
		require.Equal(t, c.Label, again.Label)
		if c.GTIN != "" {
			require.Len(t, c.GTIN, 13)
			require.Equal(t, c.GTIN[12], CheckDigit(c.GTIN[:12]))
		}
	})
}
