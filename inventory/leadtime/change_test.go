package leadtime_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

// changeOf is the change found in receipts so many days late.
func changeOf(daysLate ...int) *leadtime.Change {
	return leadtime.Learn(runOf("Ashdown", daysLate...), nil, today).Forecast(order("Ashdown", 2)).Change
}

func TestChange(t *testing.T) {
	for _, test := range []struct {
		name     string
		daysLate []int
		want     string // empty: no change
	}{
		{"worse", []int{0, 0, 0, 1, 0, 0, 3, 3, 4, 2, 3, 3},
			"5 of the 6 receipts since August were 3 working days late or more; before, on time was usual."},
		{"better", []int{5, 4, 6, 5, 5, 6, 5, 0, 0, 1, 0, 0, 0},
			"5 of the 6 receipts since August were on time or sooner; before, 5 working days late was usual."},
		{"no longer early", []int{-2, -2, -2, -2, -2, -2, 1, 1, 1, 1, 1},
			"5 of the 5 receipts since August were 1 working day late or more; before, 2 working days early was usual."},
		{"always late is no change", []int{3, 3, 4, 3, 3, 2, 3}, ""},
		{"one freak is no change", []int{0, 0, 0, 0, 0, 25, 0, 0}, ""},
		{"a freak at the end is no change", []int{0, 0, 1, 0, 0, 0, 0, 25}, ""},
		{"two bad ones are too few", []int{0, 0, 0, 0, 0, 6, 6}, ""},
		{"too few receipts", []int{0, 9, 9, 9}, ""},
		{"none", nil, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			change := changeOf(test.daysLate...)
			if test.want == "" {
				require.Nil(t, change)
				return
			}
			require.NotNil(t, change)
			require.Equal(t, test.want, change.Words(today))
		})
	}
}

// A supplier is told to be slower where it comes later than it says, and did not before, while that is news.
func TestSlower(t *testing.T) {
	shiftedBy := func(days calendar.Day, receipts []leadtime.Receipt) []leadtime.Receipt {
		for i := range receipts {
			receipts[i].Ordered -= days
			receipts[i].Arrived -= days
		}
		return receipts
	}
	worse := []int{0, 0, 0, 1, 0, 0, 3, 3, 4, 2, 3, 3}
	for _, test := range []struct {
		name     string
		receipts []leadtime.Receipt
		told     bool
	}{
		{"worse", runOf("Ashdown", worse...), true},
		{"worse, a year ago", shiftedBy(365, runOf("Ashdown", worse...)), false},
		{"better", runOf("Ashdown", 5, 4, 6, 5, 5, 6, 5, 0, 0, 1, 0, 0, 0), false},
		{"no longer early", runOf("Ashdown", -2, -2, -2, -2, -2, -2, 0, 0, 0, 0, 0), false},
		{"as ever", runOf("Ashdown", 0, 1, 0, 0, 1, 0, 0, 0, 1, 0), false},
		{"nothing has come", nil, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			slower := leadtime.Learn(test.receipts, nil, today).Slower("Ashdown")
			require.Equal(t, test.told, slower != nil)
		})
	}
}

// Where all suppliers are late together that is told, and not of each that it has changed.
func TestAStrainIsNoChangeOfEach(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 21))
	habits := make([]habit, 5)
	for i := range habits {
		habits[i] = habit{late: 0.1, another: 0.3}
	}
	learned := leadtime.Learn(booked(r, habits, func(ordered calendar.Day) int {
		if ordered < today-28 {
			return 0
		}
		return 4
	}))
	require.NotNil(t, learned.Strain())
	for i := range habits {
		require.Nil(t, learned.Slower(fmt.Sprint("s", i)))
		require.Nil(t, learned.Forecast(order(fmt.Sprint("s", i), 3)).Change)
	}
}

// After a change the forecast follows the new habit, where it would otherwise
// have averaged the two.
func TestForecastFollowsTheChange(t *testing.T) {
	changed := leadtime.Learn(runOf("Ashdown", 0, 0, 0, 0, 0, 0, 5, 5, 5, 5), nil, today).Forecast(order("Ashdown", 2))
	mixed := leadtime.Learn(runOf("Ashdown", 0, 5, 0, 0, 5, 0, 5, 0, 5, 0), nil, today).Forecast(order("Ashdown", 2))
	require.NotNil(t, changed.Change)
	require.Nil(t, mixed.Change)
	require.Less(t, changed.By(2), mixed.By(2)-0.1)
}

func TestSteadySuppliersAreNotAccused(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 11))
	for _, p := range populations {
		for _, n := range []int{8, 20, 40} {
			accused := 0
			const suppliers = 400
			for range suppliers {
				h := p.draw(r)
				late := make([]int, n)
				for i := range late {
					late[i] = max(-2, h.daysLate(r))
				}
				if changeOf(late...) != nil {
					accused++
				}
			}
			t.Logf("suppliers %s, %d receipts: %d of %d accused of a change that never was", p.name, n, accused, suppliers)
			require.Less(t, accused, suppliers/20)
		}
	}
}

