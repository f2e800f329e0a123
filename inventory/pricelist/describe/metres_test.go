package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// Metres that stand before their figure are a length, and the figure behind the sign for a diameter is none. How Italian and
// Spanish lists write them is common practice, no source.
func TestMetresBeforeTheirFigure(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"GUAINA FRENO Ø4 MT 30 NERO":        "colour black, diameter_mm 4, length_mm 30000, use brake",
		"GUAINA CAMBIO ø 4 mt. 30":          "diameter_mm 4, length_mm 30000, use gear",
		"guaina freno 5mm mt. 10":           "diameter_mm 5, length_mm 10000, use brake",
		"GUAINA CAMBIO 4 MM 30 MT":          "diameter_mm 4, length_mm 30000, use gear",
		"GUAINA FRENO 5 MT":                 "length_mm 5000, use brake",
		"guaina freno 5mm mt 10 mm":         "diameter_mm 5, use brake",
		"ZAPATAS FRENO V-BRAKE 70 MM PAR":   "length_mm 70, pack 2",
		"Zapatas V-brake 70 mm (par)":       "length_mm 70, pack 2",
		"Par de zapatas V-brake 70 mm":      "length_mm 70, pack 2",
		"patins V-brake 70 mm par 10":       "length_mm 70, pack 10",
		"patins V-brake 70 mm, serrage par": "length_mm 70",
	} {
		require.Equal(t, want, describe.Read(text).Spec.String(), text)
	}
}
