package leadtime_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

func TestNoReceiptsAtAll(t *testing.T) {
	forecast := leadtime.Learn(nil, nil, today).Forecast(order("Ashdown", 2))
	require.InDelta(t, 0.75, forecast.By(2), 1e-12)
	require.Zero(t, forecast.By(1))
	days, ok := forecast.Within(0.9)
	require.True(t, ok)
	require.Equal(t, 4, days)
	require.Equal(t, []string{
		"Quoted 2 working days, in stock.",
		"Nothing has come from them yet.",
		"The forecast rests 100 % on the assumption that 25 orders in 100 come late, by 2 working days on average.",
	}, forecast.Words(today))
}

func TestNoQuoteEither(t *testing.T) {
	forecast := leadtime.Learn(nil, nil, today).Forecast(leadtime.Order{Supplier: "Ashdown", Signal: leadtime.ToOrder})
	require.Equal(t, "No lead time given, to order: 10 working days assumed.", forecast.Words(today)[0])
	days, ok := forecast.Within(0.9)
	require.True(t, ok)
	require.Equal(t, 18, days) // half late, by 5 days on average: 0.5 x 0.8^8 < 0.1
}

func TestOwnReceiptsTakeOver(t *testing.T) {
	receipts := slices.Concat(runOf("Ashdown", 0, 0, 1, 0, 0, 1), runOf("Birch", 6, 7, 6), runOf("Cole", 0, 0))
	learned := leadtime.Learn(receipts, nil, today)
	few := learned.Forecast(order("Cole", 2))
	bad := learned.Forecast(order("Birch", 2))
	good := learned.Forecast(order("Ashdown", 2))
	unknown := learned.Forecast(order("Dale", 2))
	require.Greater(t, good.OwnShare, few.OwnShare)
	require.Zero(t, unknown.OwnShare)
	require.Equal(t, 3, unknown.OtherSuppliers)
	for _, f := range []leadtime.Forecast{few, bad, good, unknown} {
		require.InDelta(t, 1, f.OwnShare+f.OthersShare+f.AssumedShare, 1e-12)
	}
	require.Greater(t, good.By(3), few.By(3))
	require.Greater(t, unknown.By(3), bad.By(3))
	require.Equal(t, "Of 6 receipts from them, 4 came by the day quoted.", good.Words(today)[1])
}

func TestMemoryFades(t *testing.T) {
	old, fresh := runOf("Ashdown", 4, 4, 4), runOf("Ashdown", 0, 0, 0)
	for i := range old {
		old[i].Ordered -= 3 * 365
		old[i].Arrived -= 3 * 365
	}
	now := leadtime.Learn(append(old, fresh...), nil, today).Forecast(order("Ashdown", 2))
	reversed := leadtime.Learn(append(runOf("Ashdown", 4, 4, 4), shifted(fresh, -3*365)...), nil, today).Forecast(order("Ashdown", 2))
	require.Greater(t, now.By(2), reversed.By(2)+0.1)
}

func shifted(receipts []leadtime.Receipt, days calendar.Day) []leadtime.Receipt {
	moved := slices.Clone(receipts)
	for i := range moved {
		moved[i].Ordered += days
		moved[i].Arrived += days
	}
	return moved
}

func TestStockSignalMatters(t *testing.T) {
	late := runOf("Ashdown", 8, 9, 8)
	for i := range late {
		late[i].Signal = leadtime.ToOrder
	}
	learned := leadtime.Learn(append(late, runOf("Ashdown", 0, 0, 0)...), nil, today)
	quoted := 2
	chance := map[leadtime.Signal]float64{}
	for _, signal := range []leadtime.Signal{leadtime.InStock, leadtime.Low, leadtime.Unknown, leadtime.ToOrder} {
		chance[signal] = learned.Forecast(leadtime.Order{Supplier: "Ashdown", Quoted: &quoted, Signal: signal}).By(2)
	}
	require.Greater(t, chance[leadtime.InStock], chance[leadtime.Low])
	require.Greater(t, chance[leadtime.Low], chance[leadtime.ToOrder])
	require.Greater(t, chance[leadtime.Unknown], chance[leadtime.ToOrder])
}

// Receipts quoted two days speak in full for an order quoted three, by half for one
// quoted eight, by a quarter for one quoted thirty.
func TestLikeQuotesMatter(t *testing.T) {
	learned := leadtime.Learn(runOf("Ashdown", 0, 0, 0, 0), nil, today)
	votes := func(quoted int) float64 { // own share is n/(n+a), with a = 4 for a single supplier
		share := learned.Forecast(order("Ashdown", quoted)).OwnShare
		return 4 * share / (1 - share)
	}
	const chanceOfChange = 0.02 // that only some of the four count
	require.InDelta(t, votes(2), votes(3), chanceOfChange)
	require.InDelta(t, votes(2)/2, votes(8), chanceOfChange)
	require.InDelta(t, votes(2)/2, votes(0), chanceOfChange)
	require.InDelta(t, votes(2)/4, votes(30), chanceOfChange)
	require.Less(t, votes(2), 4.0) // for they are some weeks old
	require.Greater(t, votes(2), 3.0)
}

