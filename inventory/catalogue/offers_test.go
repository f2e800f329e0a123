package catalogue

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
)

// Offers of one part compare by the piece, whatever the pack; a price that was recorded by hand is history like any other.
func TestSoldBy(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	listed, byHand := addSupplier(t, tx), addSupplier(t, tx)
	_, err := load(t, tx, listed, spring, 0, Accept{})
	require.NoError(t, err)
	balls := offerOf(t, tx, listed, "BAL")
	o := inventory.Offer{SupplierID: byHand, Code: "BAG", PartID: balls.PartID, Pack: 100, AsOf: march, Breaks: []inventory.Break{{FromPacks: 1, Price: decimal.RequireFromString("2.40")}}}
	_, err = inventory.PutOffer(ctx, tx, o)
	require.NoError(t, err)

	sold, err := SoldBy(ctx, tx, balls.PartID)
	require.NoError(t, err)
	require.Len(t, sold, 2)
	require.Equal(t, "BAG", sold[0].Code, "2.4 pence a ball before 2.5")
	require.Equal(t, "0.024", sold[0].Prices[0].APiece().String())
	require.Equal(t, "0.025", sold[1].Prices[0].APiece().String())

	_, err = load(t, tx, byHand, head+"BAG,BALLS 1/4 BAG 100 G100,,,,2.60,,,\n", 30, Accept{})
	require.NoError(t, err)
	sold, err = SoldBy(ctx, tx, balls.PartID)
	require.NoError(t, err)
	require.Equal(t, "BAL", sold[0].Code)
	require.Len(t, sold[1].Prices, 2)
	require.Equal(t, "2.6", sold[1].Prices[0].Price.String())
	require.Equal(t, "2.4", sold[1].Prices[1].Price.String())
	require.True(t, sold[1].Prices[1].AsOf.Equal(march))

	_, err = load(t, tx, byHand, head+"ELSE,BALLS 1/8 BAG 100 G100,,,,2.60,,,\n", 60, Accept{Prices: true})
	require.NoError(t, err)
	sold, err = SoldBy(ctx, tx, balls.PartID)
	require.NoError(t, err)
	require.NotNil(t, sold[1].GoneAt)
	require.Len(t, sold[1].Prices, 2, "what is gone keeps its history")
}

func TestMerges(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, head+"A,CHAIN 9SPD 116L,,,,9.00,,,\nB,CHAIN 9SPD 116L,,,,9.50,,,\nC,CHAIN 9SPD 116L,,,,9.50,,,\n", 0, Accept{})
	require.NoError(t, err)
	a, b, c := offerOf(t, tx, supplier, "A").PartID, offerOf(t, tx, supplier, "B").PartID, offerOf(t, tx, supplier, "C").PartID
	none, err := Merges(ctx, tx)
	require.NoError(t, err)
	require.Empty(t, none)

	id, err := Merge(ctx, tx, a, b)
	require.NoError(t, err)
	m, ok, err := mergeOf(ctx, tx, b)
	require.NoError(t, err)
	require.True(t, ok)
	require.Equal(t, []int64{id, a, b}, []int64{m.ID, m.PartID, m.OtherID})
	var merge *MergeError
	_, err = Merge(ctx, tx, c, b)
	require.ErrorAs(t, err, &merge, "b is a already")
	_, err = Merge(ctx, tx, b, c)
	require.ErrorAs(t, err, &merge, "b is a already")
	require.ErrorAs(t, Differ(ctx, tx, a, a), &merge)

	all, err := Merges(ctx, tx)
	require.NoError(t, err)
	require.Equal(t, []Merged{m}, all)
	require.NoError(t, Split(ctx, tx, id))
	_, ok, err = mergeOf(ctx, tx, b)
	require.NoError(t, err)
	require.False(t, ok)
}
