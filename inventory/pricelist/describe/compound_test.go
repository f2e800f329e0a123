package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// A compound says what its words say, whether a table has it or not, and so does a name of several words.
func TestCompoundsSayWhatTheirWordsSay(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][3]string{
		"Flachlenker 31,8 mm 680 mm":      {"handlebar", "shape", "flat"},
		"Ledergriffe 130 mm":              {"grip", "material", "leather"},
		"Schutzblech dunkelgrün":          {"mudguard", "colour", "green"},
		"Schalthebelpaar 3x9-fach":        {"shifter", "side", "pair"},
		"Cork bar tape":                   {"bar-tape", "material", "cork"},
		"Hydraulic brake lever left":      {"brake-lever", "actuation", "hydraulic"},
		"Mineral oil brake fluid 1 litre": {"consumable", "fluid", "mineral-oil"},
	} {
		got := describe.Read(text)
		require.Equal(t, want[0], string(got.Family), text)
		require.Equal(t, want[2], got.Spec[want[1]].Value.Word(), text)
	}
	require.NotContains(t, describe.Read("Carbon assembly paste 30 ml").Spec, "material")
	require.NotContains(t, describe.Read("Mozzo contropedale 36 fori").Spec, "cleat", "an Italian word is no German compound")
}