func TestLinesOfOneParcelCountOnce(t *testing.T) {
	once := runOf("Ashdown", 0, 3, 0)
	many := slices.Concat(once, once, once)
	require.Equal(t,
		leadtime.Learn(once, nil, today).Forecast(order("Ashdown", 2)),
		leadtime.Learn(many, nil, today).Forecast(order("Ashdown", 2)))
}

func TestReceiptsToComeAreNotKnown(t *testing.T) {
	receipts := runOf("Ashdown", 0, 0)
	receipts[1].Arrived = today + 1
	require.Equal(t, 1, leadtime.Learn(receipts, nil, today).Forecast(order("Ashdown", 2)).OwnReceipts)
}

func TestOverdueOrdersAreBadNews(t *testing.T) {
	receipts := runOf("Ashdown", 0, 0, 0, 0)
	quoted := 2
	out := leadtime.Outstanding{Supplier: "Ashdown", Ordered: today - 20, Quoted: &quoted, Waited: 14, Signal: leadtime.InStock}
	onTime := out
	onTime.Waited = 2 // not yet overdue: no news
	good := leadtime.Learn(receipts, nil, today).Forecast(order("Ashdown", 2))
	same := leadtime.Learn(receipts, []leadtime.Outstanding{onTime}, today).Forecast(order("Ashdown", 2))
	bad := leadtime.Learn(receipts, []leadtime.Outstanding{out}, today).Forecast(order("Ashdown", 2))
	require.Equal(t, good, same)
	require.Less(t, bad.By(14), good.By(14))
	require.Contains(t, bad.Words(today), "1 order is overdue now, the longest by 12 working days.")
	// A supplier of whom nothing is known but an overdue order is forecast too.
	require.Less(t,
		leadtime.Learn(nil, []leadtime.Outstanding{out}, today).Forecast(order("Ashdown", 2)).By(4),
		leadtime.Learn(nil, nil, today).Forecast(order("Ashdown", 2)).By(4))
}

func TestWordsInFull(t *testing.T) {
	receipts := slices.Concat(runOf("Ashdown", 0, 0, 0, 0, 0, 0, 25, 3, 3, 4, 3, 3), runOf("Birch", 0, 1, 0))
	words := leadtime.Learn(receipts, nil, today).Forecast(order("Ashdown", 2)).Words(today)
	require.Equal(t, []string{
		"Quoted 2 working days, in stock.",
		"Of 12 receipts from them, 6 came by the day quoted.",
		"The forecast rests 53 % on its own orders, 12 % on 1 other supplier, 35 % on the assumption that 25 orders in 100 come late, by 2 working days on average.",
		"6 of the 6 receipts since August were 3 working days late or more; before, on time was usual.",
		"One came 25 working days late (ordered Monday 17 August): counted as one, it moves only the least likely dates.",
	}, words)
}

func TestNewReceipt(t *testing.T) {
	route := calendar.Route{Supplier: calendar.Weekdays(), Workshop: calendar.Weekdays()}
	friday := calendar.Date(2026, time.November, 20)
	quoted, negative := 3, -1
	r, err := leadtime.NewReceipt("Ashdown", route, friday, friday+5, &quoted, leadtime.Low)
	require.NoError(t, err)
	require.Equal(t, 3, r.Took) // Monday, Tuesday, Wednesday
	require.Zero(t, r.DaysLate())
	r, err = leadtime.NewReceipt("Ashdown", route, friday, friday+5, nil, leadtime.InStock)
	require.NoError(t, err)
	require.Equal(t, 1, r.DaysLate()) // against two days assumed

	_, err = leadtime.NewReceipt("Ashdown", route, friday, friday-1, &quoted, leadtime.Low)
	require.EqualError(t, err, "receipt from Ashdown: it arrived on 2026-11-19, before its order of 2026-11-20: correct one of the dates")
	_, err = leadtime.NewReceipt("Ashdown", route, friday, friday, &negative, leadtime.Low)
	require.ErrorContains(t, err, "-1 working days is negative")
	_, err = leadtime.NewReceipt("Ashdown", route, friday, friday, &quoted, "plenty")
	require.ErrorContains(t, err, `stock signal "plenty"`)
}

