package inventory

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

func TestHomes(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	request := begun(t, tx)
	addBins(t, tx, "A1", "B2")
	part := addRing(t, tx)
	counted := func(bin string, pieces int) func(*testing.T) {
		return func(t *testing.T) {
			_, err := CountStock(ctx, tx, request, part.ID, bin, pieces, "")
			require.NoError(t, err)
		}
	}
	for _, step := range []struct {
		name string
		do   func(*testing.T)
		home string
	}{
		{"never there", func(*testing.T) {}, ""},
		{"in one bin", counted("A1", 3), "A1"},
		{"gone from it", counted("A1", 0), "A1"},
		{"in another since", counted("B2", 1), "B2"},
		{"in both", counted("A1", 2), ""},
		{"gone from both", func(t *testing.T) { counted("A1", 0)(t); counted("B2", 0)(t) }, ""},
		{"where somebody says", func(t *testing.T) {
			_, err := CorrectPart(ctx, tx, part.ID, hand, func(p *Part) error { p.Bin = "B2"; return nil })
			require.NoError(t, err)
			counted("A1", 5)(t)
		}, "B2"},
	} {
		t.Run(step.name, func(t *testing.T) {
			step.do(t)
			homes, err := Homes(ctx, tx, part.ID)
			require.NoError(t, err)
			require.Equal(t, step.home, homes[part.ID])
		})
	}
}
