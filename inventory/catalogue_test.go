package inventory

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory/invented"
	"stead/migrations/testdb"
	"stead/substitution"
)

// searches are what fit rules ask, from narrow to wide.
var searches = []struct {
	name       string
	family     substitution.Family
	conditions []substitution.Condition
}{
	{"ring", "chainring", []substitution.Condition{
		substitution.Between{Dimension: "bcd_mm", Low: 109.7, High: 110.3}, substitution.Between{Dimension: "bolts", Low: 5, High: 5},
		substitution.OneOf{Dimension: "bolt_pattern", Words: []string{"even"}}, substitution.SharesAny{Dimension: "speeds", Counts: []int{9, 10}}}},
	{"bearing", "cartridge-bearing", []substitution.Condition{
		substitution.Between{Dimension: "bore_mm", Low: 16.99, High: 17.01}, substitution.Between{Dimension: "outer_mm", Low: 29.9, High: 31.1}}},
	{"derailleur", "rear-derailleur", []substitution.Condition{
		substitution.Between{Dimension: "capacity", Low: 37, High: 1e300}, substitution.SharesAny{Dimension: "speeds", Counts: []int{9}},
		substitution.Weighted{Terms: []substitution.WeightedTerm{{Weight: -1, Dimension: "teeth_max"}}, AtMost: -32}}},
	{"chain", "chain", []substitution.Condition{substitution.SharesAny{Dimension: "speeds", Counts: []int{9}}}},
}

// explainPlan is the database's plan for a search, run.
func explainPlan(t testing.TB, ctx context.Context, db DB, q *query, limit int) string {
	t.Helper()
	lines, err := Collect(ctx, db, pgx.RowTo[string], `EXPLAIN (ANALYZE, BUFFERS, COSTS) `+q.sql(obtainableFirst, limit), q.args...)
	require.NoError(t, err)
	return strings.Join(lines, "\n")
}

// What the rules ask is found by the index of marks, not by reading every part; also where the server has long been at work
// on something else, as it is when other tests fill a large catalogue.
func TestNarrowingUsesTheIndex(t *testing.T) {
	elsewhere, err := testdb.New(t).Begin(t.Context())
	require.NoError(t, err)
	_, err = elsewhere.Exec(t.Context(), `SELECT txid_current()`)
	require.NoError(t, err)
	defer elsewhere.Rollback(t.Context())
	pool := testdb.New(t)
	invented.Fill(t, pool, 8_000)
	for _, s := range searches {
		known, err := narrowKnown(s.family, s.conditions)
		require.NoError(t, err)
		plan := explainPlan(t, t.Context(), pool, known, 50)
		require.Contains(t, plan, "Bitmap Index Scan on part_marks", plan)
		require.NotContains(t, plan, "Seq Scan on part ", plan)
		unknown, err := narrowUnknown(s.family, s.conditions, 50)
		require.NoError(t, err)
		plan = explainPlan(t, t.Context(), pool, unknown, 50)
		require.Contains(t, plan, "part_family", plan)
		require.NotContains(t, plan, "Seq Scan on part ", plan)
	}
}

// BenchmarkCatalogue searches a million parts. Filling it takes a few minutes.
func BenchmarkCatalogue(b *testing.B) {
	pool, ctx := testdb.New(b), b.Context()
	invented.Fill(b, pool, 1_000_000)
	for _, s := range searches {
		known, err := narrowKnown(s.family, s.conditions)
		require.NoError(b, err)
		unknown, err := narrowUnknown(s.family, s.conditions, 50)
		require.NoError(b, err)
		plan := explainPlan(b, ctx, pool, known, 50)
		require.Contains(b, plan, "Bitmap Index Scan on part_marks", plan)
		require.NotContains(b, plan, "Seq Scan on part ", plan)
		if testing.Verbose() {
			fmt.Println(s.name, "known:", plan, "\nunknown:", explainPlan(b, ctx, pool, unknown, 50))
		}
		for kind, q := range map[string]*query{"known": known, "unknown": unknown} {
			b.Run(s.name+" "+kind, func(b *testing.B) {
				for b.Loop() {
					_, err := q.parts(ctx, pool, obtainableFirst, 50)
					require.NoError(b, err)
				}
			})
		}
	}
	for _, words := range []string{"eskdale chainring", "chain", "eskdle chainrng", "es-4711"} {
		b.Run("find "+words, func(b *testing.B) {
			for b.Loop() {
				_, err := FindParts(ctx, pool, Search{Words: words})
				require.NoError(b, err)
			}
		})
	}
}
