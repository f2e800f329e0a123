package leadtime_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

// weekdaysFrom is the calendar day so many weekdays after one.
func weekdaysFrom(day calendar.Day, n int) calendar.Day { return weekdays.Arrival(day, n) }

// booked simulates a year of orders and what had come of them by today: in the
// last weeks each parcel took some days more.
func booked(r *rand.Rand, suppliers []habit, strained func(ordered calendar.Day) int) (rs []leadtime.Receipt, os []leadtime.Outstanding, now calendar.Day) {
	rs, os, _ = bookedWithTruth(r, suppliers, strained)
	return rs, os, today
}

// bookedWithTruth is booked, with how many working days each open order will have taken.
func bookedWithTruth(r *rand.Rand, suppliers []habit, strained func(ordered calendar.Day) int) (rs []leadtime.Receipt, os []leadtime.Outstanding, take []int) {
	for ordered := today - 400; ordered < today; ordered++ {
		if ordered%7 == 2 || ordered%7 == 3 {
			continue // Saturday, Sunday
		}
		for i, h := range suppliers {
			if r.Float64() > 0.25 {
				continue
			}
			quoted := quotes[r.IntN(len(quotes))]
			took := max(0, quoted+h.daysLate(r)+strained(ordered))
			arrived := weekdaysFrom(ordered, took)
			name := fmt.Sprint("s", i)
			if arrived < today {
				rs = append(rs, leadtime.Receipt{Supplier: name, Ordered: ordered, Arrived: arrived, Quoted: &quoted, Took: took, Signal: leadtime.InStock})
			} else {
				os = append(os, leadtime.Outstanding{Supplier: name, Ordered: ordered, Quoted: &quoted, Waited: weekdays.WorkingDays(ordered, today), Signal: leadtime.InStock})
				take = append(take, took)
			}
		}
	}
	return rs, os, take
}

// When all suppliers are late at once the dates given from the second week on must
// hold, and when they are not nothing must be given away for it.
func TestDatesHoldUnderAStrain(t *testing.T) {
	for _, test := range []struct {
		name                string
		since               calendar.Day
		size                int          // working days, one less to one more
		grows               calendar.Day // until it is whole; 0: it is from the first day
		lastYear            bool
		each                bool // later by other days for each parcel, the size being their mean
		least, most, chance float64
	}{
		{"none", 0, 0, 0, false, false, 0.88, 0.95, 0},
		{"small, nine days", 9, 2, 0, false, false, 0.82, 0.95, 0},
		{"large, nine days", 9, 4, 0, false, false, 0.82, 0.95, 0},
		{"small, a fortnight", 14, 2, 0, false, false, 0.87, 0.975, 0.8},
		{"large, a fortnight", 14, 4, 0, false, false, 0.87, 0.975, 0.9},
		{"large, three weeks", 21, 4, 0, false, false, 0.87, 0.975, 0.9},
		{"other days for each, a fortnight", 14, 4, 0, false, true, 0.79, 0.975, 0.7},
		{"other days for each, three weeks", 21, 4, 0, false, true, 0.86, 0.975, 0.9},
		{"large, two days, and so it was last year", 2, 4, 0, true, false, 0.7, 0.97, 0.3},
		{"growing for three weeks, and so it did last year", 21, 5, 21, true, false, 0.85, 0.975, 0.9},
		{"growing for a fortnight, and so it did last year", 14, 4, 14, true, false, 0.85, 0.975, 0.8},
		{"growing for five weeks", 35, 12, 35, false, false, 0.68, 0.975, 0.9},
		{"growing for eight weeks", 56, 10, 56, false, false, 0.72, 0.975, 0.9},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			held, chance := strainedThatHeld(t, test.since, test.size, test.grows, test.lastYear, test.each)
			t.Logf("%.1f %% held, a strain was likely by %.2f", 100*held, chance)
			require.GreaterOrEqual(t, held, test.least)
			require.LessOrEqual(t, held, test.most)
			require.GreaterOrEqual(t, chance, test.chance)
		})
	}
}

// geometric is a number of days with a mean.
func geometric(r *rand.Rand, mean int) (days int) {
	for r.IntN(mean+1) > 0 {
		days++
	}
	return days
}

func strainedThatHeld(t *testing.T, since calendar.Day, size int, grows calendar.Day, lastYear, each bool) (held, chance float64) {
	const shops, ownSuppliers, parcels, quoted = 40, 5, 10, 3
	r := rand.New(rand.NewPCG(3, uint64(since)))
	strained := func(ordered calendar.Day) int {
		began := today - since
		if lastYear && ordered < today-364+14 {
			began -= 364
		}
		if since == 0 || ordered < began || ordered >= today-364+14 && ordered < today-since {
			return 0
		}
		whole := size
		if grows > 0 {
			whole = size * int(min(grows, ordered-began)) / int(grows)
		}
		if each {
			return geometric(r, whole)
		}
		return max(0, whole-1+r.IntN(3))
	}
	for range shops {
		habits := make([]habit, ownSuppliers)
		for i := range habits {
			habits[i] = populations[0].draw(r)
		}
		learned := leadtime.Learn(booked(r, habits, strained))
		for i, h := range habits {
			forecast := learned.Forecast(order(fmt.Sprint("s", i), quoted))
			chance += forecast.Strain.Chance / (shops * ownSuppliers)
			days, ok := forecast.Within(0.9)
			for range parcels {
				if ok && quoted+h.daysLate(r)+strained(today) <= days {
					held += 1.0 / (shops * ownSuppliers * parcels)
				}
			}
		}
	}
	return held, chance
}

