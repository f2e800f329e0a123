package pricing

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
	"stead/substitution/inspection"
)

// arrived is a job whose ring was ordered, has come and is held for it; a chain off the shelf is held too.
func arrived(w *workshop) (job int64, ring, chain inventory.Part, line inventory.OrderLine) {
	ring = w.part("black ring 50T", "chainring", blackRing, "42.00")
	offer := w.offer(w.harbour, ring, 1, inventory.InStock, at("21.50"))
	chain = w.part("chain", "chain", chain9, "24.00")
	w.shelve(chain, 3)
	job = w.bookIn(touringBike(w.t), Limits{})
	w.find(job, inspection.Replace, "crank.outer-ring", "chain")
	w.quote(job)
	w.approve(job, "soonest")
	claims := w.claims(job)
	require.Len(w.t, claims, 1)
	o, err := inventory.PlaceOrder(w.t.Context(), w.tx, inventory.Order{SupplierID: w.harbour.ID, PlacedAt: now, Carriage: pounds("5.95"),
		Lines: []inventory.OrderLine{{OfferID: offer.ID, PartID: ring.ID, Packs: 1, Pack: 1, Price: pounds("21.50"), QuotedDays: 2, Stock: inventory.InStock, ExpectedOn: today + 2, Claims: []int64{claims[0].ID}}}})
	require.NoError(w.t, err)
	return job, ring, chain, o.Lines[0]
}

func (w *workshop) receive(line inventory.OrderLine, orderID int64, outcome inventory.Outcome) {
	w.t.Helper()
	_, err := inventory.ReceiveOrder(w.t.Context(), w.tx, w.request, orderID, "", inventory.Into{Bin: "A1"}, now, []inventory.Arrival{{LineID: line.ID, Outcome: outcome, Pieces: 1}}, false)
	require.NoError(w.t, err)
}

func (w *workshop) orderOf(line inventory.OrderLine) int64 {
	w.t.Helper()
	orders, err := inventory.Orders(w.t.Context(), w.tx, false)
	require.NoError(w.t, err)
	for _, o := range orders {
		for _, l := range o.Lines {
			if l.ID == line.ID {
				return o.ID
			}
		}
	}
	w.t.Fatal("no order has the line")
	return 0
}

// A job is given up after its part has come: the part goes to the shelf, stays held, or goes back with its credit.
func TestCancelledAfterArrival(t *testing.T) {
	for _, c := range []struct {
		parts          PartsGo
		free, reserved int // rings
		chains         int // free
		back           int
	}{{PartsToShelf, 1, 0, 3, 0}, {PartsHeld, 0, 1, 2, 0}, {PartsBack, 0, 0, 3, 1}} {
		t.Run(string(c.parts), func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job, ring, chain, line := arrived(w)
			w.receive(line, w.orderOf(line), inventory.Good)
			back, err := CancelWith(t.Context(), w.tx, w.request, job, "sold the bike", c.parts, now)
			require.NoError(t, err)
			require.Len(t, back, c.back)
			require.Equal(t, c.free, w.stock(ring).Free())
			require.Equal(t, c.reserved, w.stock(ring).Reserved)
			require.Equal(t, c.chains, w.stock(chain).Free())
			requireLedgerAddsUp(t, t.Context(), w.tx)
			j := w.job(job)
			require.Equal(t, Cancelled, j.State)
			require.True(t, j.Ending.Due.IsZero(), "nothing is due")
			require.True(t, j.Ending.Agreed.Valid, "what was agreed stays to be read")
			for _, r := range back {
				require.Equal(t, "21.50", r.Expected.StringFixed(2))
				require.Equal(t, inventory.BackNotNeeded, r.Why)
			}
			if c.parts == PartsHeld {
				let, err := Release(t.Context(), w.tx, job, hand("Otis", ""))
				require.NoError(t, err)
				require.Len(t, let, 2)
				require.Equal(t, 1, w.stock(ring).Free())
				require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
					_, err := Release(ctx, tx, job, hand("Otis", ""))
					return err
				}), "nothing is held", "twice")
			}
		})
	}
}

