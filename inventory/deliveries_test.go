package inventory

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/migrations/testdb"
)

// An order of 3 March that was quoted for two days later, seen on the last of the month. What is overdue makes a supplier
// slower; what was cancelled tells nothing.
func TestWhatDeliveriesLearnFrom(t *testing.T) {
	// mean is how many working days the supplier is then taken to need, and how many it was before the order.
	mean := func(name string, became func(*testing.T, delivery)) (after, before float64) {
		t.Run(name, func(t *testing.T) {
			d := newDelivery(t)
			became(t, d)
			for _, at := range []struct {
				day  time.Time
				into *float64
			}{{day(time.March, 2), &before}, {day(time.March, 31), &after}} {
				all, err := LoadDeliveries(t.Context(), d.tx, at.day)
				require.NoError(t, err)
				*at.into, _ = all.Forecast(d.supplier.ID, InStock).MeanAndVariance()
			}
		})
		return after, before
	}
	cancelled, unknown := mean("cancelled", func(t *testing.T, d delivery) {
		_, err := CancelOrder(t.Context(), d.tx, d.order.ID)
		require.NoError(t, err)
	})
	require.InDelta(t, unknown, cancelled, 1e-9)
	overdue, _ := mean("overdue", func(*testing.T, delivery) {})
	require.Greater(t, overdue, cancelled, "four weeks and not a word")
	wrong, _ := mean("another part came", func(t *testing.T, d delivery) {
		_, err := d.receive(t, false, Arrival{Outcome: Wrong, Pieces: 20})
		require.NoError(t, err)
	})
	require.InDelta(t, overdue, wrong, 1e-9, "the right one is still awaited")
}

// Two lines are ordered, one comes and the other is cancelled later: an order is then never wholly cancelled, but the
// line is, and months later it must not hold up the promises of its supplier.
func TestACancelledLineIsNotOverdue(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	part, supplier := addRing(t, tx), addSupplier(t, tx)
	offer := addOffer(t, tx, supplier.ID, part.ID, 10)
	addBins(t, tx, "A1")
	request := begun(t, tx)
	line := OrderLine{OfferID: offer.ID, PartID: part.ID, Packs: 1, Pack: 10, Price: pounds("9.00"), QuotedDays: 2, Stock: InStock,
		ExpectedOn: calendar.Date(2026, time.March, 5)}
	order, err := PlaceOrder(ctx, tx, Order{SupplierID: supplier.ID, PlacedAt: day(time.March, 3), Lines: []OrderLine{line, line}})
	require.NoError(t, err)
	came := Arrival{LineID: order.Lines[0].ID, Outcome: Good, Pieces: 10}
	_, err = ReceiveOrder(ctx, tx, request, order.ID, "DN 1", Into{Bin: "A1"}, day(time.March, 5), []Arrival{came}, false)
	require.NoError(t, err)

	promised := func() string {
		all, err := LoadDeliveries(ctx, tx, day(time.June, 1))
		require.NoError(t, err)
		promise, err := all.OfferPromise(offer)
		require.NoError(t, err)
		return promise.Day.String()
	}
	forgotten := promised()
	_, err = CancelOrder(ctx, tx, order.ID, order.Lines[1].ID)
	require.NoError(t, err)
	require.Less(t, promised(), forgotten, "what will not come is no longer late")
	require.Equal(t, "2026-06-04", promised(), "as after a single parcel that came when quoted")
}
