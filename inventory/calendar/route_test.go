package calendar_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory/calendar"
)

func TestOrderDay(t *testing.T) {
	cutOff, err := calendar.NewCutOff("15:30", "Europe/London")
	require.NoError(t, err)
	route := calendar.Route{
		Supplier: mustNew(t, calendar.Rules{Country: "GB", ClosedWeekdays: weekend}),
		Workshop: calendar.Weekdays(),
		CutOff:   &cutOff,
	}
	for _, test := range []struct {
		name, placed, want string
	}{
		{"winter, in time", "2026-11-25T15:29:59Z", "2026-11-25"},
		{"winter, at the cut-off", "2026-11-25T15:30:00Z", "2026-11-26"},
		{"summer time is an hour ahead of UTC", "2026-07-01T14:29:00Z", "2026-07-01"},
		{"summer, late by the wall clock", "2026-07-01T14:30:00Z", "2026-07-02"},
		{"friday evening counts from monday", "2026-11-27T18:00:00Z", "2026-11-30"},
		{"friday evening before the bank holiday", "2026-05-22T18:00:00Z", "2026-05-26"},
		{"saturday morning", "2026-11-28T09:00:00Z", "2026-11-30"},
		{"placed from another zone", "2026-11-25T09:00:00-08:00", "2026-11-26"},
		{"just after midnight in summer", "2026-07-01T23:30:00Z", "2026-07-02"},
		{"monday after the clocks went forward", "2026-03-30T14:29:00Z", "2026-03-30"},
		{"monday after the clocks went back", "2026-10-26T15:29:00Z", "2026-10-26"},
	} {
		t.Run(test.name, func(t *testing.T) {
			placed, err := time.Parse(time.RFC3339, test.placed)
			require.NoError(t, err)
			require.Equal(t, test.want, route.OrderDay(placed).String())
		})
	}
}

// On the day itself on which the clocks change, midnight plus 15 hours is not three o'clock.
func TestCutOffOnTheDayTheClocksChange(t *testing.T) {
	cutOff, err := calendar.NewCutOff("15:00", "Europe/London")
	require.NoError(t, err)
	allWeek := mustNew(t, calendar.Rules{})
	route := calendar.Route{Supplier: allWeek, Workshop: allWeek, CutOff: &cutOff}
	require.Equal(t, "2026-03-29", route.OrderDay(time.Date(2026, 3, 29, 14, 59, 0, 0, cutOff.Zone)).String())
	require.Equal(t, "2026-03-30", route.OrderDay(time.Date(2026, 3, 29, 15, 0, 0, 0, cutOff.Zone)).String())
	require.Equal(t, "2026-10-25", route.OrderDay(time.Date(2026, 10, 25, 14, 59, 0, 0, cutOff.Zone)).String())
	require.Equal(t, "2026-10-26", route.OrderDay(time.Date(2026, 10, 25, 15, 0, 0, 0, cutOff.Zone)).String())
}

func TestBadCutOff(t *testing.T) {
	_, err := calendar.NewCutOff("half three", "Europe/London")
	require.ErrorContains(t, err, "cut-off hour")
	_, err = calendar.NewCutOff("15:30", "Middle/Earth")
	require.ErrorContains(t, err, "time zone")
	_, err = calendar.NewCutOff("15:30", "")
	require.ErrorContains(t, err, "time zone")
}

func TestTwoCalendars(t *testing.T) {
	route := calendar.Route{
		Supplier: mustNew(t, calendar.Rules{Country: "DE-BY", ClosedWeekdays: weekend}),
		Workshop: mustNew(t, calendar.Rules{Country: "GB", ClosedWeekdays: []time.Weekday{time.Sunday, time.Monday}}),
	}
	ordered := calendar.Date(2026, 6, 3) // Wednesday; Thursday 4 June is Corpus Christi in Bavaria
	require.Equal(t, "2026-06-05", route.Arrival(ordered, 1).String())
	require.Equal(t, "2026-06-09", route.Arrival(ordered, 2).String()) // Monday 8th: workshop closed
	require.Equal(t, "2026-06-09", route.Arrival(ordered, 3).String())

	require.Equal(t, 0, route.WithinDays(ordered, calendar.Date(2026, 6, 4)))
	require.Equal(t, 1, route.WithinDays(ordered, calendar.Date(2026, 6, 8))) // nothing is taken in on the Monday
	require.Equal(t, 3, route.WithinDays(ordered, calendar.Date(2026, 6, 9)))
	require.Equal(t, -1, route.WithinDays(ordered, calendar.Date(2026, 6, 2)))

	require.Equal(t, 3, route.WorkingDays(ordered, calendar.Date(2026, 6, 9)))
	require.Equal(t, 2, route.WorkingDays(ordered, calendar.Date(2026, 6, 6))) // a Saturday counts as the Monday
}

func TestWithinDaysAgreesWithArrival(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		route := calendar.Route{Supplier: mustNew(t, rules(t)), Workshop: mustNew(t, rules(t))}
		ordered := route.Supplier.NextOpen(someDay(t, "ordered"))
		by := ordered + calendar.Day(rapid.IntRange(-3, 40).Draw(t, "by"))
		n := route.WithinDays(ordered, by)
		if n >= 0 {
			require.LessOrEqual(t, route.Arrival(ordered, n), by)
		}
		require.Greater(t, route.Arrival(ordered, n+1), by)
	})
}
