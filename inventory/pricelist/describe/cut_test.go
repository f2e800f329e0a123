package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// A part's name that is cut so short that it may be several is the one that every figure fits, and none where several
// fit or none does.
func TestNamesCutShort(t *testing.T) {
	t.Parallel()
	for text, family := range map[string]string{
		"BREMSSCH. 180MM 6L.":               "disc-rotor",  // and no Bremsschuh
		"BREMSZ. 1,5X2000 VERZ.":            "cable-inner", // and no Bremszange
		"SATTELST. 27,2X350 ALU SCHW.":      "seatpost",
		"BUITENB. 28X1,60 42-622 ZW. REFL.": "tyre", // and no buitenblad
		"BREMSSCH. SCHW.":                   "",     // nothing tells
		"BREMSSCH. 999X999":                 "",
	} {
		require.Equal(t, family, string(describe.Read(text).Family), text)
	}
}
