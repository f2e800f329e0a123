package pricing

import (
	"context"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution/inspection"
)

const ballsLeft = "front.hub.balls-left"

// fourBalls has four balls on the shelf. Single ones are 0.30 from Harbour Lane in two days and 0.25 from Northmoor in four.
func fourBalls(w *workshop) inventory.Part {
	balls := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "")
	w.offer(w.harbour, balls, 1, inventory.InStock, at("0.30"))
	w.offer(w.north, balls, 1, inventory.InStock, at("0.25"))
	w.minimum(w.north, "0")
	w.shelve(balls, 4)
	return balls
}

// raceJob needs the ten balls of one side of a hub.
func (w *workshop) raceJob(limits Limits) int64 {
	w.t.Helper()
	job := w.bookIn(looseHub(w.t), limits)
	w.find(job, inspection.Replace, ballsLeft)
	return job
}

// pieces are how many pieces each line of an option brings from where.
func pieces(o Option) map[string]int {
	out := map[string]int{}
	for _, p := range o.Parts {
		from := p.Supplier
		if p.Shelf {
			from = Shelf
		}
		out[from] += p.Pieces
	}
	return out
}

// aside does something in a savepoint and undoes it.
func (w *workshop) aside(name string, do func(t *testing.T, w *workshop)) {
	w.t.(*testing.T).Run(name, func(t *testing.T) {
		inner, err := w.tx.Begin(t.Context())
		require.NoError(t, err)
		inside := *w
		inside.t, inside.tx = t, inner
		do(t, &inside)
		require.NoError(t, inner.Rollback(t.Context()))
	})
}

func TestQuoteTakesTheShelfFirst(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	fourBalls(w)
	q := w.quote(w.raceJob(Limits{}))
	requireQuoteAddsUp(t, q)
	soonest := named(t, q, "soonest")
	require.Equal(t, map[string]int{Shelf: 4, "harbour": 6}, pieces(soonest))
	require.Len(t, soonest.ByNeed(), 1, "two lines of one need")
	require.Equal(t, []bool{true, false}, []bool{soonest.Parts[0].Shelf, soonest.Parts[1].Shelf})
	require.Equal(t, today, soonest.Parts[0].HereOn)
	require.Equal(t, soonest.ReadyOn, soonest.Parts[1].HereOn)
	// What is on the shelf would cost 0.25 to buy again: 4 × 0.25 × 1.5 × 1.2 = 1.80, and 6 × 0.30 × 1.8 = 3.24.
	// Carriage 5.95 × 1.2, labour 11.00 × 1.2; without tax 25.38 ÷ 1.2 = 21.15. The workshop pays 1.00 + 1.80 + 5.95.
	require.Equal(t, []string{"1.80", "3.24", "7.14", "13.20", "25.38", "4.23", "8.75"},
		onPaper(soonest.Parts[0].Amount, soonest.Parts[1].Amount, soonest.Carriage[0].Amount, q.Labour[0].Amount, soonest.Total, soonest.TaxInTotal, soonest.Landed))
	// Ten from Northmoor would cost the workshop just as much.
	require.Equal(t, map[string]int{Shelf: 4, "northmoor": 6}, pieces(named(t, q, "cheapest")))
}

// A recommended price is each piece's, wherever it comes from.
func TestQuoteTakesTheShelfFirstAtARecommendedPrice(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	balls := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "0.55")
	w.offer(w.harbour, balls, 1, inventory.InStock, at("0.30"))
	w.shelve(balls, 4)
	o := named(t, w.quote(w.raceJob(Limits{})), "cheapest")
	require.Equal(t, []string{"2.20", "3.30"}, onPaper(o.Parts[0].Amount, o.Parts[1].Amount))
}

// Lines of one need stand together; things that others bring are each a need, though they have no place.
func TestLinesOfOneNeed(t *testing.T) {
	o := Option{Parts: []PartLine{
		{Place: "front.rim-pads", Shelf: true, Pieces: 1}, {Place: "front.rim-pads", OfferID: 7, Pieces: 1},
		{Place: "rear.rim-pads", OfferID: 7, Pieces: 2}, {Brought: true, For: "washers"}, {Brought: true, For: "a joiner"},
	}}
	require.Equal(t, [][]PartLine{o.Parts[:2], o.Parts[2:3], o.Parts[3:4], o.Parts[4:]}, o.ByNeed())

	other := Option{Parts: slices.Clone(o.Parts)}
	require.True(t, o.same(other))
	other.Parts[0].Pieces, other.Parts[1].Pieces = 2, 3
	require.False(t, o.same(other), "other pieces of the same offers are another option")
}

