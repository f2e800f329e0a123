package pricing

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution/inspection"
)

func calendarDay(t time.Time) calendar.Day { return calendar.DayOf(t) }

// ordered is a ring job whose silver ring is on order from Harbour Lane, with the promise that was made.
func ordered(w *workshop) (job int64, order inventory.Order, promised calendar.Day) {
	ringsOffered(w)
	job = w.ringJob(Limits{})
	w.quote(job)
	q := w.approve(job, "soonest")
	list, err := ordering.Plan(w.t.Context(), w.tx, ordering.Policy{}, now)
	require.NoError(w.t, err)
	placed, err := ordering.Place(w.t.Context(), w.tx, list, nil, now)
	require.NoError(w.t, err)
	require.Len(w.t, placed, 1)
	return job, placed[0], named(w.t, q, "soonest").ReadyOn
}

func TestLatePromises(t *testing.T) {
	cases := []struct {
		name  string
		said  func(promised calendar.Day) []inventory.Confirmation
		later int // days after the order at which one looks
		late  bool
		known bool // a day can be given
		guess bool // and rests on nothing seen
	}{
		{"nothing said, on the day of the order", nil, 0, false, true, false},
		{"acknowledged in time", func(p calendar.Day) []inventory.Confirmation { return dayOf(p) }, 0, false, true, false},
		{"acknowledged a week late", func(p calendar.Day) []inventory.Confirmation { return dayOf(p + 7) }, 0, true, true, false},
		{"a week overdue without a word", nil, 14, true, true, true},
		{"the acknowledged day has passed too", func(p calendar.Day) []inventory.Confirmation { return dayOf(p) }, 14, true, true, true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job, order, promised := ordered(w)
			if c.said != nil {
				said := c.said(promised)
				said[0].LineID = order.Lines[0].ID
				_, err := inventory.Confirm(t.Context(), w.tx, order.ID, said, now)
				require.NoError(t, err)
			}
			late, err := LatePromises(t.Context(), w.tx, w.deliveries(c.later))
			require.NoError(t, err)
			if !c.late {
				require.Empty(t, late)
				return
			}
			require.Len(t, late, 1)
			require.Equal(t, job, late[0].JobID)
			require.Equal(t, promised, late[0].Promised)
			require.Equal(t, c.known, late[0].Expected != nil)
			if c.known {
				require.Greater(t, *late[0].Expected, promised)
			}
			require.Contains(t, late[0].Words("GBP", calendarDay(now)), "was promised for "+promised.Words(calendarDay(now)))
			require.Equal(t, c.guess, strings.Contains(late[0].Words("GBP", calendarDay(now)),
				late[0].Expected.Words(calendarDay(now))+", a guess (nothing like it has been this late and come in the last year: ask its supplier)"))
		})
	}
}

func dayOf(d calendar.Day) []inventory.Confirmation {
	return []inventory.Confirmation{{Kind: inventory.Acknowledged, ExpectedOn: &d}}
}

// A late part is offered from wherever it could be had sooner: the same ring at Northmoor, £20.00 and £4.50 carriage.
func TestLatePromiseNamesOtherSources(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	_, order, promised := ordered(w)
	part, err := inventory.PartByID(t.Context(), w.tx, order.Lines[0].PartID)
	require.NoError(t, err)
	w.offer(w.north, part, 1, inventory.InStock, at("20.00"))
	said := dayOf(promised + 30)
	said[0].LineID = order.Lines[0].ID
	_, err = inventory.Confirm(t.Context(), w.tx, order.ID, said, now)
	require.NoError(t, err)
	late, err := LatePromises(t.Context(), w.tx, w.deliveries(0))
	require.NoError(t, err)
	require.Len(t, late, 1)
	require.Len(t, late[0].Sooner, 1)
	require.Equal(t, "northmoor", late[0].Sooner[0].Supplier)
	require.Equal(t, []string{"24.50"}, onPaper(late[0].Sooner[0].Costs))
	words := late[0].Words("GBP", today)
	require.Contains(t, words, fmt.Sprintf("from Harbour Lane Cycle Trade, order %d, is expected by", order.ID), "whoever reads it knows suppliers by their names")
	require.Contains(t, words, "; Northmoor Wheel Goods could have it here by")
}

