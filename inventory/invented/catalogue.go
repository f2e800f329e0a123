// Package invented fills databases with catalogues of invented parts, as large as asked and the same every time, for tests
// and benchmarks of what a large catalogue costs. The program never uses it.
package invented

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"stead/substitution"
)

// Fill makes a catalogue of so many parts of every family, of which nine in ten dimensions are known, and lets the database
// take stock of it. Where parts to resemble are given, they come first and three in four others of their families are
// variants of them, so that many fit the same bike, as in a real catalogue; the rest have any dimensions that are possible.
//
// Every part that others resemble is offered, and one in ten of all, by one or more of the suppliers there are or, where
// there are none, by one that is invented too; one part in five hundred is on the shelf.
func Fill(t testing.TB, pool *pgxpool.Pool, parts int, like ...substitution.Part) {
	t.Helper()
	ctx := t.Context()
	exec := func(sql string) {
		t.Helper()
		_, err := pool.Exec(ctx, sql)
		require.NoError(t, err)
	}
	// Filling an index and then the table row by row takes ten times as long as the other way round.
	rows, err := pool.Query(ctx, `SELECT indexdef FROM pg_indexes WHERE tablename = 'part' AND indexdef LIKE '%USING gin%'`)
	require.NoError(t, err)
	indexes, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	for _, definition := range indexes {
		exec(`DROP INDEX ` + strings.Fields(definition)[2])
	}
	// Nobody has offered any of the parts yet: the offers that follow mark theirs as traded.
	random := rand.New(rand.NewPCG(20260302, 1))
	maker := newMaker(random, like)
	_, err = pool.CopyFrom(ctx, pgx.Identifier{"part"}, []string{"family", "name", "brand", "maker_code", "dims", "origins", "traded"},
		pgx.CopyFromSlice(parts, func(i int) ([]any, error) {
			family, spec := maker.part(i)
			dims, err := json.Marshal(spec.Values())
			if err != nil {
				return nil, err
			}
			origins, err := json.Marshal(spec.Origins())
			brand := brands[random.IntN(len(brands))]
			return []any{string(family), fmt.Sprintf("%s %s, %s", brand, family, described(spec)), brand, fmt.Sprintf("%s-%d", strings.ToUpper(brand[:2]), i), dims, origins, false}, err
		}))
	require.NoError(t, err)
	exec(`INSERT INTO supplier (code, name, lead_days, to_order_days, carriage)
		SELECT 'northmoor', 'Northmoor Wheel Goods', 2, 10, 5 WHERE NOT EXISTS (SELECT FROM supplier)`)
	offer(t, pool, random, len(like))
	exec(`INSERT INTO shelf (part_id, on_hand) SELECT id, 3 FROM part WHERE id % 500 = 0`)
	// An index made over rows that were just changed is hidden from every query as long as a transaction of before it
	// goes on anywhere on the server, be it in another database: clear away what the rows were before they were marked
	// as traded.
	exec(`VACUUM part`)
	for _, definition := range indexes {
		exec(definition)
	}
	exec(`VACUUM ANALYZE`)
	// A server at work elsewhere may hold back VACUUM, and the plans of searches depend on its having seen every page.
	for range 100 {
		var seen bool
		err := pool.QueryRow(ctx, `SELECT relallvisible >= relpages * 0.99 FROM pg_class WHERE oid = 'part'::regclass`).Scan(&seen)
		require.NoError(t, err)
		if seen {
			break
		}
		time.Sleep(200 * time.Millisecond)
		exec(`VACUUM part`)
	}
}

var brands = []string{"Tarnhow", "Marrick", "Fellgate", "Orrest", "Silecroft", "Wythburn", "Ansty", "Brockhole", "Duddon", "Eskdale"}

// described is what a name says of a spec: three dimensions of it.
func described(s substitution.Spec) string {
	var words []string
	for _, name := range s.Names() {
		words = append(words, s[name].Value.String())
	}
	return strings.Join(words[:min(3, len(words))], " ")
}