// What is overdue while all suppliers are late comes by the day that is then named, 85 to 98 times in 100.
func TestOverdueDatesHoldUnderAStrain(t *testing.T) {
	from := func(since calendar.Day, days func(r *rand.Rand, in calendar.Day) int) func(*rand.Rand, calendar.Day) int {
		return func(r *rand.Rand, ordered calendar.Day) int {
			if in := ordered - (today - since); in >= 0 {
				return days(r, in)
			}
			return 0
		}
	}
	for _, test := range []struct {
		name string
		late func(r *rand.Rand, ordered calendar.Day) int
	}{
		{"four days later", from(16, func(r *rand.Rand, _ calendar.Day) int { return 3 + r.IntN(3) })},
		{"other days for each", from(16, func(r *rand.Rand, _ calendar.Day) int { return geometric(r, 4) })},
		{"growing for eight weeks", from(56, func(r *rand.Rand, in calendar.Day) int { return max(0, int(10*in/56)-1+r.IntN(3)) })},
		{"other days for each, growing for three weeks", from(21, func(r *rand.Rand, in calendar.Day) int { return geometric(r, int(10*in/21)) })},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(31, 31))
			strained := func(ordered calendar.Day) int { return test.late(r, ordered) }
			held, all := 0, 0
			for range 60 {
				habits := make([]habit, 5)
				for i := range habits {
					habits[i] = populations[0].draw(r)
				}
				receipts, open, take := bookedWithTruth(r, habits, strained)
				learned := leadtime.Learn(receipts, open, today)
				for i, o := range open {
					if o.DaysOverdue() <= 0 {
						continue
					}
					all++
					days, ok := learned.Forecast(leadtime.Order{Supplier: o.Supplier, Quoted: o.Quoted, Signal: o.Signal}).StillWaiting(o.Waited - 1).Within(0.9)
					if ok && take[i] <= days {
						held++
					}
				}
			}
			t.Logf("%d of %d held", held, all)
			require.GreaterOrEqual(t, held, all*85/100)
			require.LessOrEqual(t, held, all*98/100)
		})
	}
}

func TestStrainInWords(t *testing.T) {
	strain := leadtime.Strain{Chance: 0.9, DaysLate: 3, Suppliers: 4, Parcels: 6, Late: 5, LastYear: true}
	require.Equal(t, "All suppliers are late just now, by about 3 working days: of 6 parcels due in the last fortnight "+
		"from 4 suppliers 5 were late. It was so in these weeks last year.", strain.Words())
}

func TestStrainIsTold(t *testing.T) {
	told := func(size int) *leadtime.Strain {
		r := rand.New(rand.NewPCG(8, 8))
		habits := make([]habit, 5)
		for i := range habits {
			habits[i] = populations[0].draw(r)
		}
		return leadtime.Learn(booked(r, habits, func(ordered calendar.Day) int {
			if ordered < today-21 {
				return 0
			}
			return size
		})).Strain()
	}
	require.Contains(t, told(4).Words(), "All suppliers are late just now, by about 4 working days")
	require.Nil(t, told(0))
}

// Three lines of a parcel that is late are one late parcel, whether or not it has come.
func TestLinesOfALateParcelAreOneTrace(t *testing.T) {
	receipts := slices.Concat(runOf("Ashdown", 0, 0, 0, 0), runOf("Birch", 0, 0, 0, 0))
	quoted := 2
	came := leadtime.Receipt{Supplier: "Ashdown", Ordered: today - 9, Arrived: today - 1, Quoted: &quoted, Took: 6, Signal: leadtime.InStock}
	out := leadtime.Outstanding{Supplier: "Birch", Ordered: today - 7, Quoted: &quoted, Waited: 5, Signal: leadtime.InStock}
	once := leadtime.Learn(append(receipts, came), []leadtime.Outstanding{out}, today).Forecast(order("Birch", 2)).Strain
	thrice := leadtime.Learn(append(receipts, came, came, came), []leadtime.Outstanding{out, out, out}, today).Forecast(order("Birch", 2)).Strain
	require.Equal(t, once, thrice)
	require.Equal(t, 2, once.Parcels)
}

// One supplier that is late is not all of them.
func TestOneLateSupplierIsNoStrain(t *testing.T) {
	receipts := runOf("Ashdown", 0, 0, 0, 0, 0, 0, 4, 4, 4)
	for i := range receipts[6:] {
		receipts[6+i].Ordered = today - 10 + calendar.Day(i)
		receipts[6+i].Arrived = receipts[6+i].Ordered + 8
	}
	receipts = append(receipts, shifted(runOf("Birch", 0, 0, 0, 0), 40)...)
	learned := leadtime.Learn(receipts, nil, today)
	require.Less(t, learned.Forecast(order("Birch", 2)).Strain.Chance, 0.3)
}