// A job whose part was never ordered is told of, in time or not, and so is one whose part nobody offers any more.
func TestLatePromisesOfWhatWasNeverOrdered(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(t *testing.T, w *workshop)
		later  int // days after the approval at which one looks
		says   string
	}{
		{"in time", func(*testing.T, *workshop) {}, 0, "job N (Ines Falkner) was promised for Monday 9 March; silver ring 50T is not ordered yet: ordered now it would be here by Monday 9 March"},
		{"too late", func(*testing.T, *workshop) {}, 7, "job N (Ines Falkner) was promised for Monday 9 March; silver ring 50T is not ordered yet: ordered now it would be here by Monday 16 March"},
		{"no more to be had", func(t *testing.T, w *workshop) {
			_, err := w.tx.Exec(t.Context(), `UPDATE offer SET gone_at = now()`)
			require.NoError(t, err)
		}, 0, "job N (Ines Falkner) was promised for Monday 9 March; silver ring 50T is not ordered yet, and nobody offers it by any day"},
		{"cancelled by the supplier", func(t *testing.T, w *workshop) {
			placed := w.place(w.plan(ordering.Policy{}))
			_, err := inventory.CancelOrder(t.Context(), w.tx, placed[0].ID)
			require.NoError(t, err)
		}, 0, "job N (Ines Falkner) was promised for Monday 9 March; silver ring 50T is not ordered yet: ordered now it would be here by Monday 9 March"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ringsOffered(w)
			job := w.ringJob(Limits{})
			w.quote(job)
			w.approve(job, "soonest")
			c.change(t, w)
			late, err := LatePromises(t.Context(), w.tx, w.deliveries(c.later))
			require.NoError(t, err)
			require.Len(t, late, 1)
			require.True(t, late[0].NotOrdered)
			require.Equal(t, c.says, jobNumber.ReplaceAllString(late[0].Words("GBP", today), "$1 N"))
		})
	}
}

// What a job waits for is expected as its supplier last said, and so is the last of it.
func TestExpectedAfterAnAcknowledgement(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job, order, promised := ordered(w)
	expected := func() []ordering.Late {
		all, err := ordering.Expected(t.Context(), w.tx, job, now)
		require.NoError(t, err)
		require.Len(t, all, 1)
		require.Equal(t, ordering.LastOf(all), all[0].Expected)
		return all
	}
	require.Equal(t, promised, *expected()[0].Expected)
	say := func(c inventory.Confirmation) {
		c.LineID, c.Kind = order.Lines[0].ID, inventory.Acknowledged
		_, err := inventory.Confirm(t.Context(), w.tx, order.ID, []inventory.Confirmation{c}, now)
		require.NoError(t, err)
	}
	week := promised + 7
	say(inventory.Confirmation{ExpectedOn: &week})
	require.Equal(t, week, *expected()[0].Expected)
	require.Equal(t, "is expected by Monday 16 March", expected()[0].When(today))
	say(inventory.Confirmation{BackOrdered: true})
	require.Nil(t, expected()[0].Expected)
	require.Equal(t, "is on back order, and its supplier cannot say until when", expected()[0].When(today))
	say(inventory.Confirmation{Price: nullPounds("15.00")})
	require.Nil(t, expected()[0].Expected, "a price says nothing of the day")
	say(inventory.Confirmation{ExpectedOn: &promised})
	require.Equal(t, promised, *expected()[0].Expected)
}

