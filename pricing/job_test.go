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

	list, err := Jobs(t.Context(), w.tx, JobSearch{})
	require.NoError(t, err)
	require.Len(t, list, 1)
	require.Equal(t, "Ines Falkner", list[0].Customer)
}

func TestInspect(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job := w.bookIn(touringBike(t), Limits{})
	read := func(place substitution.Place, action inspection.Action, name string, v substitution.Value) inspection.Finding {
		t.Helper()
		f, err := Inspect(t.Context(), w.tx, job, inspection.Taken{Place: place, Action: action, Readings: inspection.Readings{name: v}, Note: "seen in daylight"}, now)
		require.NoError(t, err)
		return f.Finding
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

	t.Run("a later reading wipes nothing: the worse stands, and both are kept", func(t *testing.T) {
		again := read("chain", "", "wear_percent", substitution.Num(0.1))
		require.Equal(t, inspection.Replace, again.Action)
		require.Contains(t, again.Contradictions[0].Words, "wear was read as 0.9 % and as 0.1 %: 0.9 % counts")
		require.Len(t, w.job(job).Findings, 2)
	})
	t.Run("a correction says that it is one", func(t *testing.T) {
		f, err := Inspect(t.Context(), w.tx, job, inspection.Taken{Place: "chain", Correct: true, Readings: inspection.Readings{"wear_percent": substitution.Num(0.6)}}, now)
		require.NoError(t, err)
		require.Equal(t, inspection.Keep, f.Action)
		require.Empty(t, f.Contradictions)
	})
	t.Run("what was read is judged by the bike as it is recorded", func(t *testing.T) {
		require.NoError(t, RecordFitted(t.Context(), w.tx, job, "rear.cassette", parsed(t, "cassette", "speeds=12")))
		require.Equal(t, inspection.Replace, w.finding(job, "chain").Action, "0.6 % is past a 12-speed chain's limit")
	})
	t.Run("what is read over several visits is judged together", func(t *testing.T) {
		rotor := read("front.rotor", "", "thickness_mm", substitution.Num(1.7))
		require.Empty(t, rotor.Action)
		require.NotEmpty(t, rotor.Asks)
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := MakeQuote(ctx, tx, job, now)
			return err
		}), "is not decided yet: front brake rotor: read the least thickness on the rotor")
		rotor = read("front.rotor", "", "marked_minimum_mm", substitution.Num(1.8))
		require.Equal(t, inspection.Replace, rotor.Action)
		rotor = read("front.rotor", "", "runs_out", substitution.Yes(true))
		require.Equal(t, inspection.Replace, rotor.Action)
		require.Len(t, rotor.Proposal.Reasons, 2)
	})
	t.Run("what was read is kept as it was", func(t *testing.T) {
		inner, err := w.tx.Begin(t.Context())
		require.NoError(t, err)
		_, err = inner.Exec(t.Context(), `UPDATE visit SET taken = '{}'`)
		require.ErrorContains(t, err, "what was read is never changed")
		require.NoError(t, inner.Rollback(t.Context()))
	})
}

// finding is what was found at one place.
func (w *workshop) finding(job int64, place substitution.Place) inspection.Finding {
	w.t.Helper()
	for _, f := range w.job(job).Findings {
		if f.Place == place {
			return f
		}
	}
	require.Fail(w.t, "no finding", place)
	return inspection.Finding{}
}