func TestDistribution(t *testing.T) {
	d := leadtime.Distribution{OnDay: []float64{0.1, 0.3, 0.3, 0.2}, Beyond: 0.1}
	for n, want := range map[int]float64{-1: 0, 0: 0.1, 1: 0.4, 3: 0.9, 9: 0.9} {
		require.InDelta(t, want, d.By(n), 1e-12)
	}
	days, ok := d.Within(0.9)
	require.True(t, ok)
	require.Equal(t, 3, days)
	_, ok = d.Within(0.91)
	require.False(t, ok)

	waiting := d.StillWaiting(1)
	require.InDeltaSlice(t, []float64{0, 0, 0.5, 1.0 / 3}, waiting.OnDay, 1e-12)
	require.InDelta(t, 1.0/6, waiting.Beyond, 1e-12)
	require.InDelta(t, 1, d.StillWaiting(3).Beyond, 1e-12)
	require.Equal(t, 1.0, leadtime.Distribution{OnDay: []float64{1}}.StillWaiting(0).Beyond)

	// Two days at most are waited: 3 in 10 are ordered again on the third.
	again := d.OrderedAgain(2)
	require.InDeltaSlice(t, []float64{0.1, 0.3, 0.3, 0.03, 0.09, 0.09, 0.009}, again.OnDay[:7], 1e-12)
	require.Less(t, again.Beyond, 1e-12)

	mean, variance := leadtime.Distribution{OnDay: []float64{0, 0.5, 0, 0.5}}.MeanAndVariance()
	require.InDelta(t, 2, mean, 1e-12)
	require.InDelta(t, 1, variance, 1e-12)
	mean, _ = d.MeanAndVariance()
	require.InDelta(t, 0.3+0.6+0.6+0.4, mean, 1e-12) // beyond counts as day 4
}

func TestForecastIsADistribution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		learned := leadtime.Learn(someReceipts(t), nil, today)
		forecast := learned.Forecast(someOrder(t))
		sum := forecast.Beyond
		for _, chance := range forecast.OnDay {
			require.GreaterOrEqual(t, chance, 0.0)
			sum += chance
		}
		require.InDelta(t, 1, sum, 1e-9)
		require.Positive(t, forecast.Beyond, "no forecast may be certain")

		waited := rapid.IntRange(0, 20).Draw(t, "waited")
		waiting := forecast.StillWaiting(waited)
		require.Zero(t, waiting.By(waited))
		require.InDelta(t, 1, waiting.By(len(waiting.OnDay))+waiting.Beyond, 1e-9)
		// Where nothing but the days gone by is ruled out, no later day becomes likelier by waiting.
		require.LessOrEqual(t, forecast.Distribution.StillWaiting(waited).By(waited+5), forecast.By(waited+5)+1e-9)
	})
}

func TestOrderOfReceiptsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		receipts := someReceipts(t)
		for i := range receipts { // distinct days, or order within a day would be by chance
			receipts[i].Ordered -= calendar.Day(100 * i)
			receipts[i].Arrived -= calendar.Day(100 * i)
		}
		shuffled := rapid.Permutation(receipts).Draw(t, "shuffled")
		asked := someOrder(t)
		a := leadtime.Learn(receipts, nil, today).Forecast(asked)
		b := leadtime.Learn(shuffled, nil, today).Forecast(asked)
		require.InDeltaSlice(t, a.OnDay, b.OnDay, 1e-12)
	})
}

var suppliers = []string{"Ashdown", "Birch", "Cole", "Dale"}
var signals = []leadtime.Signal{leadtime.InStock, leadtime.Low, leadtime.ToOrder, leadtime.Unknown}

func someQuote(t *rapid.T) *int {
	if rapid.IntRange(0, 4).Draw(t, "no quote") == 0 {
		return nil
	}
	quoted := rapid.IntRange(0, 30).Draw(t, "quoted")
	return &quoted
}

func someOrder(t *rapid.T) leadtime.Order {
	return leadtime.Order{
		Supplier: rapid.SampledFrom(suppliers).Draw(t, "supplier"),
		Quoted:   someQuote(t),
		Signal:   rapid.SampledFrom(signals).Draw(t, "signal"),
	}
}

func someReceipts(t *rapid.T) []leadtime.Receipt {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) leadtime.Receipt {
		took := rapid.IntRange(0, 400).Draw(t, "took")
		ordered := today - 600 + calendar.Day(rapid.IntRange(0, 190).Draw(t, "ordered"))
		return leadtime.Receipt{
			Supplier: rapid.SampledFrom(suppliers).Draw(t, "supplier"),
			Ordered:  ordered, Arrived: ordered + calendar.Day(took),
			Quoted: someQuote(t), Took: took,
			Signal: rapid.SampledFrom(signals).Draw(t, "signal"),
		}
	}), 0, 12).Draw(t, "receipts")
}