// Northmoor has the ring at 20.00 and Harbour Lane at 14.25. Harbour Lane, which was asked, says that it is on back
// order: the ring is not asked of it again until it says otherwise, and Northmoor is.
func TestPlanningAnewAsksAnother(t *testing.T) {
	week, march30 := today+13, calendar.Date(2026, time.March, 30)
	for _, c := range []struct {
		name  string
		said  inventory.Confirmation
		since func(t *testing.T, w *workshop, ring inventory.Part, offer inventory.Offer)
		at    time.Time // when one plans anew
		from  string
		says  []string
	}{
		{"without a day", inventory.Confirmation{BackOrdered: true}, nil, now.Add(2 * time.Hour), "northmoor",
			[]string{"silver ring 50T: Harbour Lane Cycle Trade said on Tuesday 3 March that it is on back order"}},
		{"until a day", inventory.Confirmation{ExpectedOn: &march30}, nil, now.Add(2 * time.Hour), "northmoor",
			[]string{"silver ring 50T: Harbour Lane Cycle Trade said on Tuesday 3 March that it is on back order until Monday 30 March"}},
		{"three weeks ago, without a day", inventory.Confirmation{BackOrdered: true}, nil, now.AddDate(0, 0, 15), "harbour", nil},
		{"until a day that has passed", inventory.Confirmation{ExpectedOn: &week}, nil, now.AddDate(0, 0, 21), "harbour", nil},
		{"a later list says otherwise", inventory.Confirmation{BackOrdered: true}, func(t *testing.T, w *workshop, ring inventory.Part, offer inventory.Offer) {
			offer.AsOf = now.Add(90 * time.Minute)
			_, err := inventory.PutOffer(t.Context(), w.tx, offer)
			require.NoError(t, err)
		}, now.Add(2 * time.Hour), "harbour", nil},
		{"some of it came", inventory.Confirmation{BackOrdered: true}, func(t *testing.T, w *workshop, ring inventory.Part, offer inventory.Offer) {
			other, err := inventory.PlaceOrder(t.Context(), w.tx, inventory.Order{SupplierID: w.harbour.ID, PlacedAt: now, Lines: []inventory.OrderLine{{
				OfferID: offer.ID, PartID: ring.ID, Packs: 1, Pack: 1, Price: pounds("14.25"), Stock: inventory.InStock, ExpectedOn: today + 6}}})
			require.NoError(t, err)
			_, err = inventory.ReceiveAll(t.Context(), w.tx, w.request, other.ID, "", inventory.Into{Bin: "A1"}, now.Add(90*time.Minute), nil, false)
			require.NoError(t, err)
		}, now.Add(2 * time.Hour), "harbour", nil},
		{"it says soon now", inventory.Confirmation{BackOrdered: true}, func(t *testing.T, w *workshop, ring inventory.Part, offer inventory.Offer) {
			orders, err := inventory.Orders(t.Context(), w.tx, false)
			require.NoError(t, err)
			soon := today + 1
			_, err = inventory.Confirm(t.Context(), w.tx, orders[0].ID, []inventory.Confirmation{{LineID: orders[0].Lines[0].ID, Kind: inventory.Acknowledged, ExpectedOn: &soon}}, now.Add(90*time.Minute))
			require.NoError(t, err)
		}, now.Add(2 * time.Hour), "harbour", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			_, order, _ := ordered(w)
			ring, err := inventory.PartByID(t.Context(), w.tx, order.Lines[0].PartID)
			require.NoError(t, err)
			offer, err := inventory.OfferByID(t.Context(), w.tx, order.Lines[0].OfferID)
			require.NoError(t, err)
			w.offer(w.north, ring, 1, inventory.InStock, at("20.00"))
			c.said.LineID, c.said.Kind = order.Lines[0].ID, inventory.Acknowledged
			_, err = inventory.Confirm(t.Context(), w.tx, order.ID, []inventory.Confirmation{c.said}, now.Add(time.Hour))
			require.NoError(t, err)
			_, err = inventory.CancelOrder(t.Context(), w.tx, order.ID)
			require.NoError(t, err)
			if c.since != nil {
				c.since(t, w, ring, offer)
			}
			list, err := ordering.Plan(t.Context(), w.tx, ordering.Policy{}, c.at)
			require.NoError(t, err)
			require.Len(t, list.Orders, 1)
			require.Equal(t, c.from, list.Orders[0].Supplier)
			require.Equal(t, c.says, list.BackOrdered)
		})
	}
}

// Another supplier is no help on the very day on which the late part is expected.
func TestSoonerIsADayBefore(t *testing.T) {
	for _, c := range []struct {
		name string
		days int // from the day that Northmoor promises to the one that Harbour Lane gave
		want []string
	}{
		{"the same day", 0, nil},
		{"a day before", 1, []string{"northmoor"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			_, order, promised := ordered(w)
			part, err := inventory.PartByID(t.Context(), w.tx, order.Lines[0].PartID)
			require.NoError(t, err)
			offer := w.offer(w.north, part, 1, inventory.InStock, at("20.00"))
			deliveries, err := inventory.LoadDeliveries(t.Context(), w.tx, now)
			require.NoError(t, err)
			north, err := deliveries.OfferPromise(offer)
			require.NoError(t, err)
			require.Greater(t, north.Day, promised)

			said := dayOf(north.Day + calendar.Day(c.days))
			said[0].LineID = order.Lines[0].ID
			_, err = inventory.Confirm(t.Context(), w.tx, order.ID, said, now)
			require.NoError(t, err)
			late, err := LatePromises(t.Context(), w.tx, w.deliveries(0))
			require.NoError(t, err)
			require.Len(t, late, 1)
			require.Equal(t, *said[0].ExpectedOn, *late[0].Expected)
			var sooner []string
			for _, s := range late[0].Sooner {
				sooner = append(sooner, s.Supplier)
			}
			require.Equal(t, c.want, sooner)
		})
	}
}

