package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What stands in the place of a length and is a size all the same is read as what it is; the readers' own tests have
// the sources.
func TestDesignationInPlaceOfALength(t *testing.T) {
	for text, says := range map[string]string{
		"6902-2RS":  "nearest: bearing 6902-2RS, 15 × 28 × 7 mm",
		"M10x1":     "nearest: thread M10x1, 10 mm across",
		"1.37x24":   "nearest: thread 1.37x24, 34.8 mm across",
		"28-622":    "nearest: tyre 28-622, 28 mm wide on a bead seat of 622 mm",
		"26 x 1.95": "nearest: tyre 50-559, 50 mm wide on a bead seat of 559 mm",
		"700C":      "nearest: wheel with a bead seat of 622 mm",
		"14g":       "nearest: spoke 2 mm",
		"5x110":     "nearest: bolt circle 110 BCD 5-bolt",
	} {
		_, _, err := ParseLength(text)
		require.ErrorContains(t, err, says)
	}
	_, _, err := ParseLength("wide")
	require.NotContains(t, err.Error(), "nearest")
}
