package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
	"stead/substitution/inspection"
)

func TestJobRoundTrip(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	bike, err := AddBike(t.Context(), w.tx, Bike{Customer: Customer{Name: "Ines Falkner"}, Words: "blue touring bike", Build: touringBike(t)})
	require.NoError(t, err)
	wanted, latest := today+10, today+8
	limits := Limits{Latest: &latest, MostToSpend: decimal.NewNullDecimal(pounds("80.00")), SameFinish: true,
		Declined: []Difference{{Place: "crank.outer-ring", Rule: "chainring.finish", Found: "silver polished alloy"}}}
	id, err := OpenJob(t.Context(), w.tx, bike.ID, "no surprises", &wanted, limits, now)
	require.NoError(t, err)

	job := w.job(id)
	require.True(t, limits.MostToSpend.Decimal.Equal(job.Limits.MostToSpend.Decimal))
	job.Limits.MostToSpend = limits.MostToSpend // equal, though written otherwise
	require.Equal(t, Job{ID: id, State: Booked, Bike: bike, Wish: "no surprises", Limits: limits, WantedBy: &wanted}, job)

	list, err := Jobs(t.Context(), w.tx, false)
	require.NoError(t, err)
	require.Len(t, list, 1)
	require.Equal(t, "Ines Falkner", list[0].Customer)
}

func TestInspect(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job := w.bookIn(touringBike(t), Limits{})
	read := func(place substitution.Place, action inspection.Action, name string, v substitution.Value) inspection.Finding {
		t.Helper()
		f, err := Inspect(t.Context(), w.tx, job, inspection.Finding{Place: place, Action: action, Readings: inspection.Readings{name: v}, Note: "seen in daylight"})
		require.NoError(t, err)
		return f
	}
	// The reading alone decides: this far gone, a chain is replaced.
	chain := read("chain", "", "wear_percent", substitution.Num(0.9))
	require.Equal(t, inspection.Replace, chain.Action)
	require.NotEmpty(t, chain.Proposal.Words)
	// The mechanic decides otherwise; what the reading proposed is kept beside it.
	ring := read("crank.outer-ring", inspection.Keep, "hooked_teeth", substitution.Yes(true))
	require.Equal(t, inspection.Keep, ring.Action)
	require.Equal(t, inspection.Replace, ring.Proposal.Action)

	got := w.job(job)
	require.Equal(t, Inspected, got.State)
	require.ElementsMatch(t, []inspection.Finding{chain, ring}, got.Findings)

	t.Run("read again, the later finding counts", func(t *testing.T) {
		again := read("chain", "", "wear_percent", substitution.Num(0.1))
		require.Equal(t, inspection.Keep, again.Action)
		require.Len(t, w.job(job).Findings, 2)
	})
	t.Run("what was proposed stands when the bike changes", func(t *testing.T) {
		before := read("chain", "", "wear_percent", substitution.Num(0.6))
		twelve := parsed(t, "chain", "speeds=12 chain_width=11/128")
		require.NoError(t, RecordFitted(t.Context(), w.tx, job, "chain", twelve))
		require.NoError(t, RecordFitted(t.Context(), w.tx, job, "rear.cassette", parsed(t, "cassette", "speeds=12")))
		for _, f := range w.job(job).Findings {
			if f.Place == "chain" {
				require.Equal(t, before.Proposal.Words, f.Proposal.Words)
			}
		}
	})
}

