package linebreak

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// The SI Brochure, 9th edition, 5.4.3: a space is between the number and the unit; the Chicago Manual of Style and the
// national style guides that keep both on one line: common practice, no source. An underscore is where no line ends.
func TestTie(t *testing.T) {
	for text, want := range map[string]string{
		"include VAT at 20 %; days are":            "include VAT at 20~%; days are",
		"9.54 m a turn in place of 9.94 m.":        "9.54~m a turn in place of 9.94~m.",
		"a 6902: 15 × 28 × 7 mm":                   "a 6902: 15~×~28~×~7~mm",
		"Wednesday 2 December, 9 in 10":            "Wednesday 2~December, 9~in~10",
		"sold 3 in bin A1, here in 10 days":        "sold 3~in bin A1, here in 10 days",
		"ball 3/16 in, grade 25":                   "ball 3/16~in, grade 25",
		"97 of 100 met":                            "97~of~100 met",
		"(20 min) and ½ in":                        "(20~min) and ½~in",
		"no figure, mm by itself, and May it be":   "no figure, mm by itself, and May it be",
		"6-bolt rotor, 116 links, 9 speeds, 48T m": "6-bolt rotor, 116 links, 9 speeds, 48T m",
		"right ______   wrong ______":              "right~______   wrong~______",
		"  4   %":                                  "  4   %",
		"":                                         "",
	} {
		require.Equal(t, want, strings.ReplaceAll(Tie(text), string(noBreak), "~"))
	}
	require.Equal(t, []string{"at", "20 %;", "by", "4 May"}, Words(" at 20 %;\nby 4 May "))
}

// Unicode Standard Annex 14 has a line end after a hyphen (class HY, BA), which parts a code that is read out or typed.
func TestWhole(t *testing.T) {
	for word, want := range map[string]bool{
		"TAR-CS9-1132": true, "(COR-R110-50O-B),": true, "9-speed": true, "11–32": true, "2026-12-01": true,
		"cone-and-cup": false, "TARCS9": false, "116": false, "": false,
		"R-1234567890-1234567890-12": false, // longer than a narrow line
	} {
		require.Equal(t, want, Whole(word), word)
	}
}

// Nothing is lost or added, and no word is parted that a space does not part.
func TestTieKeepsTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOf(rapid.SampledFrom([]string{"9", "in", "10", "%", "May", "×", "", "mm.", "¾", "x\ny"})).Draw(t, "words"), " ")
		require.Equal(t, text, strings.ReplaceAll(Tie(text), string(noBreak), " "))
		require.Equal(t, strings.Fields(text), strings.Fields(strings.Join(Words(text), " ")))
	})
}
