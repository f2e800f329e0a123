package billing

import (
	"context"
	"flag"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing"
)

// aBillsLife is one job of which anything may be asked from its approval on.
type aBillsLife struct {
	t       *testing.T
	r       *rapid.T
	tx      pgx.Tx
	request string
	job     int64
	written []string // the papers as they were written
	back    int      // pieces that the customer has brought back
}

// try asks for something: done as a whole, or refused in words with nothing changed.
func (l *aBillsLife) try(do func(ctx context.Context, tx pgx.Tx) error) {
	inner, err := l.tx.Begin(l.t.Context())
	require.NoError(l.r, err)
	if err := do(l.t.Context(), inner); err != nil {
		require.NotContains(l.r, err.Error(), "SQLSTATE", "refused in words before the last wall")
		require.NoError(l.r, inner.Rollback(l.t.Context()))
		return
	}
	require.NoError(l.r, inner.Commit(l.t.Context()))
}

// used is how many pieces went onto the bike, and one of the parts.
func (l *aBillsLife) used() (pieces int, part int64) {
	require.NoError(l.r, l.tx.QueryRow(l.t.Context(), `SELECT coalesce(sum(pieces), 0), coalesce(min(part_id), 0) FROM reservation WHERE job_id = $1 AND state = 'used'`, l.job).Scan(&pieces, &part))
	return pieces, part
}

// bringBack brings a piece back: papers and money stay as they are, for it is a credit note that gives money back.
func (l *aBillsLife) bringBack() {
	pieces, part := l.used()
	before, err := AccountOfJob(l.t.Context(), l.tx, l.job)
	require.NoError(l.r, err)
	l.try(func(ctx context.Context, tx pgx.Tx) error {
		err := inventory.BringBack(ctx, tx, l.request, l.job, part, "A1", 1, "too long")
		if err == nil {
			l.back++
		}
		return err
	})
	require.LessOrEqual(l.r, l.back, pieces, "no more comes back than went out")
	after, err := AccountOfJob(l.t.Context(), l.tx, l.job)
	require.NoError(l.r, err)
	require.True(l.r, before.Due.Equal(after.Due) && before.Billed.Equal(after.Billed), "money stays as it is")
}

// papers are the job's bills and credit notes as they stand in the database.
func (l *aBillsLife) papers() []string {
	rows, err := l.tx.Query(l.t.Context(), `SELECT series || ' ' || number || ': ' || document::text FROM bill WHERE job_id = $1 ORDER BY id`, l.job)
	require.NoError(l.r, err)
	out, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(l.r, err)
	return out
}

// require checks what must hold whatever was asked: no paper is changed, numbers have no gap, the sums of each are whole, no
// more is given back than was billed, money adds up, and one bill at most stands, of a job that is closed.
func (l *aBillsLife) require() {
	now := l.papers()
	require.GreaterOrEqual(l.r, len(now), len(l.written))
	require.True(l.r, slices.Equal(l.written, now[:len(l.written)]), "a paper stays as it was written")
	l.written = now
	a, err := AccountOfJob(l.t.Context(), l.tx, l.job)
	require.NoError(l.r, err)
	next := map[Series]int64{Bills: 1, Credits: 1}
	billed, standing := decimal.Zero, 0
	for _, b := range a.Papers {
		require.Equal(l.r, next[b.Series], b.Number, "numbered without a gap")
		next[b.Series]++
		require.True(l.r, b.Net.Add(b.Tax).Equal(b.Total))
		sum := decimal.Zero
		for _, line := range b.Lines {
			sum = sum.Add(line.Amount)
		}
		require.True(l.r, sum.Equal(b.Total), "the lines come to %s, not %s", sum, b.Total)
		if b.Series == Credits {
			billed = billed.Sub(b.Total)
			continue
		}
		billed = billed.Add(b.Total)
		open := false
		for i, left := range b.left(a.Papers) {
			require.False(l.r, left.IsNegative() != b.Lines[i].Amount.IsNegative() && !left.IsZero(), "more is given back than was billed")
			open = open || !left.IsZero()
		}
		if open {
			standing++
		}
	}
	require.True(l.r, billed.Equal(a.Billed) && a.Due.Equal(a.Billed.Sub(a.Paid)))
	require.False(l.r, a.Paid.IsNegative() || a.Billed.IsNegative())
	require.LessOrEqual(l.r, standing, 1)
	job, err := pricing.JobByID(l.t.Context(), l.tx, l.job)
	require.NoError(l.r, err)
	if standing > 0 {
		require.Equal(l.r, pricing.Closed, job.State, "what is billed stays closed")
	}
}

