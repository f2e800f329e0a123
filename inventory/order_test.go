package inventory

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/migrations/testdb"
	"stead/substitution"
)

// delivery is an order of two bags of ten rings for two jobs, of which the second is due first.
type delivery struct {
	tx            pgx.Tx
	request       string
	part          Part
	supplier      Supplier
	offer         Offer
	first, second int64 // jobs: wanting 6, due on 20 March, and 8, a substitute, due on 10 March
	order         Order
}

func newDelivery(t *testing.T) delivery {
	tx, ctx := testdb.Tx(t), t.Context()
	d := delivery{tx: tx, request: begun(t, tx), part: addRing(t, tx), supplier: addSupplier(t, tx), first: addJob(t, tx), second: addJob(t, tx)}
	d.offer = addOffer(t, tx, d.supplier.ID, d.part.ID, 10)
	addBins(t, tx, "A1")
	require.NoError(t, AddClaim(ctx, tx, Claim{JobID: d.first, Place: "crank.outer-ring", PartID: d.part.ID, OfferID: d.offer.ID, Pieces: 6, DueOn: calendar.Date(2026, time.March, 20)}))
	require.NoError(t, AddClaim(ctx, tx, Claim{JobID: d.second, Place: "crank.ring", PartID: d.part.ID, OfferID: d.offer.ID, Pieces: 8, Substitute: true, DueOn: calendar.Date(2026, time.March, 10)}))
	require.Equal(t, Stock{Wanted: 14}, stockOf(t, tx, d.part.ID))
	var err error
	d.order, err = PlaceOrder(ctx, tx, Order{SupplierID: d.supplier.ID, PlacedAt: day(time.March, 3), Carriage: pounds("5.95"),
		Lines: []OrderLine{{OfferID: d.offer.ID, PartID: d.part.ID, Packs: 2, Pack: 10, Price: pounds("9.00"), QuotedDays: 2, Stock: InStock,
			ExpectedOn: calendar.Date(2026, time.March, 5), Claims: d.openClaims(t)}}})
	require.NoError(t, err)
	return d
}