// What comes wrong or damaged goes back without having been on the shelf, what is good off it; the credit is expected
// at what was paid and comes once.
func TestReturnsToTheSupplier(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job, ring, _, line := arrived(w)
	order := w.orderOf(line)
	send := func(ctx context.Context, tx pgx.Tx, n int, why inventory.WhyBack, job int64) (inventory.Return, error) {
		return inventory.SendBack(ctx, tx, w.request, line.ID, n, why, job, "", now)
	}
	refused := func(n int, why inventory.WhyBack) string {
		return w.refused(func(ctx context.Context, tx pgx.Tx) error { _, err := send(ctx, tx, n, why, 0); return err })
	}
	require.Contains(t, refused(1, inventory.BackWrong), "0 of black ring 50T", "nothing has come")
	w.receive(line, order, inventory.Wrong)
	require.Zero(t, w.stock(ring).OnHand)
	wrong, err := send(t.Context(), w.tx, 1, inventory.BackWrong, 0)
	require.NoError(t, err)
	require.False(t, wrong.FromShelf)
	require.Equal(t, "21.50", wrong.Expected.StringFixed(2))
	require.Contains(t, refused(1, inventory.BackWrong), "no more came", "twice")
	require.Len(t, w.claims(job), 1, "the right one stays awaited")

	w.receive(line, order, inventory.Good)
	require.Contains(t, refused(1, inventory.BackNotNeeded), "held for job", "what a job holds stays")
	good, err := send(t.Context(), w.tx, 1, inventory.BackDamaged, job)
	require.NoError(t, err)
	require.True(t, good.FromShelf, "found damaged when it was to be fitted")
	require.Zero(t, w.stock(ring).OnHand)
	require.Zero(t, w.stock(ring).Reserved)
	requireLedgerAddsUp(t, t.Context(), w.tx)

	open, err := inventory.Returns(t.Context(), w.tx, true)
	require.NoError(t, err)
	require.Len(t, open, 2)
	r, err := inventory.CreditReturn(t.Context(), w.tx, good.ID, pounds("20.00"), "CN-1", now)
	require.NoError(t, err)
	require.Equal(t, "20.00", r.Credited.Decimal.StringFixed(2))
	for _, c := range []struct {
		name, says, amount string
		id                 int64
	}{{"twice", "is credited already", "20", good.ID}, {"below zero", "cannot be meant", "-1", wrong.ID}, {"of nobody", "there is no return", "1", 999999}} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := inventory.CreditReturn(ctx, tx, c.id, pounds(c.amount), "", now)
				return err
			}), c.says)
		})
	}
}

// A job closed or cancelled today is opened again with what it had let go of.
func TestReopen(t *testing.T) {
	for _, c := range []struct {
		name  string
		end   func(*workshop, int64) error
		first bool // the ring has come
	}{
		{"closed with the ring left out", func(w *workshop, job int64) error { return CloseJob(w.t.Context(), w.tx, job, true, now) }, true},
		{"closed while the ring is on order", func(w *workshop, job int64) error { return CloseJob(w.t.Context(), w.tx, job, true, now) }, false},
		{"cancelled, parts to the shelf", func(w *workshop, job int64) error { return CancelJob(w.t.Context(), w.tx, job, "mistake", now) }, true},
		{"cancelled, parts held", func(w *workshop, job int64) error {
			_, err := CancelWith(w.t.Context(), w.tx, w.request, job, "mistake", PartsHeld, now)
			return err
		}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job, ring, chain, line := arrived(w)
			if c.first {
				w.receive(line, w.orderOf(line), inventory.Good)
			}
			before := w.held(job)
			require.NoError(t, c.end(w, job))
			require.NoError(t, Reopen(t.Context(), w.tx, job, hand("Otis", "too soon")))
			j := w.job(job)
			require.Equal(t, JobApproved, j.State)
			require.Nil(t, j.Ending)
			require.Len(t, w.held(job), len(before))
			require.Equal(t, 2, w.stock(chain).Free())
			if !c.first {
				require.Equal(t, inventory.ClaimOrdered, w.claims(job)[len(w.claims(job))-1].State, "the ring on order is its own again")
				w.receive(line, w.orderOf(line), inventory.Good)
			}
			require.Equal(t, 1, w.stock(ring).Reserved)
			requireLedgerAddsUp(t, t.Context(), w.tx)
			_, err := UseHeld(t.Context(), w.tx, w.request, job)
			require.NoError(t, err)
			require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))
			require.True(t, w.job(job).Ending.Due.Equal(w.job(job).Ending.Agreed.Decimal))
		})
	}
	t.Run("what is gone is wanted again", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		job, ring, _, line := arrived(w)
		w.receive(line, w.orderOf(line), inventory.Good)
		require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))
		require.NoError(t, inventory.Sell(t.Context(), w.tx, w.request, ring.ID, 1, ""))
		require.NoError(t, Reopen(t.Context(), w.tx, job, hand("Otis", "")))
		require.Equal(t, inventory.ClaimWanted, w.claims(job)[len(w.claims(job))-1].State)
		requireLedgerAddsUp(t, t.Context(), w.tx)
	})
}

