package migrations_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
	"time"

	"github.com/jackc/pgx/v5"
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

// A quote from before parts were called by part_id keeps its parts, and every word of it.
func TestQuotesFromBeforeKeepTheirParts(t *testing.T) {
	t.Parallel()
	conn, dsn := empty(t)
	require.NoError(t, migrations.ApplyFiles(t.Context(), dsn, upTo(t, 26)))
	_, err := conn.Exec(t.Context(), `
		INSERT INTO customer (name) VALUES ('Ines Falkner');
		INSERT INTO bike (customer_id, words) SELECT id, 'her "part": of two' FROM customer;
		INSERT INTO job (bike_id) SELECT id FROM bike;
		INSERT INTO quote (job_id, version, made_at, valid_until, document) SELECT id, 1, '2026-12-02 09:00Z', '2026-12-16',
			'{"bike": "her \"part\": of two", "options": [{"names": ["soonest"], "parts": [{"place": "chain", "part": 12, "name": "chain"}]}], "unsure": [{"part": 7}]}' FROM job`)
	require.NoError(t, err)
	require.NoError(t, migrations.Apply(t.Context(), dsn))
	var document string
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT document FROM quote`).Scan(&document))
	require.JSONEq(t, `{"bike": "her \"part\": of two", "options": [{"names": ["soonest"], "parts": [{"place": "chain", "part_id": 12, "name": "chain"}]}], "unsure": [{"part_id": 7}]}`, document)
	_, err = conn.Exec(t.Context(), `UPDATE quote SET document = '{}'`)
	require.Error(t, err, "what is written stays")
}

// What was agreed before amendments were kept is known by its findings, which could not change after the approval: of jobs
// that are approved or have gone home, and of no other. Nothing else of them changes, in whatever state they are.
func TestJobsFromBeforeAmendments(t *testing.T) {
	t.Parallel()
	conn, dsn := empty(t)
	require.NoError(t, migrations.ApplyFiles(t.Context(), dsn, upTo(t, 22)))
	_, err := conn.Exec(t.Context(), `
		INSERT INTO customer (name) VALUES ('Ines Falkner');
		INSERT INTO bike (customer_id, words) SELECT id, 'blue touring bike' FROM customer;
		INSERT INTO job (bike_id, state, closed_at)
			SELECT bike.id, state, CASE WHEN state IN ('closed', 'cancelled') THEN now() END
			FROM bike, unnest(ARRAY['booked', 'inspected', 'quoted', 'approved', 'closed', 'cancelled']) AS state;
		INSERT INTO finding (job_id, place, document) SELECT id, 'chain', '{"place": "chain", "action": "replace"}' FROM job WHERE state <> 'booked';
		INSERT INTO finding (job_id, place, document) SELECT id, 'headset', '{"place": "headset", "action": "keep"}' FROM job WHERE state <> 'booked';
		INSERT INTO quote (job_id, version, state, made_at, valid_until, document)
			SELECT id, 1, CASE state WHEN 'quoted' THEN 'open' WHEN 'cancelled' THEN 'declined' ELSE 'approved' END, '2026-12-02 09:00Z', '2026-12-16',
			       '{"options": [{"names": ["soonest"], "ready_on": "2026-12-04"}]}'
			FROM job WHERE state NOT IN ('booked', 'inspected');
		INSERT INTO approval (quote_id, option_name, total, by_whom, at, ready_on)
			SELECT id, 'soonest', 95.58, 'Ines Falkner', '2026-12-02 10:00Z', '2026-12-04' FROM quote WHERE state = 'approved'`)
	require.NoError(t, err)
	require.NoError(t, migrations.Apply(t.Context(), dsn))
	rows, err := conn.Query(t.Context(), `
		SELECT job.state || ' ' || coalesce(quote.state, '-') || ' ' || coalesce(approval.work::text, '-')
		FROM job LEFT JOIN quote ON quote.job_id = job.id AND quote.amends IS NULL LEFT JOIN approval ON approval.quote_id = quote.id
		ORDER BY job.id`)
	require.NoError(t, err)
	got, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Equal(t, []string{"booked - -", "inspected - -", "quoted open -", `approved approved {"chain": "replace"}`, `closed approved {"chain": "replace"}`, "cancelled declined -"}, got)
}

// From before rates of tax were of one thing and parts were bought as others: every rate is of everything, work carries the
// rate of work, and how a part is ordered stands, of jobs in whatever state they are.
func TestJobsFromBeforeRatesByKind(t *testing.T) {
	t.Parallel()
	conn, dsn := empty(t)
	require.NoError(t, migrations.ApplyFiles(t.Context(), dsn, upTo(t, 38)))
	_, err := conn.Exec(t.Context(), `
		INSERT INTO tax_rate (name, valid_from, percent) VALUES ('VAT', '2011-01-04', 20), ('VAT', '2008-12-01', 15);
		INSERT INTO part (family, name) VALUES ('chain', 'chain 9');
		INSERT INTO ordered_by_hand (part_id, until, why, by_whom) SELECT id, '2027-01-04', 'a new list is due', 'Ada' FROM part;
		INSERT INTO customer (name) VALUES ('Ines Falkner');
		INSERT INTO bike (customer_id, words) SELECT id, 'blue touring bike' FROM customer;
		INSERT INTO job (bike_id, state, closed_at)
			SELECT bike.id, state, CASE WHEN state IN ('closed', 'cancelled') THEN now() END
			FROM bike, unnest(ARRAY['booked', 'inspected', 'quoted', 'approved', 'closed', 'cancelled']) AS state;
		INSERT INTO job_work (job_id, place, words, minutes, price, at) SELECT id, '', 'test ride', 10, 8, now() FROM job`)
	require.NoError(t, err)
	require.NoError(t, migrations.Apply(t.Context(), dsn))
	rows, err := conn.Query(t.Context(), `
		SELECT job.state || ' ' || words || ' ' || coalesce(tax::text, '-') FROM job JOIN job_work ON job_id = job.id ORDER BY job.id`)
	require.NoError(t, err)
	got, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Equal(t, []string{"booked test ride -", "inspected test ride -", "quoted test ride -", "approved test ride -", "closed test ride -", "cancelled test ride -"}, got)
	var rates, stands string
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT string_agg(applies_to || name || ' ' || percent, ', ' ORDER BY valid_from) FROM tax_rate`).Scan(&rates))
	require.Equal(t, "VAT 15.000, VAT 20.000", rates)
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT until::text || coalesce(stand_in_id::text, '') FROM ordered_by_hand`).Scan(&stands))
	require.Equal(t, "2027-01-04", stands)
}
