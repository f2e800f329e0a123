package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// A word that no table has is one that a table has, where it is declined, cut short or without its vowels, and means
// one thing only.
func TestWordsWrittenOtherwise(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		text, family, dimension string
		want                    substitution.Value
	}{
		"declined, Italian":           {"Leve freno idrauliche", "brake-lever", "actuation", substitution.Text("hydraulic")},
		"declined, German":            {"Kette 9-fach braunen", "chain", "colour", substitution.Text("brown")},
		"cut short at a stop":         {"Speichen 2,0x290 zilv.", "spoke", "colour", substitution.Text("silver")},
		"cut short, in capitals":      {"KURBELGARN 170MM", "crankset", "arm_mm", substitution.Num(170)},
		"without vowels":              {"Spoke 264 mm slvr.", "spoke", "colour", substitution.Text("silver")},
		"cut short, of compounds":     {"SPATB.SET 45MM", "mudguard", "width_mm", substitution.Num(45)},
		"a decimal comma in a phrase": {"Federgabelöl 7,5W", "suspension-oil", "weight", substitution.Text("7.5W")},
	} {
		got := describe.Read(c.text)
		require.Equal(t, c.family, string(got.Family), name)
		require.Truef(t, got.Spec[c.dimension].Value.Equal(c.want), "%s: %v", name, got.Spec)
	}
}

// A word that only begins like a known one, or makes a tool of it, is left unread.
func TestWordsThatOnlyBeginAlike(t *testing.T) {
	t.Parallel()
	for _, word := range []string{"system", "string", "winter", "moment", "parallel", "breaks", "cannot", "convert", "remove"} {
		got := describe.Read("CHAIN 9SPD 116L " + word)
		require.Equal(t, "chain", string(got.Family), word)
		require.Equal(t, []string{word}, got.Unread, word)
	}
}

// A unit that counts is of no figure with decimals, and of a figure with a dash before it too.
func TestUnitsThatCount(t *testing.T) {
	t.Parallel()
	clamp := describe.Read("SEAT CLAMP 31.8 BOLT ALLOY RED").Spec
	require.True(t, clamp["diameter_mm"].Value.Equal(substitution.Num(31.8)), clamp)
	require.True(t, clamp["kind"].Value.Equal(substitution.Text("bolt")), clamp)
	require.True(t, describe.Read("Innenlager ITA 70 mm für 24-mm-Welle").Spec["spindle_interface"].Value.Equal(substitution.Text("24mm")))
}

// How many pieces there are may stand before a stroke, or in a bag of so many pairs.
func TestPiecesInAPack(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int{
		"Tube 26x1.95 schrader, 50/box": 50, "Brake blocks 55mm threaded bag 25 pairs": 50, "Brake blocks 55mm threaded, 25 pairs": 50,
		"10 x Inner tube 26x1.95 schrader": 10,
	} {
		require.True(t, describe.Read(text).Spec["pack"].Value.Equal(substitution.Count(want)), text)
	}
}
