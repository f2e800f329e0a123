package measure

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A fraction of an inch written with a point is no size in millimetres: 5/32 in is 3.969 mm (ISO 3290-1).
func TestPointForSlash(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		says string
	}{
		{5.32, "If 5/32 in was meant, write it with the slash: 5/32."},
		{3.16, "These are 1/8 in balls"}, // which it is, whatever was meant
		{5.40, "not in my list of balls"},
	} {
		r, err := Balls{Diameter: Caliper(c.mm)}.Identify()
		require.NoError(t, err)
		require.Contains(t, r.Verdict, c.says)
	}
}