// From the approval on, every bill, payment, credit note, reopening and cancelling that is allowed keeps papers and money
// whole; what is not allowed changes nothing.
func TestABillsLife(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	if usual := checks.Value.String(); usual == checks.DefValue {
		require.NoError(t, checks.Value.Set("10"))
		t.Cleanup(func() { require.NoError(t, checks.Value.Set(usual)) })
	}
	outer := testdb.Tx(t)
	request, _ := shop(t, outer)
	rapid.Check(t, func(r *rapid.T) {
		inner, err := outer.Begin(t.Context())
		require.NoError(r, err)
		defer func() { require.NoError(t, inner.Rollback(t.Context())) }()
		l := &aBillsLife{t: t, r: r, tx: inner, request: request, job: approved(t, inner)}
		amount := func() decimal.NullDecimal {
			if rapid.Bool().Draw(r, "all") {
				return decimal.NullDecimal{}
			}
			return decimal.NewNullDecimal(decimal.New(rapid.Int64Range(-1000, 3000).Draw(r, "pence"), -2))
		}
		last := func(ctx context.Context, tx pgx.Tx) int64 {
			var number int64
			require.NoError(r, tx.QueryRow(ctx, `SELECT coalesce(max(number), 0) FROM bill WHERE series = 'bill'`).Scan(&number))
			return number
		}
		r.Repeat(map[string]func(*rapid.T){
			"use": func(*rapid.T) {
				l.try(func(ctx context.Context, tx pgx.Tx) error {
					_, err := pricing.UseHeld(ctx, tx, l.request, l.job)
					return err
				})
			},
			"close": func(*rapid.T) {
				leave := rapid.Bool().Draw(r, "leave out the rest")
				l.try(func(ctx context.Context, tx pgx.Tx) error { return pricing.CloseJob(ctx, tx, l.job, leave, now) })
			},
			"bring back": func(*rapid.T) { l.bringBack() },
			"cancel": func(*rapid.T) {
				if rapid.IntRange(0, 3).Draw(r, "really") == 0 {
					l.try(func(ctx context.Context, tx pgx.Tx) error {
						return pricing.CancelJob(ctx, tx, l.job, "sold the bike", now)
					})
				}
			},
			"reopen": func(*rapid.T) {
				l.try(func(ctx context.Context, tx pgx.Tx) error {
					return pricing.Reopen(ctx, tx, l.job, inventory.Hand{By: "Otis", At: now})
				})
			},
			"bill": func(*rapid.T) {
				how := rapid.SampledFrom([]string{"", "card"}).Draw(r, "how")
				l.try(func(ctx context.Context, tx pgx.Tx) error {
					_, err := MakePaid(ctx, tx, l.job, how, at(now))
					return err
				})
			},
			"pay": func(*rapid.T) {
				money := amount()
				l.try(func(ctx context.Context, tx pgx.Tx) error {
					_, err := Pay(ctx, tx, l.job, money, "cash", now)
					return err
				})
			},
			"credit": func(*rapid.T) {
				var back Back
				if rapid.IntRange(0, 2).Draw(r, "a line") > 0 {
					back = Back{rapid.IntRange(1, 4).Draw(r, "line"): amount()}
				}
				l.try(func(ctx context.Context, tx pgx.Tx) error {
					_, err := Credit(ctx, tx, last(ctx, tx), back, "came loose", at(now))
					return err
				})
			},
			"": func(*rapid.T) { l.require() },
		})
	})
}
