package leadtime_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

// habit is the truth about one simulated supplier: what the forecasts never see.
type habit struct {
	late     float64 // chance of coming after the quote
	another  float64 // chance of yet another day, once late
	early    float64 // chance of coming a day before the quote
	disaster float64 // chance of two to eight weeks on top
}

// daysLate draws what happens to one shipment.
func (h habit) daysLate(r *rand.Rand) int {
	switch u := r.Float64(); {
	case u < h.disaster:
		return 10 + r.IntN(30)
	case u < h.late:
		days := 1
		for r.Float64() < h.another {
			days++
		}
		return days
	case u > 1-h.early:
		return -1
	}
	return 0
}

// population is where simulated suppliers come from.
type population struct {
	name string
	draw func(r *rand.Rand) habit
}

var populations = []population{
	{"varied", func(r *rand.Rand) habit {
		return habit{late: math.Pow(r.Float64(), 1.5), another: 0.2 + 0.6*r.Float64(), early: 0.1 * r.Float64(), disaster: 0.02}
	}},
	{"all alike", func(*rand.Rand) habit {
		return habit{late: 0.3, another: 0.6, disaster: 0.02}
	}},
	{"good or bad", func(r *rand.Rand) habit {
		if r.Float64() < 0.6 {
			return habit{late: 0.05, another: 0.3, disaster: 0.01}
		}
		return habit{late: 0.95, another: 0.8, disaster: 0.02}
	}},
}

const today = calendar.Day(20_782) // Wednesday 25 November 2026

var quotes = []int{1, 2, 3, 5}

// receiptsOf simulates n receipts from a supplier over the last year.
func receiptsOf(r *rand.Rand, supplier string, h habit, n int) []leadtime.Receipt {
	receipts := make([]leadtime.Receipt, n)
	for i := range receipts {
		quoted := quotes[r.IntN(len(quotes))]
		arrived := today - 1 - calendar.Day(r.IntN(365))
		took := max(0, quoted+h.daysLate(r))
		receipts[i] = leadtime.Receipt{
			Supplier: supplier, Ordered: arrived - calendar.Day(took), Arrived: arrived,
			Quoted: &quoted, Took: took, Signal: leadtime.InStock,
		}
	}
	return receipts
}

// neighbours are eight suppliers of the same population with 2 to 31 receipts each.
func neighbours(r *rand.Rand, p population) []leadtime.Receipt {
	var receipts []leadtime.Receipt
	for i := range 8 {
		receipts = append(receipts, receiptsOf(r, fmt.Sprint("neighbour ", i), p.draw(r), 2+r.IntN(30))...)
	}
	return receipts
}

// runOf makes receipts of one supplier, ten days apart, quoted two days, each so
// many days late; the last came just before today.
func runOf(supplier string, daysLate ...int) []leadtime.Receipt {
	quoted := 2
	receipts := make([]leadtime.Receipt, len(daysLate))
	for i, late := range daysLate {
		ordered := today - calendar.Day(10*(len(daysLate)-i)+40)
		receipts[i] = leadtime.Receipt{
			Supplier: supplier, Ordered: ordered, Arrived: ordered + calendar.Day(quoted+late),
			Quoted: &quoted, Took: quoted + late, Signal: leadtime.InStock,
		}
	}
	return receipts
}

// order is for a supplier's part in stock, quoted so many days.
func order(supplier string, quoted int) leadtime.Order {
	return leadtime.Order{Supplier: supplier, Quoted: &quoted, Signal: leadtime.InStock}
}

// A shop of eight years: 5,000 receipts.
func BenchmarkLearn(b *testing.B) {
	receipts := longHistory()
	for b.Loop() {
		leadtime.Learn(receipts, nil, today)
	}
}

func BenchmarkForecast(b *testing.B) {
	learned := leadtime.Learn(longHistory(), nil, today)
	asked := order("neighbour 0", 2)
	for b.Loop() {
		learned.Forecast(asked)
	}
}

func longHistory() []leadtime.Receipt {
	r := rand.New(rand.NewPCG(9, 9))
	var receipts []leadtime.Receipt
	for i := range 15 {
		receipts = append(receipts, receiptsOf(r, fmt.Sprint("neighbour ", i), populations[0].draw(r), 333)...)
	}
	return receipts
}