func TestQuoteTakesTheShelfFirstWithinLimits(t *testing.T) {
	for _, c := range []struct {
		name   string
		limits Limits
		want   map[string]int
	}{
		{"nothing off the shelf", Limits{NotSuppliers: []string{Shelf}}, map[string]int{"northmoor": 10}},
		{"not from the cheaper one", Limits{NotSuppliers: []string{"northmoor"}}, map[string]int{Shelf: 4, "harbour": 6}},
		{"all that is ordered from one", Limits{OnlySupplier: "harbour"}, map[string]int{Shelf: 4, "harbour": 6}},
		{"from one supplier at most", Limits{MostSuppliers: 1}, map[string]int{Shelf: 4, "northmoor": 6}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			fourBalls(w)
			require.Equal(t, c.want, pieces(named(t, w.quote(w.raceJob(c.limits)), "cheapest")))
		})
	}
	t.Run("all off the shelf", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		fourBalls(w)
		q := w.quote(w.raceJob(Limits{OnlySupplier: Shelf}))
		require.Empty(t, q.Options)
		require.NotEmpty(t, q.Refusal.WaysOut)
		require.Contains(t, q.Refusal.WaysOut[0], "everything from the shelf")
	})
}

// The rest is bought in the packs that it takes, no fewer than are sold.
func TestQuoteOrdersTheRestInPacks(t *testing.T) {
	for _, c := range []struct {
		name          string
		pack, minimum int
		price         string
		landed        string
		ordered       string // what the customer pays for the six
	}{
		// Two packs of five at 1.60 with four at 0.32 would cost 1.28 more than the ten by themselves.
		{"two packs, which are enough by themselves", 5, 1, "1.60", "9.15", ""},
		{"six packs, which leave nothing over", 1, 1, "0.30", "8.95", "3.24"},
		{"the least that is sold is enough for the rest", 1, 6, "0.30", "8.95", "3.24"},
		{"the least that is sold is more than the rest", 1, 8, "0.30", "8.95", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			balls := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "")
			w.shelve(balls, 4)
			_, err := inventory.PutOffer(t.Context(), w.tx, inventory.Offer{SupplierID: w.harbour.ID, Code: "B", PartID: balls.ID, Pack: c.pack, MinimumPacks: c.minimum,
				Stock: inventory.InStock, AsOf: now, Breaks: []inventory.Break{at(c.price)}})
			require.NoError(t, err)
			o := named(t, w.quote(w.raceJob(Limits{})), "cheapest")
			require.Equal(t, c.landed, o.Landed.StringFixed(2))
			if c.ordered == "" {
				require.Equal(t, map[string]int{"harbour": 10}, pieces(o))
				return
			}
			require.Equal(t, map[string]int{Shelf: 4, "harbour": 6}, pieces(o))
			require.Equal(t, c.ordered, o.Parts[1].Amount.StringFixed(2))
		})
	}
}

