package inventory

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
	"stead/substitution"
)

// generate fills a catalogue with invented parts of every family, nine in ten dimensions known, one part in ten offered and
// one in a hundred on the shelf, and lets the database take stock of it.
func generate(t testing.TB, pool *pgxpool.Pool, parts int) {
	t.Helper()
	ctx := t.Context()
	// Filling an index and then the table row by row takes ten times as long as the other way round.
	indexes, err := collect(ctx, pool, pgx.RowTo[string], `SELECT indexdef FROM pg_indexes WHERE tablename = 'part' AND indexdef LIKE '%USING gin%'`)
	require.NoError(t, err)
	for _, definition := range indexes {
		_, err := pool.Exec(ctx, `DROP INDEX `+strings.Fields(definition)[2])
		require.NoError(t, err)
	}
	var tables []*substitution.Table
	for _, f := range substitution.Families() {
		if table, err := substitution.TableOf(f); err == nil && !table.NeverSold {
			tables = append(tables, table)
		}
	}
	random := rand.New(rand.NewPCG(20260302, 1))
	_, err = pool.CopyFrom(ctx, pgx.Identifier{"part"}, []string{"family", "name", "brand", "maker_code", "dims", "origins"},
		pgx.CopyFromSlice(parts, func(i int) ([]any, error) {
			table := tables[random.IntN(len(tables))]
			spec := invented(random, table)
			dims, err := json.Marshal(spec.Values())
			if err != nil {
				return nil, err
			}
			origins, err := json.Marshal(spec.Origins())
			brand := brands[random.IntN(len(brands))]
			return []any{string(table.Family), fmt.Sprintf("%s %s, %s", brand, table.Family, described(spec)), brand, fmt.Sprintf("%s-%d", strings.ToUpper(brand[:2]), i), dims, origins}, err
		}))
	require.NoError(t, err)
	for _, sql := range append(indexes,
		`INSERT INTO supplier (code, name, lead_days, to_order_days, carriage) VALUES ('northmoor', 'Northmoor Wheel Goods', 2, 10, 5)`,
		`INSERT INTO offer (supplier_id, code, part_id) SELECT supplier.id, 'N' || part.id, part.id FROM part, supplier WHERE part.id % 10 = 0`,
		`INSERT INTO shelf (part_id, on_hand) SELECT id, 3 FROM part WHERE id % 100 = 0`,
		`VACUUM ANALYZE`) {
		_, err := pool.Exec(ctx, sql)
		require.NoError(t, err)
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

// invented is a spec of a family with possible values.
func invented(random *rand.Rand, table *substitution.Table) substitution.Spec {
	s := substitution.Spec{}
	for _, name := range table.DimensionNames() {
		d, _ := table.Dimension(name)
		if random.IntN(10) == 0 {
			continue
		}
		var v substitution.Value
		switch d.Form {
		case substitution.Number:
			v = substitution.Num(d.Low + float64(int((d.High-d.Low)*random.Float64()*10))/10)
		case substitution.Int:
			v = substitution.Count(int(d.Low) + random.IntN(min(60, int(d.High-d.Low)+1)))
		case substitution.Word:
			words := d.Words
			if len(words) == 0 {
				words = []string{"black", "silver", "grey", "red", "blue"}
			}
			v = substitution.Text(words[random.IntN(len(words))])
		case substitution.Flag:
			v = substitution.Yes(random.IntN(2) == 0)
		case substitution.Ints:
			first := 6 + random.IntN(6)
			v = substitution.List(first, first+random.IntN(2))
		}
		s[name] = substitution.Fact{Value: v, Origin: substitution.FromSupplier}
	}
	for _, pair := range table.Ordered {
		if _, known := s[pair[0]]; known {
			delete(s, pair[1]) // or the first might exceed it
		}
	}
	return s
}

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
	lines, err := collect(ctx, db, pgx.RowTo[string], `EXPLAIN (ANALYZE, BUFFERS, COSTS) `+q.sql(obtainableFirst, limit), q.args...)
	require.NoError(t, err)
	return strings.Join(lines, "\n")
}

// What the rules ask is found by the index of marks, not by reading every part.
func TestNarrowingUsesTheIndex(t *testing.T) {
	pool := testdb.New(t)
	generate(t, pool, 8_000)
	for _, s := range searches {
		known, err := narrowKnown(s.family, s.conditions)
		require.NoError(t, err)
		plan := explainPlan(t, t.Context(), pool, known, 50)
		require.Contains(t, plan, "Bitmap Index Scan on part_marks", plan)
		require.NotContains(t, plan, "Seq Scan on part ", plan)
		unknown, err := narrowUnknown(s.family, s.conditions, 50)
		require.NoError(t, err)
		plan = explainPlan(t, t.Context(), pool, unknown, 50)
		require.Contains(t, plan, "Index Only Scan using part_family", plan)
		require.NotContains(t, plan, "Seq Scan on part ", plan)
	}
}

// BenchmarkCatalogue searches a million parts. Filling it takes a few minutes.
func BenchmarkCatalogue(b *testing.B) {
	pool, ctx := testdb.New(b), b.Context()
	generate(b, pool, 1_000_000)
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
