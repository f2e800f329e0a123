package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution/inspection"
)

// correction is one kind of correction, on something that is there to be corrected.
type correction struct {
	ready  func(w *workshop) (do func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error)
	of     func(w *workshop) (kind inventory.Kind, number int64) // whose trail it is in, once it is ready
	twice  string                                                // what is said when the very same is done again
	closed string                                                // what is said where the job has gone home; empty where that is no matter
}

// corrections are all that a person corrects by hand and that has a trail.
func corrections() map[string]correction {
	var job, part, bike, wish int64
	ofJob := func(*workshop) (inventory.Kind, int64) { return inventory.OfJob, job }
	ofPart := func(*workshop) (inventory.Kind, int64) { return inventory.OfPart, part }
	ofBike := func(*workshop) (inventory.Kind, int64) { return inventory.OfBike, bike }
	booked := func(w *workshop) {
		job = w.bookIn(touringBike(w.t), Limits{})
		bike = w.job(job).Bike.ID
	}
	sold := func(w *workshop) inventory.Part {
		p := w.part("chain 9-speed", "chain", chain9, "20.00")
		w.offer(w.harbour, p, 1, inventory.InStock, at("8.00"))
		part = p.ID
		return p
	}
	return map[string]correction{
		"what was asked for": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			booked(w)
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				return CorrectJob(ctx, tx, job, by, func(words *Words) { words.Wish = "gears" })
			}
		}, ofJob, "nothing to correct", "is corrected while the bike is here"},
		"a booking": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			booked(w)
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				return TakeBackBooking(ctx, tx, job, by)
			}
		}, ofJob, "is cancelled already", "is closed already"},
		"an ending": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			booked(w)
			require.NoError(w.t, CancelJob(w.t.Context(), w.tx, job, "sold", now))
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error { return Reopen(ctx, tx, job, by) }
		}, ofJob, "only a job that has ended", ""},
		"what is held": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			booked(w)
			w.shelve(sold(w), 1)
			w.find(job, inspection.Replace, "chain")
			w.quote(job)
			w.approve(job, "cheapest")
			_, err := CancelWith(w.t.Context(), w.tx, w.request, job, "sold", PartsHeld, now)
			require.NoError(w.t, err)
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				_, err := Release(ctx, tx, job, by)
				return err
			}
		}, ofJob, "nothing is held", ""},
		"a customer": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			booked(w)
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				_, err := CorrectCustomer(ctx, tx, w.job(job).Bike.Customer.ID, by, func(c *Customer) { c.Phone = "01632 960001" })
				return err
			}
		}, func(w *workshop) (inventory.Kind, int64) { return inventory.OfCustomer, w.job(job).Bike.Customer.ID }, "nothing to correct", ""},
		"a bike": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			booked(w)
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				_, err := CorrectBike(ctx, tx, bike, by, func(b *Bike) { b.FrameNumber = "A1" })
				return err
			}
		}, ofBike, "nothing to correct", ""},
		"a wish": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			booked(w)
			kept, err := wishFor(w.job(job).Bike, Deviation{Difference: Difference{Place: "crank.outer-ring", Rule: "chainring.finish"}, Was: "black"})
			require.NoError(w.t, err)
			kept, err = addWish(w.t.Context(), w.tx, kept)
			require.NoError(w.t, err)
			wish = kept.ID
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error { return ForgetWish(ctx, tx, wish, by) }
		}, ofBike, "no open wish", ""},
		"a part": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			sold(w)
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				_, err := CorrectPart(ctx, tx, part, by, func(p *inventory.Part) error { p.Name = "chain"; return nil })
				return err
			}
		}, ofPart, "nothing to correct", ""},
		"how a part is ordered": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			sold(w)
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				until := today + 9
				return inventory.OrderByHand(ctx, tx, inventory.ByHand{PartID: part, Until: &until}, today, by)
			}
		}, ofPart, "nothing to correct", ""},
		"what stands in": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			p := sold(w)
			other := w.part("another chain", "chain", chain9, "20.00")
			w.offer(w.harbour, other, 1, inventory.InStock, at("8.00"))
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				_, err := StandIn(ctx, tx, p, other, by, now)
				return err
			}
		}, ofPart, "nothing to correct", ""},
		"who answers for a part": {func(w *workshop) func(context.Context, pgx.Tx, inventory.Hand) error {
			ring := w.part("ring", "chainring", unsureRing, "42.00")
			w.shelve(ring, 2)
			job = w.ringJob(Limits{})
			return func(ctx context.Context, tx pgx.Tx, by inventory.Hand) error {
				_, err := Vouch(ctx, tx, job, "crank.outer-ring", ring.ID, "chainring.bcd", false, by)
				return err
			}
		}, ofJob, "nothing to answer for", "is closed"},
	}
}

// Each correction with a stale view, done twice, or on a job that has gone home is refused in one sentence, and leaves
// no trail.
func TestEachCorrectionRefuses(t *testing.T) {
	otis := inventory.Hand{By: "Otis", Why: "misheard", At: now}
	for name, c := range corrections() {
		refuse := func(t *testing.T, w *workshop, says string, do func(context.Context, pgx.Tx, inventory.Hand) error, by inventory.Hand) {
			t.Helper()
			kind, number := c.of(w)
			before, err := inventory.Corrections(t.Context(), w.tx, kind, number)
			require.NoError(t, err)
			said := w.refused(func(ctx context.Context, tx pgx.Tx) error { return do(ctx, tx, by) })
			require.Contains(t, said, says)
			require.NotContains(t, said, "\n")
			after, err := inventory.Corrections(t.Context(), w.tx, kind, number)
			require.NoError(t, err)
			require.Equal(t, before, after)
		}
		t.Run(name+", twice", func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			do := c.ready(w)
			require.NoError(t, do(t.Context(), w.tx, otis))
			refuse(t, w, c.twice, do, otis)
		})
		t.Run(name+", stale", func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			do := c.ready(w)
			kind, number := c.of(w)
			require.NoError(t, inventory.Correct(t.Context(), w.tx, inventory.Hand{By: "Bo", At: now}, kind, number, inventory.Change{What: "something", Became: "else"}))
			none := 0
			stale := otis
			stale.Seen = &none
			refuse(t, w, "has been corrected since you looked, by Bo", do, stale)
		})
		if c.closed == "" {
			continue
		}
		t.Run(name+", gone home", func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			do := c.ready(w)
			_, number := c.of(w)
			_, err := w.tx.Exec(t.Context(), `UPDATE job SET state = 'closed', closed_at = $2 WHERE id = $1`, number, now)
			require.NoError(t, err)
			refuse(t, w, c.closed, do, otis)
		})
	}
}
