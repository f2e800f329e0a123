package shelf

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/substitution"
)

func TestBelowReorderLevel(t *testing.T) {
	b, ctx := newBooks(t), t.Context()
	job := addJob(t, b.tx)
	offer := addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 10)
	want := func(place substitution.Place, pieces int) {
		require.NoError(t, inventory.AddClaim(ctx, b.tx, inventory.Claim{JobID: job, Place: place, PartID: b.part.ID, OfferID: offer.ID,
			Pieces: pieces, DueOn: calendar.Date(2026, time.March, 20)}))
	}
	want("crank.outer-ring", 14)
	claims, err := inventory.OpenClaims(ctx, b.tx)
	require.NoError(t, err)
	_, err = inventory.PlaceOrder(ctx, b.tx, inventory.Order{SupplierID: offer.SupplierID, PlacedAt: day(time.March, 3),
		Lines: []inventory.OrderLine{{OfferID: offer.ID, PartID: b.part.ID, Packs: 2, Pack: 10, Price: pounds("9.00"), QuotedDays: 2,
			Stock: inventory.InStock, ExpectedOn: calendar.Date(2026, time.March, 5), Claims: []int64{claims[0].ID}}}})
	require.NoError(t, err)

	level, to := 6, 15
	short := func() []Shortage {
		t.Helper()
		require.NoError(t, SetReorder(ctx, b.tx, b.part.ID, &level, &to))
		short, err := BelowReorderLevel(ctx, b.tx, day(time.March, 9))
		require.NoError(t, err)
		return short
	}
	// Of the twenty on order fourteen are for jobs: six for the shelf.
	require.Len(t, short(), 1)
	require.Equal(t, 9, short()[0].Order)

	want("crank.inner-ring", 5)
	require.Equal(t, 9, short()[0].Order, "what another job wants is bought for itself")

	level = 5
	require.Empty(t, short())

	require.ErrorContains(t, SetReorder(ctx, b.tx, b.part.ID, &to, &level), "not from 15 to 5")
}
