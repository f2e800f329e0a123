package desk

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/pricing"
)

// A customer is told how surely a day holds as the bench is, on the page and on paper, whatever the shop promises.
func TestCustomersAreToldHowSurelyADayHolds(t *testing.T) {
	now := time.Date(2026, time.December, 2, 9, 30, 0, 0, time.UTC)
	day := calendar.DayOf(now) + 8
	for _, c := range []struct{ name, promise, holds, handed string }{
		{"as shops begin", "all here by Thursday 10 December, 9 in 10", "The day holds 9 times in 10.", "all here by Thursday 10 December, 9 in 10"},
		{"a shop that dares more", "all here by Thursday 10 December, 8 in 10", "The day holds 8 times in 10.", "all here by Thursday 10 December, 8 in 10"},
		{"a careful shop", "all here by Thursday 10 December, 19 in 20", "The day holds 19 times in 20.", "all here by Thursday 10 December, 19 in 20"},
		{"no chance was kept", "all here by Thursday 10 December", "", "all here by Thursday 10 December"},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := pricing.Quote{Version: 1, Currency: "GBP", Options: []pricing.Option{{Names: []string{"soonest"}, Promise: c.promise, ReadyOn: day, Parts: []pricing.PartLine{{Pieces: 1, HereOn: day}}}}}
			require.Equal(t, c.holds, tellLetter(q, pricing.Job{}, nil, "", At(now)).Holds)
			require.Equal(t, c.handed, TellQuote(q, At(now)).Handed().Options[0].Promise)
		})
	}
	require.Empty(t, pricing.Option{Promise: "all on the shelf"}.Chance())

	// What was agreed says it too, of the day that it was quoted of; of a later one nobody has said it.
	q := pricing.Quote{Version: 1, Options: []pricing.Option{{Names: []string{"soonest"}, Promise: "all here by then, 9 in 10", ReadyOn: day}, {Names: []string{"cheapest"}, Promise: "all on the shelf", ReadyOn: day}}}
	for want, a := range map[string]pricing.Approval{"The day holds 9 times in 10.": {Option: "soonest", ReadyOn: day}, "": {Option: "soonest", ReadyOn: day + 1}} {
		require.Equal(t, want, tellLetter(q, pricing.Job{}, &a, "", At(now)).Holds)
	}
	require.Empty(t, tellLetter(q, pricing.Job{}, &pricing.Approval{Option: "cheapest", ReadyOn: day}, "", At(now)).Holds, "nor of another way's day")
}