func TestInspectRefused(t *testing.T) {
	for _, c := range []struct {
		name    string
		finding inspection.Finding
		says    string
	}{
		{"unknown place", inspection.Finding{Place: "crank.moon", Action: inspection.Replace}, "crank.moon"},
		{"unknown reading", inspection.Finding{Place: "chain", Readings: inspection.Readings{"colour_of_rust": substitution.Text("red")}}, "colour_of_rust"},
		{"text where a number belongs", inspection.Finding{Place: "chain", Readings: inspection.Readings{"wear_percent": substitution.Text("much")}}, "wear"},
		{"a wear below zero", inspection.Finding{Place: "chain", Readings: inspection.Readings{"wear_percent": substitution.Num(-3)}}, "wear"},
		{"unknown action", inspection.Finding{Place: "chain", Action: "polish"}, "polish"},
		{"nothing said", inspection.Finding{Place: "chain"}, "decide nothing: say keep, clean, adjust or replace"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job := w.bookIn(touringBike(t), Limits{})
			says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := Inspect(ctx, tx, job, c.finding)
				return err
			})
			require.Contains(t, says, c.says)
			require.Equal(t, Booked, w.job(job).State)
			require.Empty(t, w.job(job).Findings)
		})
	}
	t.Run("no such job", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := Inspect(ctx, tx, 999, inspection.Finding{Place: "chain", Action: inspection.Replace})
			return err
		}), "there is no job N")
	})
	t.Run("no such bike", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := OpenJob(ctx, tx, 999, "", nil, Limits{}, now)
			return err
		}), "there is no bike 999")
	})
	t.Run("nothing to spend", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		bike, err := AddBike(t.Context(), w.tx, Bike{Customer: Customer{Name: "Ines Falkner"}, Words: "blue touring bike"})
		require.NoError(t, err)
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := OpenJob(ctx, tx, bike.ID, "", nil, Limits{MostToSpend: decimal.NewNullDecimal(decimal.Zero)}, now)
			return err
		}), "at most 0 to spend cannot be meant")
	})
	t.Run("after approval", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		ringsOffered(w)
		job := w.ringJob(Limits{})
		w.quote(job)
		w.approve(job, "closest")
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := Inspect(ctx, tx, job, inspection.Finding{Place: "chain", Action: inspection.Replace})
			return err
		}), "is approved: findings are recorded before the work is approved")
	})
}

func TestCloseJob(t *testing.T) {
	closing := func(w *workshop, job int64, leaveOut bool) {
		w.t.Helper()
		require.NoError(w.t, CloseJob(w.t.Context(), w.tx, job, leaveOut, now))
	}
	refused := func(w *workshop, job int64) string {
		return w.refused(func(ctx context.Context, tx pgx.Tx) error { return CloseJob(ctx, tx, job, false, now) })
	}
	t.Run("only booked", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		job := w.bookIn(touringBike(t), Limits{})
		closing(w, job, false)
		require.Equal(t, Cancelled, w.job(job).State)
		require.Contains(t, refused(w, job), "is cancelled already")
	})
	t.Run("quoted and not approved", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		ringsOffered(w)
		job := w.ringJob(Limits{})
		w.quote(job)
		closing(w, job, false)
		require.Equal(t, Cancelled, w.job(job).State)
		q, _, err := LastQuote(t.Context(), w.tx, job)
		require.NoError(t, err)
		require.Equal(t, Declined, q.State)
		require.Contains(t, w.refused(func(context.Context, pgx.Tx) error {
			_, err := w.decide(Decision{JobID: job, Option: "closest"})
			return err
		}), "is declined already")
	})
	t.Run("parts still to come", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		ringsOffered(w)
		job := w.ringJob(Limits{})
		w.quote(job)
		w.approve(job, "closest")
		require.Contains(t, refused(w, job), "1 of black ring 50T still to come")
		closing(w, job, true)
		require.Equal(t, Closed, w.job(job).State)
		require.Equal(t, inventory.ClaimCancelled, w.claims(job)[0].State)
	})
	t.Run("parts reserved and not used", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		black, _ := ringsOffered(w)
		w.shelve(black, 1)
		job := w.ringJob(Limits{})
		w.quote(job)
		w.approve(job, "closest")
		require.Contains(t, refused(w, job), "1 of black ring 50T reserved and not used")
		closing(w, job, true)
		require.Equal(t, inventory.Stock{OnHand: 1}, w.stock(black))
	})
}
