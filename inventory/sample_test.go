package inventory

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
	"stead/substitution"
)

func TestMain(m *testing.M) { testdb.Main(m) }

// day is a moment of the sample's year.
func day(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }

func pounds(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// shifted makes codes that are unlike any other's.
var shifted atomic.Int64

func ring(teeth int, bcd float64, colour string) Part {
	return Part{Part: substitution.Part{
		Family: "chainring", Name: fmt.Sprintf("chainring %dT %gmm %s", teeth, bcd, colour),
		Spec: substitution.Spec{}.With("teeth", substitution.Count(teeth), substitution.FromMaker).
			With("bcd_mm", substitution.Num(bcd), substitution.FromMaker).
			With("colour", substitution.Text(colour), substitution.FromSupplier),
	}}
}

func addRing(t testing.TB, tx pgx.Tx) Part {
	t.Helper()
	p, err := AddPart(t.Context(), tx, ring(50, 110, "black"))
	require.NoError(t, err)
	return p
}

func addSupplier(t testing.TB, tx pgx.Tx) Supplier {
	t.Helper()
	s, err := AddSupplier(t.Context(), tx, Supplier{
		Code: fmt.Sprintf("north-%d", shifted.Add(1)), Name: "North Quay Cycle Supply", LeadDays: 2, ToOrderDays: 10,
		Carriage: pounds("5.95"), CarriagePaidAt: decimal.NewNullDecimal(pounds("75")),
	})
	require.NoError(t, err)
	return s
}

// addOffer sells a part in packs at £9 each.
func addOffer(t testing.TB, tx pgx.Tx, supplierID, partID int64, pack int) Offer {
	t.Helper()
	o, err := PutOffer(t.Context(), tx, Offer{
		SupplierID: supplierID, Code: fmt.Sprintf("NQ-%d", shifted.Add(1)), PartID: partID, Pack: pack, Stock: InStock,
		AsOf: day(time.March, 2), Breaks: []Break{{1, pounds("9.00")}},
	})
	require.NoError(t, err)
	return o
}

// addJob books a bike in and approves the work: what pricing does, without its rules.
func addJob(t testing.TB, tx pgx.Tx) int64 {
	t.Helper()
	var id int64
	err := tx.QueryRow(t.Context(), `
		WITH customer AS (INSERT INTO customer (name) VALUES ('Ines Marlow') RETURNING id),
		     bike AS (INSERT INTO bike (customer_id, words) SELECT id, 'blue touring bike' FROM customer RETURNING id)
		INSERT INTO job (bike_id, state) SELECT id, 'approved' FROM bike RETURNING id`).Scan(&id)
	require.NoError(t, err)
	return id
}

func addBins(t testing.TB, tx pgx.Tx, names ...string) {
	t.Helper()
	for _, name := range names {
		require.NoError(t, AddBin(t.Context(), tx, name))
	}
}

// begun is the key of a request that the transaction has begun, as Once does it.
func begun(t testing.TB, tx pgx.Tx) string {
	t.Helper()
	key := NewKey()
	_, err := tx.Exec(t.Context(), `INSERT INTO request (key, what) VALUES ($1, 'test')`, key)
	require.NoError(t, err)
	return key
}

func stockOf(t testing.TB, db DB, partID int64) Stock {
	t.Helper()
	m, err := StockOf(t.Context(), db, []int64{partID})
	require.NoError(t, err)
	return m[partID]
}

// requireLedgerAddsUp checks that shelf, bins and reservations are the sums of what they are sums of, for every part.
func requireLedgerAddsUp(t require.TestingT, ctx context.Context, db DB) {
	if h, ok := t.(interface{ Helper() }); ok {
		h.Helper()
	}
	var wrong []string
	rows, err := db.Query(ctx, `
		SELECT format('part %s: shelf has %s, the ledger %s, the bins %s; reserved %s, reservations %s',
		              part_id, on_hand, moved, binned, reserved, held)
		FROM (SELECT shelf.*,
		             (SELECT COALESCE(sum(pieces), 0) FROM movement m WHERE m.part_id = shelf.part_id) AS moved,
		             (SELECT COALESCE(sum(pieces), 0) FROM balance b WHERE b.part_id = shelf.part_id) AS binned,
		             (SELECT COALESCE(sum(pieces), 0) FROM reservation r WHERE r.part_id = shelf.part_id AND state = 'held') AS held
		      FROM shelf) AS sums
		WHERE on_hand <> moved OR on_hand <> binned OR reserved <> held OR on_hand < reserved
		UNION ALL
		SELECT format('part %s bin %s: balance %s, ledger %s', part_id, bin_id, b.pieces, m.pieces)
		FROM balance b FULL JOIN (SELECT part_id, bin_id, sum(pieces) AS pieces FROM movement GROUP BY part_id, bin_id) m USING (part_id, bin_id)
		WHERE b.pieces IS DISTINCT FROM m.pieces`)
	require.NoError(t, err)
	wrong, err = pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Empty(t, wrong)
}

func text(id int64) string { return fmt.Sprint(id) }
