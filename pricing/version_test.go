package pricing

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution/inspection"
)

func TestQuoteIsKeptAsShown(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ringsOffered(w)
	q := w.quote(w.ringJob(Limits{}))
	kept, found, err := LastQuote(t.Context(), w.tx, q.JobID)
	require.NoError(t, err)
	require.True(t, found)
	shown, err := json.Marshal(q)
	require.NoError(t, err)
	again, err := json.Marshal(kept)
	require.NoError(t, err)
	require.JSONEq(t, string(shown), string(again))
	require.Equal(t, q.ID, kept.ID)
}

func TestQuoteVersions(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, _ := ringsOffered(w)
	job := w.ringJob(Limits{})
	w.quote(job)
	w.offer(w.north, black, 1, inventory.InStock, at("21.00"))
	second := w.quote(job)
	require.Equal(t, 2, second.Version)
	// 21.00 × 1.5 × 1.2.
	require.Equal(t, "37.80", named(t, second, "closest").Parts[0].Amount.StringFixed(2))

	states := func() (states []string) {
		rows, err := w.tx.Query(t.Context(), `SELECT state FROM quote WHERE job_id = $1 ORDER BY version`, job)
		require.NoError(t, err)
		states, err = pgx.CollectRows(rows, pgx.RowTo[string])
		require.NoError(t, err)
		return states
	}
	require.Equal(t, []string{"superseded", "open"}, states())
	require.Contains(t, w.refused(func(context.Context, pgx.Tx) error {
		_, err := w.decide(Decision{JobID: job, Version: 1, Option: "closest"})
		return err
	}), "quote version 1 of job N is out of date, the newest is version 2")

	w.approve(job, "closest")
	require.Equal(t, []string{"superseded", "approved"}, states())

	t.Run("what was approved stays as it was shown", func(t *testing.T) {
		w.offer(w.north, black, 1, inventory.InStock, at("99.00"))
		q, a, err := ApprovedQuote(t.Context(), w.tx, job)
		require.NoError(t, err)
		require.Equal(t, 2, q.Version)
		require.Equal(t, "37.80", named(t, q, "closest").Parts[0].Amount.StringFixed(2))
		require.Equal(t, "Ines Falkner", a.By)
		require.True(t, now.Equal(a.At))
		require.Equal(t, named(t, q, "closest").Total.StringFixed(2), a.Total.StringFixed(2))
	})
	t.Run("it is not quoted or approved again", func(t *testing.T) {
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := MakeQuote(ctx, tx, job, now)
			return err
		}), "is approved: it is not quoted again")
		require.Contains(t, w.refused(func(context.Context, pgx.Tx) error {
			_, err := w.decide(Decision{JobID: job, Option: "closest", Accept: []string{"all"}})
			return err
		}), "is approved already")
	})
	for _, c := range []struct{ name, sql string }{
		{"no statement changes its document", `UPDATE quote SET document = '{}' WHERE job_id = $1`},
		{"nor its date", `UPDATE quote SET valid_until = valid_until + 30 WHERE job_id = $1`},
		{"nor reopens it", `UPDATE quote SET state = 'open' WHERE job_id = $1 AND state = 'approved'`},
		{"nor removes it", `DELETE FROM quote WHERE job_id = $1`},
		{"nor opens two versions", `INSERT INTO quote (job_id, version, made_at, valid_until, document) SELECT $1, v, now(), now(), '{}' FROM generate_series(3, 4) v`},
	} {
		t.Run(c.name, func(t *testing.T) {
			inner, err := w.tx.Begin(t.Context())
			require.NoError(t, err)
			_, err = inner.Exec(t.Context(), c.sql, job)
			require.Error(t, err)
			require.NoError(t, inner.Rollback(t.Context()))
		})
	}
}

func TestQuoteNoLongerHolds(t *testing.T) {
	for _, c := range []struct {
		name  string
		since func(w *workshop, job int64) error
	}{
		{"something else was found", func(w *workshop, job int64) error {
			_, err := Inspect(w.t.Context(), w.tx, job, inspection.Taken{Place: "chain", Action: inspection.Replace}, now)
			return err
		}},
		{"the bike was measured again", func(w *workshop, job int64) error {
			return RecordFitted(w.t.Context(), w.tx, job, "crank", parsed(w.t, "crankset", "bcd_mm=130 bolts=5"))
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ringsOffered(w)
			job := w.ringJob(Limits{})
			w.quote(job)
			require.NoError(t, c.since(w, job))
			require.Equal(t, Inspected, w.job(job).State)
			require.Contains(t, w.refused(func(context.Context, pgx.Tx) error {
				_, err := w.decide(Decision{JobID: job, Option: "closest", Accept: []string{"all"}})
				return err
			}), "the findings or the bike have changed since")
			require.Empty(t, w.claims(job))
		})
	}
}

func TestQuoteExpires(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, _ := ringsOffered(w)
	w.shelve(black, 1) // what is ordered is dated anew
	job := w.ringJob(Limits{})
	q := w.quote(job)
	require.Equal(t, today+14, q.ValidUntil)
	d := Decision{JobID: job, Version: q.Version, Option: "closest", By: "Ines Falkner"}
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := Approve(ctx, tx, d, nil, now.AddDate(0, 0, 15))
		return err
	}), "was valid until Tuesday 17 March")
	_, err := Approve(t.Context(), w.tx, d, nil, now.AddDate(0, 0, 14))
	require.NoError(t, err, "on its last day it stands")
}