func (d delivery) openClaims(t *testing.T) []int64 {
	open, err := OpenClaims(t.Context(), d.tx)
	require.NoError(t, err)
	var ids []int64
	for _, c := range open {
		if c.State == ClaimWanted {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

func (d delivery) receive(t *testing.T, allowOver bool, arrivals ...Arrival) (Receipt, error) {
	for i := range arrivals {
		arrivals[i].LineID = d.order.Lines[0].ID
	}
	return ReceiveOrder(t.Context(), d.tx, d.request, d.order.ID, "DN 4711", Into{Bin: "A1"}, day(time.March, 5), arrivals, allowOver)
}

func TestAddClaimRefuses(t *testing.T) {
	d, ctx := newDelivery(t), t.Context()
	other, err := AddPart(ctx, d.tx, ring(48, 110, "silver"))
	require.NoError(t, err)
	closed := addJob(t, d.tx)
	_, err = d.tx.Exec(ctx, `UPDATE job SET state = 'closed', closed_at = now() WHERE id = $1`, closed)
	require.NoError(t, err)
	for _, c := range []struct {
		name, problem string
		change        func(*Claim)
	}{
		{"no pieces", "above zero, not 0", func(c *Claim) { c.Pieces = 0 }},
		{"an unknown job", "there is no job 4711", func(c *Claim) { c.JobID = 4711 }},
		{"a closed job", "job " + text(closed) + " is closed", func(c *Claim) { c.JobID = closed }},
		{"an unknown offer", "there is no offer 4711", func(c *Claim) { c.OfferID = 4711 }},
		{"another part's offer", "not of part " + text(other.ID), func(c *Claim) { c.PartID = other.ID }},
	} {
		t.Run(c.name, func(t *testing.T) {
			claim := Claim{JobID: d.first, Place: "crank.ring", PartID: d.part.ID, OfferID: d.offer.ID, Pieces: 1, DueOn: calendar.Date(2026, time.March, 9)}
			c.change(&claim)
			require.ErrorContains(t, AddClaim(ctx, d.tx, claim), c.problem)
		})
	}
	require.Zero(t, stockOf(t, d.tx, d.part.ID).Wanted)
}

func TestPlaceOrder(t *testing.T) {
	d := newDelivery(t)
	require.Equal(t, OrderPlaced, d.order.State)
	require.Equal(t, "18", d.order.Goods().String())
	require.Len(t, d.order.Lines[0].Claims, 2)
	require.Equal(t, Stock{OnOrder: 20, ForJobs: 14}, stockOf(t, d.tx, d.part.ID))
	open, err := Orders(t.Context(), d.tx, true)
	require.NoError(t, err)
	require.Equal(t, []Order{d.order}, open)
	_, err = OrderByID(t.Context(), d.tx, 4711)
	require.EqualError(t, err, "there is no order 4711")
}

func TestPlaceOrderSharesAClaim(t *testing.T) {
	d, ctx := newDelivery(t), t.Context()
	require.NoError(t, AddClaim(ctx, d.tx, Claim{JobID: d.first, Place: "crank.inner-ring", PartID: d.part.ID, OfferID: d.offer.ID, Pieces: 25, DueOn: calendar.Date(2026, time.March, 20)}))
	claim := d.openClaims(t)
	line := OrderLine{OfferID: d.offer.ID, PartID: d.part.ID, Packs: 1, Pack: 10, Price: pounds("9"), Stock: Low, ExpectedOn: calendar.Date(2026, time.March, 9), Claims: claim}
	o, err := PlaceOrder(ctx, d.tx, Order{SupplierID: d.supplier.ID, PlacedAt: day(time.March, 4), Lines: []OrderLine{line, line}})
	require.NoError(t, err)
	require.Len(t, o.Lines[0].Claims, 1)
	require.Len(t, o.Lines[1].Claims, 1)
	require.Equal(t, Stock{OnOrder: 40, ForJobs: 34, Wanted: 5}, stockOf(t, d.tx, d.part.ID), "five are still wanted")
}

func TestPlaceOrderRefuses(t *testing.T) {
	d, ctx := newDelivery(t), t.Context()
	other, err := AddPart(ctx, d.tx, ring(48, 110, "silver"))
	require.NoError(t, err)
	elsewhere := addOffer(t, d.tx, addSupplier(t, d.tx).ID, d.part.ID, 1)
	for _, c := range []struct {
		name, problem string
		change        func(*Order)
	}{
		{"no line", "an order without lines", func(o *Order) { o.Lines = nil }},
		{"no packs", "0 packs of 10 pieces", func(o *Order) { o.Lines[0].Packs = 0 }},
		{"no price", "a price of 0 a pack", func(o *Order) { o.Lines[0].Price = pounds("0") }},
		{"an unknown offer", "line 1 of the order: there is no offer 4711", func(o *Order) { o.Lines[0].OfferID = 4711 }},
		{"another supplier's offer", "is another supplier's", func(o *Order) { o.Lines[0].OfferID = elsewhere.ID }},
		{"another part", "is of part", func(o *Order) { o.Lines[0].PartID = other.ID }},
		{"an unknown claim", "there is no claim 4711", func(o *Order) { o.Lines[0].Claims = []int64{4711} }},
		{"a claim that is ordered already", "is ordered already: plan the order again", func(o *Order) { o.Lines[0].Claims = d.order.Lines[0].Claims }},
	} {
		t.Run(c.name, func(t *testing.T) {
			inner, err := d.tx.Begin(ctx)
			require.NoError(t, err)
			o := Order{SupplierID: d.supplier.ID, PlacedAt: day(time.March, 4), Lines: []OrderLine{{OfferID: d.offer.ID, PartID: d.part.ID, Packs: 1, Pack: 10,
				Price: pounds("9"), Stock: InStock, ExpectedOn: calendar.Date(2026, time.March, 9)}}}
			c.change(&o)
			_, err = PlaceOrder(ctx, inner, o)
			require.ErrorContains(t, err, c.problem)
			require.NoError(t, inner.Rollback(ctx))
		})
	}
}

func TestReceiveShortThenTheRest(t *testing.T) {
	d := newDelivery(t)
	r, err := d.receive(t, false, Arrival{Outcome: Good, Pieces: 11})
	require.NoError(t, err)
	require.Equal(t, OrderPartIn, r.OrderState)
	require.Equal(t, []Got{
		{JobID: d.second, Place: "crank.ring", PartID: d.part.ID, Pieces: 8, Substitute: true},
		{JobID: d.first, Place: "crank.outer-ring", PartID: d.part.ID, Pieces: 3},
	}, r.Got, "the first due first")
	require.Equal(t, []Awaited{{d.order.Lines[0].ID, d.part.ID, d.part.Name, 9, []Holder{{d.first, 3}}}}, r.Awaited)
	require.Equal(t, Stock{OnHand: 11, Reserved: 11, OnOrder: 9, ForJobs: 3}, stockOf(t, d.tx, d.part.ID))

	require.Len(t, r.Measure, 1)
	require.Equal(t, d.second, r.Measure[0].JobID)
	var measured []string
	for _, m := range r.Measure[0].Dimensions {
		require.NotEmpty(t, m.Measure)
		measured = append(measured, m.Name+" "+m.Value)
	}
	require.Equal(t, []string{"teeth 50T", "bcd_mm 110 mm"}, measured, "what decides fit, not the colour")

	written, err := json.Marshal(r)
	require.NoError(t, err)
	var read Receipt
	require.NoError(t, json.Unmarshal(written, &read))
	require.Equal(t, r, read, "a receipt is kept as the outcome of its request")

	r, err = d.receive(t, false, Arrival{Outcome: Good, Pieces: 9})
	require.NoError(t, err)
	require.Equal(t, OrderClosed, r.OrderState)
	require.Equal(t, []Got{{JobID: d.first, Place: "crank.outer-ring", PartID: d.part.ID, Pieces: 3}}, r.Got)
	require.Empty(t, r.Awaited)
	require.Equal(t, Stock{OnHand: 20, Reserved: 14}, stockOf(t, d.tx, d.part.ID), "six are for the shelf")
	requireLedgerAddsUp(t, t.Context(), d.tx)

	of, err := ClaimsOfJob(t.Context(), d.tx, d.first)
	require.NoError(t, err)
	require.Len(t, of, 2)
	for _, c := range of {
		require.Equal(t, ClaimArrived, c.State)
	}
	history, err := History(t.Context(), d.tx, d.part.ID)
	require.NoError(t, err)
	require.Equal(t, d.order.ID, *history[0].OrderID)
}

func TestReceiveWrongAndDamaged(t *testing.T) {
	d := newDelivery(t)
	r, err := d.receive(t, false, Arrival{Outcome: Good, Pieces: 15}, Arrival{Outcome: Damaged, Pieces: 3, Note: "crushed"}, Arrival{Outcome: Wrong, Pieces: 2, Note: "48 teeth"})
	require.NoError(t, err)
	require.Equal(t, Stock{OnHand: 15, Reserved: 14, OnOrder: 5}, stockOf(t, d.tx, d.part.ID))
	require.Equal(t, 5, r.Awaited[0].Pieces, "whole and right ones are still awaited")
	require.Empty(t, r.Awaited[0].Jobs)

	// What came so is told until it goes back.
	beside := Beside{LineID: d.order.Lines[0].ID, OrderID: d.order.ID, PartID: d.part.ID, Part: d.part.Name, Supplier: d.supplier.Name, Wrong: 2, Damaged: 3}
	waits, err := Besides(t.Context(), d.tx)
	require.NoError(t, err)
	require.Equal(t, []Beside{beside}, waits)
	_, err = SendBack(t.Context(), d.tx, d.request, beside.LineID, 2, BackWrong, 0, "", day(time.March, 6))
	require.NoError(t, err)
	beside.Wrong, beside.Back = 0, 2
	waits, err = Besides(t.Context(), d.tx, beside.LineID)
	require.NoError(t, err)
	require.Equal(t, []Beside{beside}, waits)
	_, err = SendBack(t.Context(), d.tx, d.request, beside.LineID, 3, BackDamaged, 0, "", day(time.March, 6))
	require.NoError(t, err)
	waits, err = Besides(t.Context(), d.tx)
	require.NoError(t, err)
	require.Empty(t, waits)

	o, err := CancelOrder(t.Context(), d.tx, d.order.ID)
	require.NoError(t, err)
	require.Equal(t, OrderClosed, o.State)
	require.Equal(t, 5, o.Lines[0].Cancelled)
	require.Zero(t, stockOf(t, d.tx, d.part.ID).OnOrder)
}

func TestReceiveOver(t *testing.T) {
	d := newDelivery(t)
	_, err := d.receive(t, false, Arrival{Outcome: Good, Pieces: 12}, Arrival{Outcome: Good, Pieces: 12})
	require.EqualError(t, err, "order "+text(d.order.ID)+" awaits 20 more of "+d.part.Name+" and 24 came: send the others back, or say that they are kept")
	require.ErrorAs(t, err, new(*OverReceivedError))
	require.Zero(t, stockOf(t, d.tx, d.part.ID).OnHand)

	r, err := d.receive(t, true, Arrival{Outcome: Good, Pieces: 12}, Arrival{Outcome: Good, Pieces: 12})
	require.NoError(t, err)
	require.Equal(t, OrderClosed, r.OrderState)
	require.Equal(t, Stock{OnHand: 24, Reserved: 14}, stockOf(t, d.tx, d.part.ID))
	o, err := OrderByID(t.Context(), d.tx, d.order.ID)
	require.NoError(t, err)
	require.Equal(t, 20, o.Lines[0].Received)
	requireLedgerAddsUp(t, t.Context(), d.tx)

	_, err = d.receive(t, false, Arrival{Outcome: Good, Pieces: 1})
	require.ErrorContains(t, err, "awaits 0 more")
}

func TestReceiveRefuses(t *testing.T) {
	d, ctx := newDelivery(t), t.Context()
	for _, c := range []struct {
		name, problem string
		order         int64
		bin           string
		arrivals      []Arrival
	}{
		{"nothing", "say what came", d.order.ID, "A1", nil},
		{"an unknown order", "there is no order 4711", 4711, "A1", []Arrival{{d.order.Lines[0].ID, Good, 1, ""}}},
		{"another order's line", "there is no line 4711 of order", d.order.ID, "A1", []Arrival{{4711, Good, 1, ""}}},
		{"no pieces", "above zero, not 0", d.order.ID, "A1", []Arrival{{d.order.Lines[0].ID, Good, 0, ""}}},
		{"a strange outcome", `not "lost"`, d.order.ID, "A1", []Arrival{{d.order.Lines[0].ID, "lost", 1, ""}}},
		{"an unknown bin", "there is no bin B7: did you mean A1?", d.order.ID, "B7", []Arrival{{d.order.Lines[0].ID, Good, 1, ""}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReceiveOrder(ctx, d.tx, d.request, c.order, "", Into{Bin: c.bin}, day(time.March, 5), c.arrivals, false)
			require.ErrorContains(t, err, c.problem)
		})
	}
}

// Of a parcel each line goes into its own bin where one is named, the others into the bin of all.
func TestReceiveIntoSeveralBins(t *testing.T) {
	d, ctx := newDelivery(t), t.Context()
	addBins(t, d.tx, "C2")
	inner := addPart(t, d.tx, ring(34, 110, "black"))
	offer := addOffer(t, d.tx, d.supplier.ID, inner.ID, 1)
	order, err := PlaceOrder(ctx, d.tx, Order{SupplierID: d.supplier.ID, PlacedAt: day(time.March, 3), Carriage: pounds("0"), Lines: []OrderLine{
		{OfferID: d.offer.ID, PartID: d.part.ID, Packs: 1, Pack: 10, Price: pounds("9.00"), QuotedDays: 2, Stock: InStock, ExpectedOn: calendar.Date(2026, time.March, 5)},
		{OfferID: offer.ID, PartID: inner.ID, Packs: 1, Pack: 1, Price: pounds("9.00"), QuotedDays: 2, Stock: InStock, ExpectedOn: calendar.Date(2026, time.March, 5)}}})
	require.NoError(t, err)
	_, err = ReceiveAll(ctx, d.tx, d.request, order.ID, "", Into{Bin: "A1", Lines: map[int64]string{4711: "C2"}}, day(time.March, 5), nil, false)
	require.ErrorContains(t, err, "there is no line 4711 of order")
	_, err = ReceiveAll(ctx, d.tx, d.request, order.ID, "", Into{Bin: "A1", Lines: map[int64]string{order.Lines[1].ID: "C2"}}, day(time.March, 5), nil, false)
	require.NoError(t, err)
	lie, err := ContentsOf(ctx, d.tx, d.part.ID, inner.ID)
	require.NoError(t, err)
	require.ElementsMatch(t, []Content{{d.part.ID, "A1", 10}, {inner.ID, "C2", 1}}, lie)
}

func TestCancelOrder(t *testing.T) {
	d, ctx := newDelivery(t), t.Context()
	_, err := d.receive(t, false, Arrival{Outcome: Good, Pieces: 9})
	require.NoError(t, err)
	_, err = CancelOrder(ctx, d.tx, d.order.ID, 4711)
	require.ErrorContains(t, err, fmt.Sprintf("there is no line 4711 of order %d", d.order.ID))
	o, err := CancelOrder(ctx, d.tx, d.order.ID, d.order.Lines[0].ID)
	require.NoError(t, err)
	require.Equal(t, OrderClosed, o.State)
	require.Equal(t, Stock{OnHand: 9, Reserved: 9, Wanted: 5}, stockOf(t, d.tx, d.part.ID), "what did not come is wanted again")
	_, err = CancelOrder(ctx, d.tx, d.order.ID)
	require.ErrorContains(t, err, "awaits nothing that could be cancelled: it is closed")
	open, err := Orders(ctx, d.tx, true)
	require.NoError(t, err)
	require.Empty(t, open)
}

func TestCancelOrderBeforeAnythingCame(t *testing.T) {
	d := newDelivery(t)
	o, err := CancelOrder(t.Context(), d.tx, d.order.ID)
	require.NoError(t, err)
	require.Equal(t, OrderCancelled, o.State)
	require.Equal(t, Stock{Wanted: 14}, stockOf(t, d.tx, d.part.ID))
}

// What is on order for a job that was given up comes for the shelf.
func TestReleaseJobWhileItsPartsTravel(t *testing.T) {
	d := newDelivery(t)
	require.NoError(t, ReleaseJob(t.Context(), d.tx, d.second))
	require.Equal(t, Stock{OnOrder: 20, ForJobs: 6}, stockOf(t, d.tx, d.part.ID))
	r, err := d.receive(t, false, Arrival{Outcome: Good, Pieces: 20})
	require.NoError(t, err)
	require.Equal(t, []Got{{JobID: d.first, Place: "crank.outer-ring", PartID: d.part.ID, Pieces: 6}}, r.Got)
	require.Equal(t, 14, stockOf(t, d.tx, d.part.ID).Free())
}

// Of a single ring nobody measures what it would pair with.
func TestDecidingDimensions(t *testing.T) {
	ring, err := substitution.ParsePart("chainring", "teeth=50 bcd_mm=110 bolts=5 bolt_pattern=even speeds=9,10 chain_width=11/128 pairs_with=34 colour=black")
	require.NoError(t, err)
	names := func(place substitution.Place) (out []string) {
		for _, d := range deciding(Part{Part: ring}, place) {
			out = append(out, d.Name)
		}
		return out
	}
	fit := []string{"teeth", "bcd_mm", "bolts", "bolt_pattern", "speeds", "chain_width"}
	require.Equal(t, fit, names("crank.ring"))
	require.Equal(t, append(fit, "pairs_with"), names(""), "what sits nowhere is measured in all its own")

	bar, err := substitution.ParsePart("handlebar", "clamp_mm=31.8 width_mm=440")
	require.NoError(t, err)
	bars := deciding(Part{Part: bar}, "handlebar")
	require.Len(t, bars, 1, "how wide a bar is changes how the bike rides, not whether the bar fits")
	require.Equal(t, "clamp_mm", bars[0].Name)
}
