package leadtime_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

// withBackOrders is a population of which some parcels wait for the maker: by five
// working days and more, with a Pareto tail whose exponent differs by supplier.
type backOrders struct {
	habit
	share, exponent float64
}

func (b backOrders) daysLate(r *rand.Rand) int {
	if r.Float64() < b.share {
		return int(5 * math.Pow(r.Float64(), -1/b.exponent))
	}
	return b.habit.daysLate(r)
}

func someBackOrders(r *rand.Rand) backOrders {
	h := populations[0].draw(r)
	h.disaster = 0
	return backOrders{habit: h, share: 0.01 + 0.05*r.Float64(), exponent: 1.4 + r.Float64()}
}

func receiptsWith(r *rand.Rand, supplier string, daysLate func(*rand.Rand) int, n int) []leadtime.Receipt {
	var receipts []leadtime.Receipt
	for len(receipts) < n {
		quoted := quotes[r.IntN(len(quotes))]
		took := max(0, quoted+daysLate(r))
		arrived := today - 1 - calendar.Day(r.IntN(365))
		receipts = append(receipts, leadtime.Receipt{
			Supplier: supplier, Ordered: arrived - calendar.Day(took*7/5), Arrived: arrived,
			Quoted: &quoted, Took: took, Signal: leadtime.InStock,
		})
	}
	return receipts
}

// A parcel that is overdue is promised anew each day, and of these dates 85 to 95
// in 100 must hold, whether it is a day late or six weeks, in a new shop and in one
// that knows its suppliers.
func TestOverdueDatesHold(t *testing.T) {
	for _, known := range []int{0, 8} {
		for _, own := range []int{0, 10} {
			for _, overdue := range []int{1, 5, 15, 30} {
				t.Run(fmt.Sprintf("%d other suppliers, %d receipts, %d days overdue", known, own, overdue), func(t *testing.T) {
					t.Parallel()
					held := overdueThatHeld(t, known, own, overdue)
					t.Logf("%.1f %% held", 100*held)
					require.InDelta(t, 0.9, held, 0.06)
				})
			}
		}
	}
}

// A maker sends what it owes in batches, and no wait is longer than from one to the next: what receipts show of that
// counts, however late a parcel is: of one that is six weeks late a day can be named, sooner than by a shop that has
// seen nothing.
func TestWaitsThatEndAreLearnt(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	batches := func(r *rand.Rand) int {
		if r.Float64() < 0.06 {
			return 2 + r.IntN(60)
		}
		return r.IntN(2)
	}
	var receipts []leadtime.Receipt
	for i := range 8 {
		receipts = append(receipts, receiptsWith(r, fmt.Sprint("neighbour ", i), batches, 20)...)
	}
	sixWeeksLate := func(receipts []leadtime.Receipt) int {
		days, ok := leadtime.Learn(receipts, nil, today).Forecast(order("Ashdown", 3)).StillWaiting(3 + 30).Within(0.9)
		require.True(t, ok)
		return days
	}
	require.Less(t, sixWeeksLate(receipts), sixWeeksLate(nil))
}

func overdueThatHeld(t *testing.T, known, own, overdue int) float64 {
	const shops, parcels, quoted = 100, 10, 3
	r := rand.New(rand.NewPCG(1, uint64(known*1000+own*100+overdue)))
	held := 0
	for range shops {
		var receipts []leadtime.Receipt
		for i := range known {
			receipts = append(receipts, receiptsWith(r, fmt.Sprint("neighbour ", i), someBackOrders(r).daysLate, 2+r.IntN(30))...)
		}
		s := someBackOrders(r)
		receipts = append(receipts, receiptsWith(r, "own", s.daysLate, own)...)
		days, ok := leadtime.Learn(receipts, nil, today).Forecast(order("own", quoted)).StillWaiting(quoted + overdue).Within(0.9)
		for range parcels {
			late := s.daysLate(r)
			for late <= overdue {
				late = s.daysLate(r)
			}
			if ok && quoted+late <= days {
				held++
			}
		}
	}
	return float64(held) / (shops * parcels)
}

// One back order of seven weeks is an ordinary thing: it must not change the dates
// of everything else of its supplier from one day to the next.
func TestADayMoreOfWaitingChangesLittle(t *testing.T) {
	quoted := 3
	for _, own := range []int{0, 10, 30} {
		receipts := runOf("Ashdown", make([]int, own)...)
		before, level := 0.0, 0.0
		for waited := 4; waited <= 200; waited++ {
			out := leadtime.Outstanding{Supplier: "Ashdown", Quoted: &quoted, Waited: waited, Signal: leadtime.InStock}
			forecast := leadtime.Learn(receipts, []leadtime.Outstanding{out}, today).Forecast(order("Ashdown", quoted))
			_, ok := forecast.Within(0.9)
			require.True(t, ok, "%d receipts, waited %d days", own, waited)
			mean, _ := forecast.OrderedAgain(quoted + 10).MeanAndVariance()
			if waited > 4 {
				require.InDelta(t, before, mean, 1, "%d receipts, waited %d days", own, waited)
			} else {
				level = mean
			}
			before = mean
		}
		require.InDelta(t, level, before, 3, "%d receipts", own)
	}
}

// From some day on nobody can tell any more, and the promise says whom to ask.
func TestAskThem(t *testing.T) {
	ordered := today - 364
	forecast := leadtime.Learn(nil, nil, today).Forecast(order("Ashdown", 3))
	shipment := leadtime.Shipment{Supplier: "Ashdown", OrderDay: ordered, Route: weekdays, Lead: forecast.StillWaiting(200)}
	_, err := leadtime.PromiseDay([]leadtime.Shipment{shipment}, 0.9, today)
	require.ErrorContains(t, err, "ask them")
}
