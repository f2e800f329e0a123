package inventory

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
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