func TestInspectRefused(t *testing.T) {
	for _, c := range []struct {
		name  string
		visit inspection.Taken
		says  string
	}{
		{"unknown place", inspection.Taken{Place: "crank.moon", Action: inspection.Replace}, "crank.moon"},
		{"unknown reading", inspection.Taken{Place: "chain", Readings: inspection.Readings{"colour_of_rust": substitution.Text("red")}}, "colour_of_rust"},
		{"text where a number belongs", inspection.Taken{Place: "chain", Readings: inspection.Readings{"wear_percent": substitution.Text("much")}}, "wear"},
		{"a wear below zero", inspection.Taken{Place: "chain", Readings: inspection.Readings{"wear_percent": substitution.Num(-3)}}, "wear"},
		{"unknown action", inspection.Taken{Place: "chain", Action: "polish"}, "polish"},
		{"nothing said", inspection.Taken{Place: "chain"}, "nothing was read at the chain: give a reading, or say keep, clean, adjust or replace"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job := w.bookIn(touringBike(t), Limits{})
			says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := Inspect(ctx, tx, job, c.visit, now)
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
			_, err := Inspect(ctx, tx, 999, inspection.Taken{Place: "chain", Action: inspection.Replace}, now)
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
	t.Run("when the bike has gone home", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		ringsOffered(w)
		job := w.ringJob(Limits{})
		w.quote(job)
		w.approve(job, "closest")
		require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := Inspect(ctx, tx, job, inspection.Taken{Place: "chain", Action: inspection.Replace}, now)
			return err
		}), "is closed: nothing more is found on a bike that has gone home")
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
	t.Run("what was not approved is not cancelled unasked", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		job := w.bookIn(touringBike(t), Limits{})
		require.Contains(t, refused(w, job), "is booked and nothing was approved")
		require.Equal(t, Booked, w.job(job).State)
		ringsOffered(w)
		job = w.ringJob(Limits{})
		w.quote(job)
		require.Contains(t, refused(w, job), "is quoted and nothing was approved")
		q, _, err := LastQuote(t.Context(), w.tx, job)
		require.NoError(t, err)
		require.Equal(t, Open, q.State)
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
		e := w.job(job).Ending
		require.Equal(t, []string{"black ring 50T", "fit chainring: outer chainring", "carriage from Northmoor Wheel Goods"}, []string{e.LeftOut[0].Words, e.LeftOut[1].Words, e.LeftOut[2].Words})
		require.Equal(t, "0.00", e.Due.StringFixed(2), "of a job of one ring, left out, nothing is due")
		require.True(t, e.Agreed.Decimal.IsPositive())
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

func TestCancelJob(t *testing.T) {
	cancel := func(w *workshop, job int64) {
		w.t.Helper()
		require.NoError(w.t, CancelJob(w.t.Context(), w.tx, job, "sold the bike", now))
		require.Equal(w.t, Cancelled, w.job(job).State)
	}
	t.Run("quoted", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		ringsOffered(w)
		job := w.ringJob(Limits{})
		w.quote(job)
		cancel(w, job)
		q, _, err := LastQuote(t.Context(), w.tx, job)
		require.NoError(t, err)
		require.Equal(t, Declined, q.State)
		require.Contains(t, w.refused(func(context.Context, pgx.Tx) error {
			_, err := w.decide(Decision{JobID: job, Option: "closest"})
			return err
		}), "is declined already")
	})
	t.Run("approved: nothing is due, and its parts are free again", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		black, _ := ringsOffered(w)
		w.shelve(black, 1)
		job := w.ringJob(Limits{})
		w.quote(job)
		w.approve(job, "closest")
		cancel(w, job)
		e := w.job(job).Ending
		require.True(t, e.Due.IsZero())
		require.True(t, e.Agreed.Decimal.IsPositive())
		require.Equal(t, "sold the bike", e.Why)
		require.Equal(t, inventory.Stock{OnHand: 1}, w.stock(black))
	})
	for _, c := range []struct {
		name string
		why  string
		do   func(w *workshop, job int64)
		says string
	}{
		{"without a reason", " ", func(*workshop, int64) {}, "say why job N is given up"},
		{"twice", "sold", func(w *workshop, job int64) { cancel(w, job) }, "is cancelled already"},
		{"begun", "sold", func(w *workshop, job int64) {
			w.approve(job, "closest")
			_, err := UseHeld(w.t.Context(), w.tx, w.request, job)
			require.NoError(w.t, err)
		}, "1 of its parts have been used on job N, so it was begun"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			black, _ := ringsOffered(w)
			w.shelve(black, 1)
			job := w.ringJob(Limits{})
			w.quote(job)
			c.do(w, job)
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return CancelJob(ctx, tx, job, c.why, now) }), c.says)
		})
	}
}
