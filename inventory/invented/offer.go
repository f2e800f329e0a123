package invented

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
)

// offer puts the first parts and one in ten of the others into the lists of one or more suppliers. What a part costs
// spreads from a few pounds to a few hundred; suppliers differ by a tenth either way, the quicker are dearer, and one
// offer in three has a second price.
func offer(t testing.TB, pool *pgxpool.Pool, random *rand.Rand, first int) {
	t.Helper()
	ctx := t.Context()
	ids := func(sql string) []int64 {
		rows, err := pool.Query(ctx, sql)
		require.NoError(t, err)
		ids, err := pgx.CollectRows(rows, pgx.RowTo[int64])
		require.NoError(t, err)
		return ids
	}
	suppliers := ids(`SELECT id FROM supplier ORDER BY lead_days, id`)
	signals := []string{"in-stock", "in-stock", "in-stock", "low", "to-order"}
	var offers, breaks [][]any
	// Numbers of their own, so that prices can be copied without asking which offer got which.
	next := int64(1_000_000_000)
	for i, part := range ids(`SELECT id FROM part ORDER BY id`) {
		if i >= first && i%10 > 0 {
			continue
		}
		worth := 3 * math.Exp(3*random.Float64())
		listed := 1 + random.IntN(min(3, len(suppliers)))
		for _, s := range random.Perm(len(suppliers))[:listed] {
			dearer := 1.1 - 0.2*float64(s)/float64(len(suppliers))
			price := worth * dearer * (0.95 + 0.1*random.Float64())
			offers = append(offers, []any{next, suppliers[s], fmt.Sprintf("L%d-%d", s, part), part, signals[random.IntN(len(signals))]})
			breaks = append(breaks, []any{next, 1, decimal.NewFromFloat(price).Round(2)})
			if random.IntN(3) == 0 {
				breaks = append(breaks, []any{next, 5, decimal.NewFromFloat(price * 0.9).Round(2)})
			}
			next++
		}
	}
	_, err := pool.CopyFrom(ctx, pgx.Identifier{"offer"}, []string{"id", "supplier_id", "code", "part_id", "stock"}, pgx.CopyFromRows(offers))
	require.NoError(t, err)
	_, err = pool.CopyFrom(ctx, pgx.Identifier{"price_break"}, []string{"offer_id", "from_packs", "price"}, pgx.CopyFromRows(breaks))
	require.NoError(t, err)
}