// What is still to be done when a bike goes home is advised at its next visit, and the advice of an earlier job is met only
// by what was done. Whoever opens the job again takes both back.
func TestWhatWasNotDoneIsAdvisedNextTime(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job, _, _, _ := arrived(w)
	bike := w.job(job).Bike.ID
	advised := func() (out []string) {
		all, err := AdvisedOn(t.Context(), w.tx, bike)
		require.NoError(t, err)
		for _, a := range all {
			out = append(out, fmt.Sprintf("%d %s; %s", a.JobID-job, a.Words, a.Why))
		}
		return out
	}
	w.find(job, inspection.Clean, "rear.hub")
	_, err := UseHeld(t.Context(), w.tx, w.request, job)
	require.NoError(t, err)
	require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))
	left := []string{"0 replace the outer chainring; not done when the bike went home", "0 clean the rear hub; not done when the bike went home"}
	require.ElementsMatch(t, left, advised(), "the chain was fitted, the ring left out, the hub never agreed")
	require.NoError(t, Reopen(t.Context(), w.tx, job, hand("Otis", "too soon")))
	require.Empty(t, advised())
	require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))

	later := now.Add(time.Hour)
	next, err := OpenJob(t.Context(), w.tx, bike, "", nil, Limits{}, later)
	require.NoError(t, err)
	w.find(next, inspection.Replace, "crank.outer-ring")
	w.find(next, inspection.Clean, "rear.hub")
	w.quote(next)
	w.approve(next, "soonest")
	require.NoError(t, CloseJob(t.Context(), w.tx, next, true, later))
	ring := fmt.Sprintf("%d replace the outer chainring; not done when the bike went home", next-job)
	require.ElementsMatch(t, []string{left[0], ring}, advised(), "the hub was done now, the ring is left out again")
	require.NoError(t, Reopen(t.Context(), w.tx, next, hand("Otis", "too soon")))
	require.ElementsMatch(t, left, advised())
}

// Every correction with a stale view, on an ended job, of another's, or twice is refused in one sentence, and nothing is
// changed.
func TestCorrectionsRefuse(t *testing.T) {
	none, day := 0, today+9
	words := func(text string) func(*Words) { return func(w *Words) { w.Wish = text } }
	for _, c := range []struct {
		name, says string
		before     func(w *workshop, job int64)
		do         func(ctx context.Context, tx pgx.Tx, job int64) error
	}{
		{"job, stale", "has been corrected since you looked, by Otis",
			func(w *workshop, job int64) {
				require.NoError(w.t, CorrectJob(w.t.Context(), w.tx, job, hand("Otis", ""), words("gears")))
			},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				return CorrectJob(ctx, tx, job, inventory.Hand{By: "Bo", At: now, Seen: &none}, words("brakes"))
			}},
		{"job, twice", "nothing to correct", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				return CorrectJob(ctx, tx, job, hand("Otis", ""), words(""))
			}},
		{"job, ended", "is cancelled", func(w *workshop, job int64) {
			require.NoError(w.t, CancelJob(w.t.Context(), w.tx, job, "sold", now))
		}, func(ctx context.Context, tx pgx.Tx, job int64) error {
			return CorrectJob(ctx, tx, job, hand("Otis", ""), func(w *Words) { w.WantedBy = &day })
		}},
		{"job, nobody's", "there is no job", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				return CorrectJob(ctx, tx, 999999, hand("Otis", ""), words("x"))
			}},
		{"customer, nobody's", "there is no customer", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				_, err := CorrectCustomer(ctx, tx, 999999, hand("Otis", ""), func(c *Customer) { c.Name = "x" })
				return err
			}},
		{"bike, nobody's owner", "there is no customer", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				j, err := JobByID(ctx, tx, job)
				if err != nil {
					return err
				}
				_, err = CorrectBike(ctx, tx, j.Bike.ID, hand("Otis", ""), func(b *Bike) { b.Customer.ID = 999999 })
				return err
			}},
		{"bike, stale", "has been corrected since you looked", func(w *workshop, job int64) {
			_, err := CorrectBike(w.t.Context(), w.tx, w.job(job).Bike.ID, hand("Otis", ""), func(b *Bike) { b.FrameNumber = "A1" })
			require.NoError(w.t, err)
		}, func(ctx context.Context, tx pgx.Tx, job int64) error {
			j, err := JobByID(ctx, tx, job)
			if err != nil {
				return err
			}
			_, err = CorrectBike(ctx, tx, j.Bike.ID, inventory.Hand{By: "Bo", At: now, Seen: &none}, func(b *Bike) { b.FrameNumber = "B2" })
			return err
		}},
		{"booking, begun", "was begun", func(w *workshop, job int64) { w.find(job, inspection.Keep, "chain") },
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				return TakeBackBooking(ctx, tx, job, hand("Otis", ""))
			}},
		{"booking, twice", "is cancelled already", func(w *workshop, job int64) {
			require.NoError(w.t, TakeBackBooking(w.t.Context(), w.tx, job, hand("Otis", "")))
		}, func(ctx context.Context, tx pgx.Tx, job int64) error {
			return TakeBackBooking(ctx, tx, job, hand("Otis", ""))
		}},
		{"finding, none", "nothing to forget", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				_, err := Inspect(ctx, tx, job, inspection.Taken{Place: "chain", Forget: true}, now)
				return err
			}},
		{"finding, ended", "is cancelled", func(w *workshop, job int64) {
			w.find(job, inspection.Keep, "chain")
			require.NoError(w.t, CancelJob(w.t.Context(), w.tx, job, "sold", now))
		}, func(ctx context.Context, tx pgx.Tx, job int64) error {
			_, err := Inspect(ctx, tx, job, inspection.Taken{Place: "chain", Forget: true}, now)
			return err
		}},
		{"reopen, open", "only a job that has ended", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error { return Reopen(ctx, tx, job, hand("Otis", "")) }},
		{"reopen, tomorrow", "before today", func(w *workshop, job int64) {
			require.NoError(w.t, CancelJob(w.t.Context(), w.tx, job, "sold", now))
		}, func(ctx context.Context, tx pgx.Tx, job int64) error {
			return Reopen(ctx, tx, job, inventory.Hand{By: "Otis", At: now.Add(24 * time.Hour)})
		}},
		{"wish, nobody's", "no open wish", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				return ForgetWish(ctx, tx, 999999, hand("Otis", ""))
			}},
		{"without a name", "the name of who makes it", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				return CorrectJob(ctx, tx, job, inventory.Hand{At: now}, words("x"))
			}},
		{"brought back from a job that used none", "were used on job", func(w *workshop, job int64) {},
			func(ctx context.Context, tx pgx.Tx, job int64) error {
				p, err := inventory.AddPart(ctx, tx, inventory.Part{Part: substitution.Part{Family: "chain", Name: "chain"}})
				if err == nil {
					err = inventory.BringBack(ctx, tx, "", job, p.ID, "A1", 1, "")
				}
				return err
			}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job := w.bookIn(touringBike(t), Limits{})
			c.before(w, job)
			before := w.job(job)
			says := w.refused(func(ctx context.Context, tx pgx.Tx) error { return c.do(ctx, tx, job) })
			require.Contains(t, says, c.says)
			require.NotContains(t, says, "\n")
			require.Equal(t, before, w.job(job))
		})
	}
}

