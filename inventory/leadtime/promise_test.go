package leadtime_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

var weekdays = calendar.Route{Supplier: calendar.Weekdays(), Workshop: calendar.Weekdays()}

// spread makes a distribution from the chances of arriving within 0, 1, 2, ... days.
func spread(within ...float64) leadtime.Distribution {
	d := leadtime.Distribution{OnDay: make([]float64, len(within))}
	before := 0.0
	for day, chance := range within {
		d.OnDay[day] = chance - before
		before = chance
	}
	d.Beyond = 1 - before
	return d
}

// Two shipments with chances .1 .4 .7 .9 1 and 0 .2 .6 .8 .95 within 0 to 4 days:
// their product, by hand.
func TestTwoShipments(t *testing.T) {
	monday := calendar.Date(2026, time.November, 23)
	shipments := []leadtime.Shipment{
		{Supplier: "Ashdown", OrderDay: monday, Route: weekdays, Lead: spread(.1, .4, .7, .9, 1)},
		{Supplier: "Birch", OrderDay: monday, Route: weekdays, Lead: spread(0, .2, .6, .8, .95)},
	}
	for i, want := range []float64{0, .08, .42, .72, .95} {
		require.InDelta(t, want, leadtime.ByDay(shipments, monday+calendar.Day(i)), 1e-12)
	}
	require.Zero(t, leadtime.ByDay(shipments, monday-1))

	promise, err := leadtime.PromiseDay(shipments, 0.9, monday)
	require.NoError(t, err)
	require.Equal(t, "Friday 27 November, 9 in 10", promise.Words(monday))
	require.InDelta(t, .95, promise.Chance, 1e-12)
	require.Equal(t, "Birch", promise.Last)

	_, err = leadtime.PromiseDay(shipments, 0.97, monday)
	require.EqualError(t, err, "no date can be promised 19 in 20: orders from Birch may be out for over a year: ask them")
	shipments[0].Lead = spread(.1, .4, .7, .9, .95)
	_, err = leadtime.PromiseDay(shipments, 0.92, monday)
	require.EqualError(t, err, "no date can be promised 9 in 10: together the 2 shipments may be out for over a year: ask their suppliers")
}

// A holiday moves the date and leaves the chances alone: both shipments wait for
// the same closed days, which are counted once and not multiplied.
func TestHolidaysShiftAndDoNotMultiply(t *testing.T) {
	british, err := calendar.New(calendar.Rules{Country: "GB", ClosedWeekdays: []time.Weekday{time.Saturday, time.Sunday}})
	require.NoError(t, err)
	route := calendar.Route{Supplier: british, Workshop: british}
	at := func(orderDay calendar.Day) leadtime.Promise {
		shipment := leadtime.Shipment{Supplier: "Ashdown", OrderDay: orderDay, Route: route, Lead: spread(0, .5, .96, .99)}
		promise, err := leadtime.PromiseDay([]leadtime.Shipment{shipment, shipment}, 0.9, orderDay)
		require.NoError(t, err)
		return promise
	}
	plain := at(calendar.Date(2026, time.December, 9))
	require.Equal(t, "2026-12-11", plain.Day.String())
	christmas := at(calendar.Date(2026, time.December, 24)) // then Christmas, weekend, substitute day
	require.Equal(t, "2026-12-30", christmas.Day.String())
	require.InDelta(t, .96*.96, plain.Chance, 1e-12)
	require.InDelta(t, plain.Chance, christmas.Chance, 1e-12)
}

func TestPromiseWithoutShipments(t *testing.T) {
	promise, err := leadtime.PromiseDay(nil, 0.9, today)
	require.NoError(t, err)
	require.Equal(t, leadtime.Promise{Day: today, Confidence: 0.9, Chance: 1}, promise)
	for _, confidence := range []float64{0, 1, -1, 90} {
		_, err := leadtime.PromiseDay(nil, confidence, today)
		require.ErrorContains(t, err, "use 0.9 for 9 in 10")
	}
}

// A shipment that should have come is promised for a day to come, not for a day
// gone by.
func TestPromiseOfALateShipment(t *testing.T) {
	ordered := today - 7
	waited := weekdays.WithinDays(ordered, today-1)
	shipment := leadtime.Shipment{
		Supplier: "Ashdown", OrderDay: ordered, Route: weekdays,
		Lead: leadtime.Learn(nil, nil, today).Forecast(order("Ashdown", 1)).StillWaiting(waited),
	}
	promise, err := leadtime.PromiseDay([]leadtime.Shipment{shipment}, 0.9, today)
	require.NoError(t, err)
	require.Greater(t, promise.Day, today)
}

func TestInWords(t *testing.T) {
	for chance, want := range map[float64]string{
		0: "less than 1 in 10", 0.099: "less than 1 in 10", 0.1: "1 in 10", 0.5: "5 in 10", 0.8999: "8 in 10",
		0.9: "9 in 10", 0.949: "9 in 10", 0.95: "19 in 20", 0.98: "49 in 50", 0.99: "99 in 100", 0.9999: "99 in 100", 1: "certain",
	} {
		require.Equal(t, want, leadtime.InWords(chance), chance)
	}
	require.Equal(t, "3 in 10", leadtime.InWords(0.1+0.1+0.1))
}

func someShipments(t *rapid.T) []leadtime.Shipment {
	learned := leadtime.Learn(someReceipts(t), nil, today)
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) leadtime.Shipment {
		asked := someOrder(t)
		return leadtime.Shipment{
			Supplier: asked.Supplier, Route: weekdays,
			OrderDay: today + calendar.Day(rapid.IntRange(0, 9).Draw(t, "order day")),
			Lead:     learned.Forecast(asked).Distribution,
		}
	}), 1, 4).Draw(t, "shipments")
}

func TestMoreConfidenceIsNeverEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shipments := someShipments(t)
		low := rapid.Float64Range(0.05, 0.95).Draw(t, "low")
		high := rapid.Float64Range(low, 0.95).Draw(t, "high")
		early, errLow := leadtime.PromiseDay(shipments, low, today)
		late, errHigh := leadtime.PromiseDay(shipments, high, today)
		if errHigh != nil {
			return // whatever can be promised at low cannot be earlier than never
		}
		require.NoError(t, errLow)
		require.LessOrEqual(t, early.Day, late.Day)
		require.GreaterOrEqual(t, late.Chance, high-1e-9)
		if late.Day > today { // and no earlier day would do
			require.Less(t, leadtime.ByDay(shipments, late.Day-1), high)
		}
	})
}

func TestMoreShipmentsAreNeverEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shipments := someShipments(t)
		all, err := leadtime.PromiseDay(shipments, 0.9, today)
		if err != nil {
			return
		}
		fewer, err := leadtime.PromiseDay(shipments[1:], 0.9, today)
		require.NoError(t, err)
		require.LessOrEqual(t, fewer.Day, all.Day)
	})
}
