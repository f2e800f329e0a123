package migrations_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"stead/migrations"
)

// upTo are the migrations up to a number, as an older program had them.
func upTo(t *testing.T, last int) fstest.MapFS {
	files := fstest.MapFS{}
	for n := 1; n <= last; n++ {
		found, err := filepath.Glob(fmt.Sprintf("%03d_*.sql", n))
		require.NoError(t, err)
		require.Len(t, found, 1)
		text, err := os.ReadFile(found[0])
		require.NoError(t, err)
		files[found[0]] = &fstest.MapFile{Data: text}
	}
	return files
}

// An approval from before a day was kept with it promised its option's day.
func TestApprovalsFromBeforePromiseTheirOptionsDay(t *testing.T) {
	t.Parallel()
	conn, dsn := empty(t)
	require.NoError(t, migrations.ApplyFiles(t.Context(), dsn, upTo(t, 8)))
	_, err := conn.Exec(t.Context(), `
		INSERT INTO customer (name) VALUES ('Ines Falkner');
		INSERT INTO bike (customer_id, words) SELECT id, 'blue touring bike' FROM customer;
		INSERT INTO job (bike_id) SELECT id FROM bike;
		INSERT INTO quote (job_id, version, made_at, valid_until, document) SELECT id, 1, '2026-12-02 09:00Z', '2026-12-16', '{"options": [
			{"names": ["soonest"], "ready_on": "2026-12-04"},
			{"names": ["cheapest", "balanced"], "ready_on": "2026-12-09"}]}' FROM job;
		INSERT INTO approval (quote_id, option_name, total, by_whom, at) SELECT id, 'cheapest', 95.58, 'Ines Falkner', '2026-12-02 10:00Z' FROM quote`)
	require.NoError(t, err)
	require.NoError(t, migrations.Apply(t.Context(), dsn))
	var promised time.Time
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT ready_on FROM approval`).Scan(&promised))
	require.Equal(t, "2026-12-09", promised.Format(time.DateOnly))
}

// A supplier that was called as the shelf is goes by the next code that is free; its terms and name stay.
func TestASupplierIsNotTheShelf(t *testing.T) {
	t.Parallel()
	conn, dsn := empty(t)
	require.NoError(t, migrations.ApplyFiles(t.Context(), dsn, upTo(t, 14)))
	_, err := conn.Exec(t.Context(), `
		INSERT INTO supplier (code, name, lead_days, to_order_days, carriage) VALUES
			('shelf', 'Shelf & Sons', 2, 9, 4.50), ('shelf-1', 'Shelf One', 2, 9, 0), ('harbour', 'Harbour Lane', 2, 9, 0)`)
	require.NoError(t, err)
	require.NoError(t, migrations.Apply(t.Context(), dsn))
	var code string
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT code FROM supplier WHERE name = 'Shelf & Sons' AND carriage = 4.50`).Scan(&code))
	require.Equal(t, "shelf-2", code)
	_, err = conn.Exec(t.Context(), `UPDATE supplier SET code = 'shelf' WHERE code = 'harbour'`)
	require.ErrorContains(t, err, "supplier_is_not_the_shelf")
}