// A booking made by mistake is no part of the bike's history, a finding forgotten none of the job's, and a wish taken back
// is told of no more.
func TestTakenBack(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job := w.bookIn(touringBike(t), Limits{})
	bike := w.job(job).Bike.ID
	_, err := Inspect(t.Context(), w.tx, job, inspection.Taken{Place: "chain", Action: inspection.Replace}, now)
	require.NoError(t, err)
	_, err = Inspect(t.Context(), w.tx, job, inspection.Taken{Place: "chain", Forget: true, Note: "it was the other bike's"}, now)
	require.NoError(t, err)
	require.Empty(t, w.job(job).Findings)
	w.find(job, inspection.Keep, "chain")
	require.Len(t, w.job(job).Findings, 1, "it can be found anew")

	again, err := Book(t.Context(), w.tx, Booking{Bike: Bike{ID: bike}}, now)
	require.NoError(t, err)
	require.NoError(t, TakeBackBooking(t.Context(), w.tx, again.JobID, hand("Otis", "twice")))
	jobs, err := Jobs(t.Context(), w.tx, JobSearch{All: true, BikeID: bike})
	require.NoError(t, err)
	require.Len(t, jobs, 1)
	require.Equal(t, job, jobs[0].ID)

	wish, err := wishFor(w.job(job).Bike, Deviation{Difference: Difference{Place: "crank.outer-ring", Rule: "chainring.finish"}, Was: "black"})
	require.NoError(t, err)
	wish, err = addWish(t.Context(), w.tx, wish)
	require.NoError(t, err)
	require.NoError(t, ForgetWish(t.Context(), w.tx, wish.ID, hand("Otis", "he likes silver now")))
	open, err := OpenWishes(t.Context(), w.tx, bike)
	require.NoError(t, err)
	require.Empty(t, open)
	trail, err := inventory.Corrections(t.Context(), w.tx, inventory.OfBike, bike)
	require.NoError(t, err)
	require.Len(t, trail, 1)
}