func TestChangesAreFound(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 12))
	found := 0
	const suppliers = 400
	for range suppliers {
		h := habit{late: 0.2, another: 0.3, disaster: 0.02}
		late := make([]int, 12)
		for i := range late {
			late[i] = h.daysLate(r)
			if i >= 6 {
				late[i] += 3
			}
		}
		if changeOf(late...) != nil {
			found++
		}
	}
	t.Logf("three days later for the last 6 of 12: found in %d of %d", found, suppliers)
	require.Greater(t, found, suppliers*8/10)
}

// A supplier that has become three days later and stays so. Six receipts tell of the
// change incompletely: 87 in 100 dates are to hold from then on, where the latest of
// the last nine receipts, the simplest rule there is, would hold 89. Of these, which
// change by a shift, 90 do; without what is unseen 89 would, of eight receipts.
func TestDatesHoldAfterAChange(t *testing.T) {
	for _, since := range []int{6, 8, 20} {
		r := rand.New(rand.NewPCG(13, uint64(since)))
		held := 0
		const suppliers = 600
		for range suppliers {
			h := populations[0].draw(r)
			late := make([]int, 12+since+1)
			for i := range late {
				late[i] = h.daysLate(r)
				if i >= 12 {
					late[i] += 3
				}
			}
			next := late[12+since]
			days, ok := leadtime.Learn(runOf("Ashdown", late[:12+since]...), nil, today).Forecast(order("Ashdown", 2)).Within(0.9)
			if ok && 2+next <= days {
				held++
			}
		}
		t.Logf("%d receipts after a change: %d of %d held their 9 in 10 date", since, held, suppliers)
		require.Greater(t, held, suppliers*90/100)
	}
}

// A supplier that came as quoted and is now late by anything from none to ten days, where others come as quoted and say
// nothing of such a spread. Eight receipts tell of it; of six the latest would hold no more than 86 in 100 by order
// statistics, and the forecast holds about as many.
func TestDatesHoldWhereLatenessSpreads(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 17))
	held := 0
	const suppliers = 400
	for range suppliers {
		var receipts []leadtime.Receipt
		for i := range 4 {
			receipts = append(receipts, runOf(fmt.Sprint("neighbour ", i), 0, 0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 0)...)
		}
		late := make([]int, 10+8)
		for i := range 8 {
			late[10+i] = r.IntN(11)
		}
		days, ok := leadtime.Learn(append(receipts, runOf("Ashdown", late...)...), nil, today).Forecast(order("Ashdown", 2)).Within(0.9)
		if ok && 2+r.IntN(11) <= days {
			held++
		}
	}
	t.Logf("%d of %d held", held, suppliers)
	require.GreaterOrEqual(t, held, suppliers*87/100)
}

// The same where its last six orders take eight days more on average, another number for each: those that have come are the
// quick ones, and what is overdue tells of the rest. Without it 77 in 100 would hold; one that knew the supplier's ways, and
// that they may have changed to these, would hold 90.
func TestDatesHoldWhereSlowParcelsAreStillOut(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 19))
	held, all := 0, 0
	for range 400 {
		var receipts []leadtime.Receipt
		var open []leadtime.Outstanding
		for i := range 4 {
			receipts = append(receipts, runOf(fmt.Sprint("neighbour ", i), 0, 0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 0)...)
		}
		h := populations[0].draw(r)
		h.disaster = 0
		quoted := 3
		for i := range 18 {
			ordered, took := today-calendar.Day(7*(18-i)), max(0, quoted+h.daysLate(r))
			if i >= 12 {
				took += geometric(r, 8)
			}
			arrived := weekdaysFrom(ordered, took)
			if arrived < today {
				receipts = append(receipts, leadtime.Receipt{Supplier: "Ashdown", Ordered: ordered, Arrived: arrived, Quoted: &quoted, Took: took, Signal: leadtime.InStock})
			} else {
				open = append(open, leadtime.Outstanding{Supplier: "Ashdown", Ordered: ordered, Quoted: &quoted, Waited: weekdays.WorkingDays(ordered, today), Signal: leadtime.InStock})
			}
		}
		days, ok := leadtime.Learn(receipts, open, today).Forecast(order("Ashdown", quoted)).Within(0.9)
		require.True(t, ok)
		for range 20 {
			all++
			if max(0, quoted+h.daysLate(r))+geometric(r, 8) <= days {
				held++
			}
		}
	}
	t.Logf("%d of %d held", held, all)
	require.GreaterOrEqual(t, held, all*80/100)
}

func TestFreaks(t *testing.T) {
	forecast := leadtime.Learn(runOf("Ashdown", 0, 1, 0, 25, 0, 1, 0), nil, today).Forecast(order("Ashdown", 2))
	require.Len(t, forecast.Freaks, 1)
	require.Equal(t, 25, forecast.Freaks[0].DaysLate())
	require.Nil(t, forecast.Change)

	// It moves the tail, not the date that is promised 9 in 10.
	without := leadtime.Learn(runOf("Ashdown", 0, 1, 0, 0, 0, 1, 0), nil, today).Forecast(order("Ashdown", 2))
	with, _ := forecast.Within(0.8)
	plain, _ := without.Within(0.8)
	require.Equal(t, plain, with)
	require.Less(t, forecast.By(20), without.By(20))

	require.Empty(t, leadtime.Learn(runOf("Ashdown", 0, 0, 25), nil, today).Forecast(order("Ashdown", 2)).Freaks)
}