// The approval holds what is on the shelf and orders the rest alone; both go onto the bike.
func TestApproveHoldsTheShelfAndOrdersTheRest(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	balls := fourBalls(w)
	job := w.raceJob(Limits{})
	w.quote(job)
	o := named(t, w.approve(job, "soonest"), "soonest")

	held := w.held(job)
	require.Equal(t, []inventory.Reservation{{ID: held[0].ID, JobID: job, PartID: balls.ID, Place: ballsLeft, Pieces: 4}}, held)
	claims := w.claims(job)
	require.Equal(t, []inventory.Claim{{ID: claims[0].ID, JobID: job, Place: ballsLeft, PartID: balls.ID, OfferID: o.Parts[1].OfferID, Pieces: 6,
		DueOn: o.ReadyOn, State: inventory.ClaimWanted}}, claims)
	require.Equal(t, inventory.Stock{OnHand: 4, Reserved: 4, Wanted: 6}, w.stock(balls))

	list := w.plan(ordering.Policy{})
	require.Len(t, list.Orders, 1)
	require.Equal(t, "harbour", list.Orders[0].Supplier)
	require.Equal(t, 6, list.Orders[0].Lines[0].Packs)
	whatIf, err := list.WhatIf(t.Context())
	require.NoError(t, err)
	require.NotEmpty(t, whatIf)
	order := w.place(list)[0]

	late, err := LatePromises(t.Context(), w.tx, w.deliveries(20))
	require.NoError(t, err)
	require.Len(t, late, 1, "the rest is late, and what is held is not")
	require.Equal(t, job, late[0].JobID)

	w.aside("what was ordered and will not come is ordered anew, and no more", func(t *testing.T, w *workshop) {
		_, err := inventory.CancelOrder(t.Context(), w.tx, order.ID)
		require.NoError(t, err)
		require.Equal(t, 6, w.plan(ordering.Policy{}).Orders[0].Lines[0].Packs)
	})
	w.aside("a job that is done without them gives back what is held, and what comes is the shelf's", func(t *testing.T, w *workshop) {
		require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))
		require.Equal(t, inventory.Stock{OnHand: 4, OnOrder: 6}, w.stock(balls))
	})
	require.ErrorContains(t, CloseJob(t.Context(), w.tx, job, false, now), "6 of balls 3/16 in still to come; 4 of balls 3/16 in reserved and not used")

	_, err = inventory.ReceiveOrder(t.Context(), w.tx, w.request, order.ID, "", inventory.Into{Bin: "A1"}, now, []inventory.Arrival{{LineID: order.Lines[0].ID, Outcome: inventory.Good, Pieces: 5}}, false)
	require.NoError(t, err)
	require.Equal(t, inventory.Stock{OnHand: 9, Reserved: 9, OnOrder: 1, ForJobs: 1}, w.stock(balls))
	used, err := UseHeld(t.Context(), w.tx, w.request, job)
	require.NoError(t, err)
	require.Len(t, used, 2)
	_, err = inventory.ReceiveOrder(t.Context(), w.tx, w.request, order.ID, "", inventory.Into{Bin: "A1"}, now, []inventory.Arrival{{LineID: order.Lines[0].ID, Outcome: inventory.Good, Pieces: 1}}, false)
	require.NoError(t, err)
	used, err = UseHeld(t.Context(), w.tx, w.request, job)
	require.NoError(t, err)
	require.Len(t, used, 1)
	require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))
	require.Equal(t, inventory.Stock{}, w.stock(balls))
	requireLedgerAddsUp(t, t.Context(), w.tx)
}

func TestApproveWhereTheShelfHasChanged(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	fourBalls(w)
	first, second := w.raceJob(Limits{}), w.raceJob(Limits{})
	w.quote(first)
	w.quote(second)
	w.approve(first, "cheapest")
	says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
		inside := *w
		inside.tx = tx
		_, err := inside.decide(Decision{JobID: second, Option: "cheapest"})
		return err
	})
	require.Contains(t, says, "the shelf has changed since the quote")
	require.Empty(t, w.claims(second))
	require.Equal(t, map[string]int{"northmoor": 10}, pieces(named(t, w.quote(second), "cheapest")))
}

// Both sides of the hub take ten. The shelf has fifteen: ten for one side, and half of the other.
func TestSidesShareWhatTheShelfHas(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	balls := fourBalls(w)
	w.shelve(balls, 11)
	job := w.bookIn(looseHub(t), Limits{})
	w.find(job, inspection.Clean, "front.hub")
	o := named(t, w.quote(job), "cheapest")
	require.Equal(t, map[string]int{Shelf: 15, "northmoor": 5}, pieces(o))
	require.Len(t, o.ByNeed(), 2)
	w.approve(job, "cheapest")
	require.Equal(t, inventory.Stock{OnHand: 15, Reserved: 15, Wanted: 5}, w.stock(balls))
}

func TestWhyOfANeedFromTwoSources(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	fourBalls(w)
	s, err := LoadSituation(t.Context(), w.tx, w.raceJob(Limits{}), now)
	require.NoError(t, err)
	why, err := s.Why(context.Background(), "cheapest", ballsLeft)
	require.NoError(t, err)
	require.Len(t, why.Chosen, 2)
	type row struct {
		supplier string
		shelf    int
		more     string
		days     int
	}
	var rows []row
	for _, a := range why.Alternatives {
		r := row{supplier: a.Supplier, shelf: a.Shelf, days: a.Days}
		if a.With != nil {
			r.more = a.More.StringFixed(2)
		}
		rows = append(rows, r)
	}
	// Ten from Northmoor are as dear; Harbour Lane takes 0.05 × 6 × 1.8 and 1.45 × 1.2 for carriage more, and 0.05 × 4
	// × 1.8 for ten.
	require.Equal(t, []row{{"northmoor", 0, "0.00", 0}, {"harbour", 4, "2.28", -2}, {"harbour", 0, "2.64", -2}, {"", 0, "", 0}}, rows)
	require.Equal(t, []string{"there are too few of it"}, why.Alternatives[3].Against)

	front, err := s.Front(context.Background())
	require.NoError(t, err)
	require.Len(t, front.Options, 2)
	for _, o := range front.Options {
		require.NotEmpty(t, o.Names)
	}
}
