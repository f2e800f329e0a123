package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
)

// What is called the middle is beaten by nothing that the customer is offered beside it: less to pay, sooner, or closer to
// what was there.
func TestMiddle(t *testing.T) {
	choice := func(total string, day int, away int64) offered {
		return offered{Option: Option{Total: pounds(total)}, home: calendar.Day(day), away: away}
	}
	for _, tc := range []struct {
		name     string
		front    []offered
		balanced int
		want     int
	}{
		{"the solver's", []offered{choice("100", 9, 0), choice("120", 5, 0), choice("110", 7, 0)}, 2, 2},
		{"dearer and later than one as close", []offered{choice("225.00", 4, 0), choice("227.76", 9, 0), choice("214.76", 9, 5)}, 1, 0},
		{"beaten by one that is beaten too", []offered{choice("90", 3, 0), choice("100", 4, 0), choice("110", 4, 0)}, 2, 0},
		{"the same but for its parts", []offered{choice("100", 4, 0), choice("100", 4, 0)}, 1, 1},
		{"dearer, but closer", []offered{choice("100", 4, 3), choice("110", 4, 0)}, 1, 1},
		{"none that the customer will spend so much on", []offered{choice("100", 4, 3)}, -1, -1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			if tc.balanced >= 0 {
				tc.front[tc.balanced].balanced = true
			}
			require.Equal(t, tc.want, middle(tc.front))
		})
	}
}

// Of an amendment nothing is worth paying for that would be here before what was agreed is ready.
func TestAmendmentIsNoSoonerThanWhatWasAgreed(t *testing.T) {
	require.Equal(t, calendar.Day(4), Situation{}.goesHome(Option{ReadyOn: 4}))
	amends := Situation{Amends: &amending{Agreement: Agreement{ReadyOn: 9}}}
	require.Equal(t, calendar.Day(9), amends.goesHome(Option{ReadyOn: 4}))
	require.Equal(t, calendar.Day(12), amends.goesHome(Option{ReadyOn: 12}))
}
