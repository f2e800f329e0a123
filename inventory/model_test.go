package inventory

import (
	"context"
	"flag"
	"maps"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/migrations/testdb"
)

// model is the shelf as one would keep it on paper: bins and what jobs hold, for one part.
type model struct {
	bins map[string]int
	held map[int64]int
}

func (m model) onHand() int { return sum(m.bins) }
func (m model) free() int   { return sum(m.bins) - sum(m.held) }

func sum[K comparable](m map[K]int) (total int) {
	for n := range maps.Values(m) {
		total += n
	}
	return total
}

// use is what UseOnJob should do: from the fullest bins last, one's own first.
func (m model) use(job int64, pieces int) bool {
	if m.free()+m.held[job] < pieces {
		return false
	}
	m.held[job] -= min(m.held[job], pieces)
	for pieces > 0 {
		least := ""
		for _, b := range slices.Sorted(maps.Keys(m.bins)) {
			if m.bins[b] > 0 && (least == "" || m.bins[b] < m.bins[least]) {
				least = b
			}
		}
		taken := min(m.bins[least], pieces)
		m.bins[least] -= taken
		pieces -= taken
	}
	return true
}

// The shelf in the database and the shelf on paper stay the same whatever is asked, allowed or refused.
func TestShelfFollowsTheModel(t *testing.T) {
	fewChecks(t)
	outer := testdb.Tx(t)
	bins := []string{"A1", "B2", "C3"}
	addBins(t, outer, bins...)
	jobs := []int64{addJob(t, outer), addJob(t, outer)}

	rapid.Check(t, func(r *rapid.T) {
		ctx := t.Context()
		tx, err := outer.Begin(ctx) // each alone: what others left would have to be passed over
		require.NoError(r, err)
		defer func() { require.NoError(t, tx.Rollback(ctx)) }()
		part, request := addRing(t, tx), begun(t, tx)
		m := model{bins: map[string]int{}, held: map[int64]int{}}
		bin := func() string { return rapid.SampledFrom(bins).Draw(r, "bin") }
		job := func() int64 { return rapid.SampledFrom(jobs).Draw(r, "job") }
		count := func() int { return rapid.IntRange(0, 12).Draw(r, "pieces") }
		// try runs a change that the model allows or not; a refused one is rolled back as Once would.
		try := func(allowed bool, do func(tx pgx.Tx) error) {
			inner, err := tx.Begin(ctx)
			require.NoError(r, err)
			if err := do(inner); allowed {
				require.NoError(r, err)
				require.NoError(r, inner.Commit(ctx))
			} else {
				require.Error(r, err)
				require.NotErrorAs(r, err, new(*pgconn.PgError), "refused in words before the last wall")
				require.NoError(r, inner.Rollback(ctx))
			}
		}
		r.Repeat(map[string]func(*rapid.T){
			"put in": func(*rapid.T) {
				b, n := bin(), count()
				try(n > 0, func(tx pgx.Tx) error { return PutIn(ctx, tx, request, part.ID, b, n, Returned, "") })
				m.bins[b] += n
			},
			"reserve": func(*rapid.T) {
				j, n := job(), count()
				allowed := n > 0 && n <= m.free()
				try(allowed, func(tx pgx.Tx) error { return Reserve(ctx, tx, j, part.ID, "crank.ring", n) })
				if allowed {
					m.held[j] += n
				}
			},
			"use": func(*rapid.T) {
				j, n := job(), count()
				allowed := n > 0 && m.use(j, n)
				try(allowed, func(tx pgx.Tx) error { return UseOnJob(ctx, tx, request, j, part.ID, "crank.ring", n) })
			},
			"move": func(*rapid.T) {
				from, to, n := bin(), bin(), count()
				allowed := n > 0 && from != to && n <= m.bins[from]
				try(allowed, func(tx pgx.Tx) error { return Move(ctx, tx, request, part.ID, from, to, n) })
				if allowed {
					m.bins[from] -= n
					m.bins[to] += n
				}
			},
			"scrap": func(*rapid.T) {
				b, n := bin(), count()
				allowed := n > 0 && n <= m.bins[b] && n <= m.free()
				try(allowed, func(tx pgx.Tx) error { return Scrap(ctx, tx, request, part.ID, b, n, "") })
				if allowed {
					m.bins[b] -= n
				}
			},
			"count": func(*rapid.T) {
				b, n := bin(), count()
				allowed := m.onHand()-m.bins[b]+n >= sum(m.held)
				try(allowed, func(tx pgx.Tx) error {
					difference, err := CountStock(ctx, tx, request, part.ID, b, n, "")
					if allowed {
						require.Equal(r, n-m.bins[b], difference)
					}
					return err
				})
				if allowed {
					m.bins[b] = n
				}
			},
			"release": func(*rapid.T) {
				j := job()
				try(true, func(tx pgx.Tx) error { return ReleaseJob(ctx, tx, j) })
				m.held[j] = 0
			},
			"": func(*rapid.T) {
				require.Equal(r, Stock{OnHand: m.onHand(), Reserved: sum(m.held)}, stockOf(t, tx, part.ID))
				requireBins(r, ctx, tx, part.ID, m.bins)
			},
		})
		requireLedgerAddsUp(r, ctx, tx)
	})
}

// fewChecks keeps a property test short that asks the database at each step; -rapid.checks=1000 makes it long again.
func fewChecks(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	if usual := checks.Value.String(); usual == checks.DefValue {
		require.NoError(t, checks.Value.Set("15"))
		t.Cleanup(func() { require.NoError(t, checks.Value.Set(usual)) })
	}
}

func requireBins(r *rapid.T, ctx context.Context, db DB, partID int64, want map[string]int) {
	contents, err := ContentsOf(ctx, db, partID)
	require.NoError(r, err)
	got := map[string]int{}
	for _, c := range contents {
		got[c.Bin] = c.Pieces
	}
	want = maps.Clone(want)
	maps.DeleteFunc(want, func(_ string, n int) bool { return n == 0 })
	require.Equal(r, want, got)
}
