package migrations_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations"
)

// What lists were loaded as before a recommended price was of what is sold together, parts made one took along what was
// under way, a list of a day to come was refused, and an offer made by hand stayed.
func TestListsFromBefore(t *testing.T) {
	t.Parallel()
	conn, dsn := empty(t)
	ctx := t.Context()
	require.NoError(t, migrations.ApplyFiles(ctx, dsn, upTo(t, 12)))
	_, err := conn.Exec(ctx, `
		INSERT INTO supplier (code, name, currency, lead_days, to_order_days, carriage) VALUES
		    ('harbour', 'Harbour Lane', 'GBP', 2, 10, 5), ('rhine', 'Rhine Trade', 'EUR', 3, 12, 9);
		INSERT INTO exchange_rate (currency, valid_from, rate) VALUES ('EUR', '2020-01-01', 1.25);
		-- Each list made its parts in one transaction with its load.
		INSERT INTO list_mapping (supplier_id, mapping) VALUES
		    (1, '{"header": 1, "headings": ["Code", "Name", "Trade", "RRP"], "columns": {"code": 1, "name": 2, "price": 3, "rrp": 4}}'),
		    (2, '{"header": 1, "headings": ["Code", "Name", "Trade", "RRP each"], "columns": {"code": 1, "name": 2, "price": 3, "rrp": 4}}');
		INSERT INTO list_load (supplier_id, file, fingerprint, as_of, summary, loaded_at) VALUES
		    (1, 'harbour.csv', 'a', '2026-01-05 09:00Z', '{}', '2026-01-05 09:00Z'),
		    (1, 'wrong-year.csv', 'b', '2062-01-05 09:00Z', '{}', '2026-02-05 09:00Z'),
		    (2, 'rhine.csv', 'c', '2026-01-06 09:00Z', '{}', '2026-01-06 09:00Z');
		INSERT INTO part (family, name, retail, added_at, reorder_level, reorder_to) VALUES
		    ('loose-balls', 'balls', 7.50, '2026-01-05 09:00Z', NULL, NULL), -- 1, a bag of 144
		    ('chain', 'by hand', 19.99, '2026-01-03 09:00Z', NULL, NULL),    -- 2
		    ('disc-pad', 'pads', 4.99, '2026-01-06 09:00Z', NULL, NULL),     -- 3, of one piece by its column, in euros
		    ('chain', 'kept', NULL, '2026-01-03 09:00Z', NULL, NULL),        -- 4
		    ('chain', 'merged', NULL, '2026-01-03 09:00Z', 2, 6);            -- 5
		INSERT INTO offer (supplier_id, code, part_id, pack, as_of, gone_at) VALUES
		    (1, 'BAL', 1, 144, '2062-01-05 09:00Z', NULL), (1, 'HAND', 2, 1, '2026-01-04 09:00Z', '2026-01-05 09:00Z'),
		    (2, 'PAD', 3, 2, '2026-01-06 09:00Z', NULL), (1, 'OLD', 4, 1, '2026-01-05 09:00Z', '2026-01-05 09:00Z');
		INSERT INTO price_history (offer_id, as_of, pack, price) VALUES
		    (1, '2026-01-05 09:00Z', 144, 3.60), (1, '2062-01-05 09:00Z', 144, 3.70), (3, '2026-01-06 09:00Z', 2, 4.20), (4, '2026-01-01 09:00Z', 1, 9);
		INSERT INTO part_merge (kept, merged, offers) VALUES (4, 5, '{4}');
		INSERT INTO customer (name) VALUES ('Ines Falkner');
		INSERT INTO bike (customer_id, words) SELECT id, 'blue touring bike' FROM customer;
		INSERT INTO job (bike_id, state) SELECT id, 'approved' FROM bike;
		INSERT INTO claim (job_id, place, part_id, offer_id, pieces, due_on) SELECT id, 'chain', 5, 4, 1, '2026-03-01' FROM job;
		INSERT INTO purchase_order (supplier_id, placed_at, carriage) VALUES (1, '2026-02-01 09:00Z', 0);
		INSERT INTO order_line (order_id, offer_id, part_id, packs, pack, price, quoted_days, stock, expected_on, received) SELECT id, 4, 5, 2, 1, 9, 2, 'in-stock', '2026-03-01', received
		FROM purchase_order, (VALUES (0), (2)) AS lines (received)`)
	require.NoError(t, err)
	require.NoError(t, migrations.Apply(ctx, dsn))

	value := func(sql string) (v string) {
		t.Helper()
		require.NoError(t, conn.QueryRow(ctx, sql).Scan(&v), sql)
		return v
	}
	retail := `SELECT COALESCE(CASE WHEN retail_by IS NULL THEN retail ELSE home_retail(retail, retail_by, retail_as_of) END::text, '') FROM part WHERE id = `
	require.Equal(t, "0.052083", value(retail+"1"), "a ball's share of the bag")
	require.Equal(t, "19.99", value(retail+"2"), "what the shop has said itself")
	require.Equal(t, "3.992", value(retail+"3"), "of one piece already, at 1.25")

	require.Equal(t, "true", value(`SELECT bool_and(as_of <= now())::text FROM list_load`), "a list of a day to come shuts nothing out")
	require.Equal(t, "2", value(`SELECT count(*)::text FROM price_history WHERE offer_id = 1 AND as_of <= now()`))
	require.Equal(t, "true", value(`SELECT (as_of <= now())::text FROM offer WHERE code = 'BAL'`))
	require.Equal(t, "true", value(`SELECT (gone_at IS NULL AND said AND NOT listed)::text FROM offer WHERE code = 'HAND'`), "it stood in no list")
	require.Equal(t, "true", value(`SELECT (gone_at IS NOT NULL AND listed)::text FROM offer WHERE code = 'OLD'`))

	require.Equal(t, "4", value(`SELECT part_id::text FROM claim`))
	require.Equal(t, "4,5", value(`SELECT string_agg(part_id::text, ',' ORDER BY received) FROM order_line`), "what is still to come, and what has come")
	require.Equal(t, "2/6", value(`SELECT reorder_level || '/' || reorder_to FROM part WHERE id = 4`))
	require.Equal(t, "4", value(`SELECT merged_into::text FROM part WHERE id = 5 AND reorder_level IS NULL`))
	require.Equal(t, "2/6", value(`SELECT reorder_level || '/' || reorder_to FROM part_merge`), "it goes back if they are parted")
}
