package shelf

import (
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
)

func TestMain(m *testing.M) { testdb.Main(m) }

// day is a moment of the sample's year.
func day(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }

func pounds(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// shifted makes codes that are unlike any other's.
var shifted atomic.Int64

func ring(teeth int, bcd float64, colour string) inventory.Part {
	return inventory.Part{Part: substitution.Part{
		Family: "chainring", Name: fmt.Sprintf("chainring %dT %gmm %s", teeth, bcd, colour),
		Spec: substitution.Spec{}.With("teeth", substitution.Count(teeth), substitution.FromMaker).
			With("bcd_mm", substitution.Num(bcd), substitution.FromMaker).
			With("colour", substitution.Text(colour), substitution.FromSupplier),
	}}
}

func addPart(t testing.TB, tx pgx.Tx, p inventory.Part) inventory.Part {
	t.Helper()
	added, err := inventory.AddPart(t.Context(), tx, p)
	require.NoError(t, err)
	return added
}

func addSupplier(t testing.TB, tx pgx.Tx) inventory.Supplier {
	t.Helper()
	s, err := inventory.AddSupplier(t.Context(), tx, inventory.Supplier{
		Code: fmt.Sprintf("north-%d", shifted.Add(1)), Name: "North Quay Cycle Supply", LeadDays: 2, ToOrderDays: 10,
		Carriage: pounds("5.95"), CarriagePaidAt: decimal.NewNullDecimal(pounds("75")),
	})
	require.NoError(t, err)
	return s
}

// addOffer sells a part in packs at £9 each.
func addOffer(t testing.TB, tx pgx.Tx, supplierID, partID int64, pack int) inventory.Offer {
	t.Helper()
	o, err := inventory.PutOffer(t.Context(), tx, inventory.Offer{
		SupplierID: supplierID, Code: fmt.Sprintf("NQ-%d", shifted.Add(1)), PartID: partID, Pack: pack, Stock: inventory.InStock,
		AsOf: day(time.March, 2), Breaks: []inventory.Break{{FromPacks: 1, Price: pounds("9.00")}},
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

// begun is the key of a request that the transaction has begun, as Once does it.
func begun(t testing.TB, tx pgx.Tx) string {
	t.Helper()
	key := inventory.NewKey()
	_, err := tx.Exec(t.Context(), `INSERT INTO request (key, what) VALUES ($1, 'test')`, key)
	require.NoError(t, err)
	return key
}

func stockOf(t testing.TB, tx pgx.Tx, partID int64) inventory.Stock {
	t.Helper()
	m, err := inventory.StockOf(t.Context(), tx, []int64{partID})
	require.NoError(t, err)
	return m[partID]
}
