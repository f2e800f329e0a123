package catalogue

import (
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/shelf"
	"stead/migrations/testdb"
)

// What is under way for a part follows it when it becomes one with another, and goes back when they are parted.
func TestWhatIsUnderWayFollowsTheMerge(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	one, two := addSupplier(t, tx), addSupplier(t, tx)
	_, err := load(t, tx, one, head+"A1,CHAIN 9SPD,,,,9.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	_, err = load(t, tx, two, head+"B1,CHAIN 9SPD GREY,,,,9.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	kept, merged := offerOf(t, tx, one, "A1"), offerOf(t, tx, two, "B1")
	level, to := 2, 6
	require.NoError(t, shelf.SetReorder(ctx, tx, merged.PartID, &level, &to))
	claim := inventory.Claim{JobID: approvedJob(t, tx), Place: "chain", PartID: merged.PartID, OfferID: merged.ID, Pieces: 1, DueOn: 1}
	require.NoError(t, inventory.AddClaim(ctx, tx, claim))
	line := inventory.OrderLine{OfferID: merged.ID, PartID: merged.PartID, Packs: 3, Pack: 1, Price: merged.PriceAt(1), Stock: inventory.InStock}
	order, err := inventory.PlaceOrder(ctx, tx, inventory.Order{SupplierID: two, PlacedAt: march, Lines: []inventory.OrderLine{line}})
	require.NoError(t, err)

	underWay := func() (line, claim int64, keptLevel, mergedLevel *int) {
		t.Helper()
		o, err := inventory.OrderByID(ctx, tx, order.ID)
		require.NoError(t, err)
		claims, err := inventory.OpenClaims(ctx, tx)
		require.NoError(t, err)
		k, err := inventory.PartByID(ctx, tx, kept.PartID)
		require.NoError(t, err)
		m, err := inventory.PartByID(ctx, tx, merged.PartID)
		require.NoError(t, err)
		return o.Lines[0].PartID, claims[0].PartID, k.ReorderLevel, m.ReorderLevel
	}
	merge, err := Merge(ctx, tx, kept.PartID, merged.PartID)
	require.NoError(t, err)
	lineOf, claimOf, keptLevel, mergedLevel := underWay()
	require.Equal(t, kept.PartID, lineOf)
	require.Equal(t, kept.PartID, claimOf)
	require.Equal(t, 2, *keptLevel)
	require.Nil(t, mergedLevel)

	known, err := inventory.KnownCandidates(ctx, tx, "chain", nil, 50)
	require.NoError(t, err)
	for _, p := range known {
		require.NotEqual(t, merged.PartID, p.ID, "it is no candidate beside what it is")
	}
	found, err := inventory.FindParts(ctx, tx, inventory.Search{Words: "9spd grey"})
	require.NoError(t, err)
	for _, p := range found {
		require.NotEqual(t, merged.PartID, p.ID)
	}
	named, err := inventory.PartNamed(ctx, tx, "B1")
	require.NoError(t, err)
	require.Equal(t, kept.PartID, named.ID)

	// A quote from before names the part by its old number.
	require.NoError(t, inventory.AddClaim(ctx, tx, claim))
	_, err = inventory.PlaceOrder(ctx, tx, inventory.Order{SupplierID: two, PlacedAt: march, Lines: []inventory.OrderLine{line}})
	require.NoError(t, err)
	var stray int
	require.NoError(t, tx.QueryRow(ctx, `
		SELECT (SELECT count(*) FROM claim WHERE part_id = $1) + (SELECT count(*) FROM order_line WHERE part_id = $1)`, merged.PartID).Scan(&stray))
	require.Zero(t, stray)

	require.NoError(t, Split(ctx, tx, merge))
	lineOf, claimOf, keptLevel, mergedLevel = underWay()
	require.Equal(t, merged.PartID, lineOf)
	require.Equal(t, merged.PartID, claimOf)
	require.Nil(t, keptLevel)
	require.Equal(t, 2, *mergedLevel)
}

func approvedJob(t testing.TB, tx pgx.Tx) (id int64) {
	t.Helper()
	require.NoError(t, tx.QueryRow(t.Context(), `
		WITH c AS (INSERT INTO customer (name) VALUES ('Ines Falkner') RETURNING id),
		     b AS (INSERT INTO bike (customer_id, words) SELECT id, 'blue tourer' FROM c RETURNING id)
		INSERT INTO job (bike_id, state) SELECT id, 'approved' FROM b RETURNING id`).Scan(&id))
	return id
}
