package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
)

// ringsOffered has the black ring at Northmoor and a silver one, sooner and cheaper, at Harbour Lane.
func ringsOffered(w *workshop) (black, silver inventory.Part) {
	black, silver = w.part("black ring 50T", "chainring", blackRing, ""), w.part("silver ring 50T", "chainring", silverRing, "")
	w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
	w.offer(w.harbour, silver, 1, inventory.InStock, at("14.25"))
	return black, silver
}

func TestQuoteNamesItsOptions(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, silver := ringsOffered(w)
	q := w.quote(w.ringJob(Limits{}))
	for _, o := range q.Options {
		t.Logf("%+v", o)
	}

	// Black: 20.00 × 1.5 × 1.2 = 36.00, carriage 4.50 × 1.2 = 5.40, labour 15.00 × 1.2 = 18.00; in all 59.40,
	// of which 59.40 − 59.40 ÷ 1.2 = 9.90 is tax. The workshop pays 20.00 + 4.50.
	closest := named(t, q, "closest")
	require.Equal(t, black.ID, closest.Parts[0].PartID)
	require.Empty(t, closest.Deviations)
	require.False(t, closest.Parts[0].Substitute)
	require.Equal(t, []string{"36.00", "5.40", "59.40", "9.90", "24.50"},
		money(closest.Parts[0].Amount, closest.Carriage[0].Amount, closest.Total, closest.TaxInTotal, closest.Landed))

	// Silver: 14.25 × 1.5 × 1.2 = 25.65, carriage 5.95 × 1.2 = 7.14, labour 18.00; in all 50.79. Without tax that is
	// 50.79 ÷ 1.2 = 42.325, a half penny upwards 42.33, and the rest, 8.46, is tax.
	soonest := named(t, q, "soonest")
	require.Equal(t, silver.ID, soonest.Parts[0].PartID)
	require.True(t, soonest.Parts[0].Substitute)
	require.Equal(t, []string{"soonest", "cheapest"}, soonest.Names[:2])
	require.Equal(t, []string{"25.65", "7.14", "50.79", "8.46", "20.20"},
		money(soonest.Parts[0].Amount, soonest.Carriage[0].Amount, soonest.Total, soonest.TaxInTotal, soonest.Landed))
	require.Len(t, soonest.Deviations, 1)
	require.Equal(t, "crank.outer-ring chainring.finish", soonest.Deviations[0].Name())
	require.Less(t, soonest.ReadyOn, closest.ReadyOn)
}
