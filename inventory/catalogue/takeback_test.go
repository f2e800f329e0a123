package catalogue

import (
	"fmt"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
)

// standing is everything that a supplier's lists have brought, as text.
func standing(t testing.TB, tx pgx.Tx, supplier int64) string {
	t.Helper()
	var b strings.Builder
	for _, sql := range []string{
		`SELECT to_jsonb(offer)::text FROM offer WHERE supplier_id = $1 ORDER BY id`,
		`SELECT to_jsonb(b)::text FROM price_break b JOIN offer ON offer.id = offer_id WHERE supplier_id = $1 ORDER BY offer_id, from_packs`,
		`SELECT to_jsonb(h)::text FROM price_history h JOIN offer ON offer.id = offer_id WHERE supplier_id = $1 ORDER BY offer_id, h.as_of`,
		`SELECT to_jsonb(h)::text FROM retail_history h JOIN offer ON offer.id = offer_id WHERE supplier_id = $1 ORDER BY offer_id, h.as_of`,
		`SELECT to_jsonb(w)::text FROM list_waiting w WHERE supplier_id = $1 ORDER BY code`,
		`SELECT to_jsonb(u)::text FROM list_unread u WHERE supplier_id = $1 ORDER BY word, code`,
		`SELECT to_jsonb(part)::text FROM part WHERE $1::bigint > 0 ORDER BY id`,
	} {
		rows, err := tx.Query(t.Context(), sql, supplier)
		require.NoError(t, err)
		lines, err := pgx.CollectRows(rows, pgx.RowTo[string])
		require.NoError(t, err)
		fmt.Fprintln(&b, strings.Join(lines, "\n"))
	}
	return b.String()
}

// A load that is taken back leaves everything as it was, and the next list loads as if it had not been.
func TestTakeBack(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := TakeBack(ctx, tx, supplier)
	require.ErrorContains(t, err, "no list of this supplier's is loaded")
	_, err = load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	_, err = tx.Exec(ctx, `INSERT INTO price_break (offer_id, from_packs, price) VALUES ($1, 5, 8.20)`, offerOf(t, tx, supplier, "C34").ID)
	require.NoError(t, err)
	before := standing(t, tx, supplier)

	wrong := strings.NewReplacer("8.50,16.99", "7.10,13.99", "BAL,BALLS 1/4 BAG 144 G100", "NEW,CHAIN 9SPD KRUNK", "DISC PADS RS-7 SINTERED PR", "DISC PADS RS-7 SINTERED PR BLACK").Replace(spring)
	_, err = load(t, tx, supplier, wrong, 40, Accept{GoodRows: true, Jumps: true, Prices: true})
	require.NoError(t, err)
	require.NotEqual(t, before, standing(t, tx, supplier))
	back, err := TakeBack(ctx, tx, supplier)
	require.NoError(t, err)
	require.Equal(t, 3, back.Restored)
	require.Equal(t, 1, back.Gone)
	require.Equal(t, before, standing(t, tx, supplier))

	_, err = TakeBack(ctx, tx, supplier)
	require.ErrorContains(t, err, "only the last load can be taken back, once")
	s, err := load(t, tx, supplier, strings.Replace(spring, "8.50", "8.60", 1), 10, Accept{})
	require.NoError(t, err, "an earlier day than that of the list that was taken back")
	require.Equal(t, 1, s.Changed)
}

// What was measured, ordered or offered by hand since stays.
func TestTakeBackKeepsWhatCameSince(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	s, err := load(t, tx, supplier, strings.Replace(spring, "KWA,KWARTEL 40T 110PCD", "KWA,CHAIN 9SPD 116L", 1)+"ORD,CHAIN 10SPD,,,,9.00,,,\n", 1, Accept{})
	require.NoError(t, err)
	require.Equal(t, 2, s.New)
	ordered := offerOf(t, tx, supplier, "ORD")
	_, err = inventory.PlaceOrder(ctx, tx, inventory.Order{SupplierID: supplier, PlacedAt: march, Lines: []inventory.OrderLine{
		{OfferID: ordered.ID, PartID: ordered.PartID, Packs: 1, Pack: 1, Price: decimal.NewFromInt(9), Stock: inventory.InStock}}})
	require.NoError(t, err)
	ring := offerOf(t, tx, supplier, "C34").PartID
	_, err = tx.Exec(ctx, `UPDATE part SET dims = dims || '{"chain_width": "3/32"}', origins = origins || '{"chain_width": "measured"}' WHERE id = $1`, ring)
	require.NoError(t, err)
	byHand, err := inventory.PutOffer(ctx, tx, inventory.Offer{SupplierID: supplier, Code: "HAND", PartID: ring, Breaks: []inventory.Break{{FromPacks: 1, Price: decimal.NewFromInt(8)}}})
	require.NoError(t, err)

	_, err = TakeBack(ctx, tx, supplier)
	require.NoError(t, err)
	require.True(t, offerOf(t, tx, supplier, "ORD").Gone, "it stands on an order")
	require.False(t, offerOf(t, tx, supplier, "HAND").Gone)
	require.Equal(t, byHand.PartID, ring)
	part := partOf(t, tx, supplier, "C34")
	require.Equal(t, "measured", string(part.Spec["chain_width"].Origin))
	var waiting int
	require.NoError(t, tx.QueryRow(ctx, `SELECT count(*) FROM list_waiting WHERE supplier_id = $1 AND code = 'KWA'`, supplier).Scan(&waiting))
	require.Equal(t, 1, waiting)
}

// An offer made by hand stood in no list, so that none takes it away.
func TestByHandIsNotGone(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	_, err = inventory.PutOffer(ctx, tx, inventory.Offer{SupplierID: supplier, Code: "HAND", PartID: offerOf(t, tx, supplier, "C34").PartID, AsOf: march,
		Breaks: []inventory.Break{{FromPacks: 1, Price: decimal.NewFromInt(8)}}})
	require.NoError(t, err)
	s, err := load(t, tx, supplier, strings.Replace(spring, "BAL,", "BAL2,", 1), 1, Accept{})
	require.NoError(t, err)
	require.Equal(t, 1, s.Gone)
	require.False(t, offerOf(t, tx, supplier, "HAND").Gone)
	_, err = load(t, tx, supplier, spring+"HAND,C/RING 34T 110PCD,,,,8.20,,,\n", 2, Accept{})
	require.NoError(t, err)
	s, err = load(t, tx, supplier, spring, 3, Accept{})
	require.NoError(t, err)
	require.Equal(t, 1, s.Gone, "once it has stood in a list it goes with it")
}
