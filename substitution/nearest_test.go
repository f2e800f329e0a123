package substitution

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	families := make([]string, 0, len(Families()))
	for _, f := range Families() {
		families = append(families, string(f))
	}
	for name, c := range map[string]struct{ asked, first string }{
		"a letter too few": {"casette", "cassette"},
		"two changed":      {"chianring", "chainring"},
		"another case":     {"CHAIN", "chain"},
	} {
		t.Run(name, func(t *testing.T) { require.Equal(t, c.first, nearest(c.asked, families)[0]) })
	}
	// The worked example of the coefficient: night and nacht share one pair of four and four. With the ends of words, which
	// both have, three of six and six.
	require.InDelta(t, 2*3./12, likeness("night", "nacht"), 1e-9)
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z]{1,6}`), 0, 12, rapid.ID).Draw(t, "names")
		asked := rapid.String().Draw(t, "asked")
		near := nearest(asked, names)
		if len(near) != min(len(names), MostNamed) {
			t.Fatalf("%d of %d names", len(near), len(names))
		}
		if len(names) > 0 {
			if got := nearest(names[len(names)-1], names)[0]; got != names[len(names)-1] {
				t.Fatalf("%q is nearest to %q", got, names[len(names)-1])
			}
		}
	})
}

// Families have no order that a reader knows, so that the nearest stand by the alphabet.
func TestFamiliesByTheAlphabet(t *testing.T) {
	_, err := TableOf("zorbl")
	require.Error(t, err)
	_, list, _ := strings.Cut(err.Error(), "it is one of ")
	list, _, _ = strings.Cut(list, " and ")
	require.IsIncreasing(t, strings.Split(list, ", "))
	_, err = TableOf("casette")
	require.ErrorContains(t, err, "cassette")
}

// Whatever is not known, an error names at most five instead.
func TestErrorsNameFew(t *testing.T) {
	_, family := TableOf("zorbl")
	_, rule := RuleByID("cassette.zorbl")
	_, place := SiteOf("rear.zorbl")
	_, reading := ReadingOf("chain", "zorbl")
	typed := func(f Family, name string) error {
		table, err := TableOf(f)
		require.NoError(t, err)
		return table.Type(Spec{}, name, "zorbl", Measured)
	}
	dimension, word, colour, fixing := typed("cassette", "zorbl"), typed("chainring", "position"), typed("chain", "colour"), typed("sprocket", "fixing")
	for name, err := range map[string]error{"family": family, "rule": rule, "place": place, "reading": reading, "dimension": dimension, "word": word, "colour": colour, "fixing": fixing} {
		t.Run(name, func(t *testing.T) {
			require.ErrorContains(t, err, "zorbl")
			names, _, _ := strings.Cut(err.Error(), " more")
			require.LessOrEqual(t, strings.Count(names, ", "), MostNamed-1, "%v", err)
		})
	}
}