// The shelf helps if all the late pieces are there and nobody's: the ten balls of one side of a hub.
func TestShelfIsSooner(t *testing.T) {
	for _, c := range []struct {
		name       string
		came, kept int // since the order: onto the shelf, and of those for another place
		helps      bool
	}{
		{"none came", 0, 0, false},
		{"one too few", 9, 0, false},
		{"just enough", 10, 0, true},
		{"enough, but one is kept", 10, 1, false},
		{"enough beside what is kept", 11, 1, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			w, ctx := newWorkshop(t, testdb.Tx(t)), t.Context()
			balls := w.part("3/16 balls", "loose-balls", "ball_mm=4.7625 material=steel", "")
			w.offer(w.harbour, balls, 10, inventory.InStock, at("2.00"))
			job := w.bookIn(looseHub(t), Limits{})
			w.find(job, inspection.Replace, "front.hub.balls-left")
			w.quote(job)
			w.approve(job, "soonest")
			list, err := ordering.Plan(ctx, w.tx, ordering.Policy{}, now)
			require.NoError(t, err)
			placed, err := ordering.Place(ctx, w.tx, list, nil, now)
			require.NoError(t, err)
			require.Equal(t, 10, placed[0].Lines[0].Awaited())
			if c.came > 0 {
				w.shelve(balls, c.came)
			}
			if c.kept > 0 {
				require.NoError(t, inventory.Reserve(ctx, w.tx, job, balls.ID, "front.hub.balls-right", c.kept))
			}
			late, err := LatePromises(ctx, w.tx, w.deliveries(14))
			require.NoError(t, err)
			require.Len(t, late, 1)
			if !c.helps {
				require.Empty(t, late[0].Sooner)
				return
			}
			require.Equal(t, []ordering.Sooner{{HereOn: today + 14}}, late[0].Sooner)
			require.Contains(t, late[0].Words("GBP", today+14), "; the shelf has it now")
		})
	}
}

func TestConfirmRefusals(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	_, order, _ := ordered(w)
	line := order.Lines[0].ID
	yesterday := calendarDay(now) - 1
	for _, c := range []struct {
		name string
		said inventory.Confirmation
		says string
	}{
		{"a day before the order", inventory.Confirmation{LineID: line, Kind: inventory.Acknowledged, ExpectedOn: &yesterday}, "cannot be expected on"},
		{"a line of no such order", inventory.Confirmation{LineID: line + 1000, Kind: inventory.Acknowledged, ExpectedOn: &yesterday}, "there is no line"},
		{"a price below zero", inventory.Confirmation{LineID: line, Kind: inventory.Invoiced, Price: nullPounds("-1")}, "cannot be meant"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := inventory.Confirm(t.Context(), w.tx, order.ID, []inventory.Confirmation{c.said}, now)
			require.ErrorContains(t, err, c.says)
			words, err := inventory.LastWords(t.Context(), w.tx, []int64{line})
			require.NoError(t, err)
			require.Empty(t, words)
		})
	}
}

func TestWhatIf(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ringsOffered(w)
	job := w.ringJob(Limits{})
	w.quote(job)
	w.approve(job, "soonest")
	list, err := ordering.Plan(t.Context(), w.tx, ordering.Policy{}, now)
	require.NoError(t, err)
	what, err := list.WhatIf(t.Context())
	require.NoError(t, err)
	require.Len(t, what, 3)
	// One more day helps nothing; nobody else has the silver ring; Harbour Lane alone is the plan itself.
	require.Equal(t, "0", what[0].More.String())
	require.Nil(t, what[1].Total)
	require.Equal(t, "0", what[2].More.String())
}
