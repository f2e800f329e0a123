package shelf

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
	"stead/inventory/reorder"
)

// Simulation says how sales from a file, or made up, are played.
type Simulation struct {
	HistoryWeeks int // known at the start; 0: half of all
	LookEvery    int // working days from one look at the shelf to the next
	AdviseWeeks  int // weeks for which levels stand
	Suppliers    int // among which the parts are dealt out
	Receipts     int // past receipts known of each
	Delivery     reorder.Delivery
	LineCost     float64 // pounds
	Holding      float64 // a year, for each pound of stock
	Missed       float64 // pounds a sale not met whole
	Carriage     float64 // pounds a parcel
	OwnCarriage  bool    // where books are played: what each supplier asks, and from what goods on it asks nothing, in place of that
	Price        float64 // pounds a piece, for parts without one; the middle of the prices drawn
	PriceSpread  float64 // of the logarithm of prices drawn; 0: all alike
	Seed         uint64
}

// UsualSimulation is a start: common practice, no source.
var UsualSimulation = Simulation{LookEvery: 1, AdviseWeeks: 4, Suppliers: 4, Receipts: 12,
	Delivery: reorder.Delivery{Quoted: 3, Late: 0.25, MeanLate: 2, VeryLate: 0.02},
	LineCost: 1.50, Holding: 0.25, Missed: 6, Carriage: 4.95, Price: 8, PriceSpread: 1, Seed: 1}

// World is the sales with suppliers, prices and days to be played.
func (s Simulation) World(items []reorder.Item) (*reorder.World, error) {
	if err := s.Delivery.Check(); err != nil {
		return nil, err
	}
	if s.Suppliers < 1 || s.Suppliers > 100 || s.Receipts < 0 || s.Receipts > 1000 {
		return nil, fmt.Errorf("%d suppliers with %d receipts each are too few or too many: from 1 to 100, and no more than 1000", s.Suppliers, s.Receipts)
	}
	if !(s.Price > 0) || !(s.PriceSpread >= 0 && s.PriceSpread <= 5) {
		return nil, fmt.Errorf("prices about %v with a spread of %v cannot be drawn", s.Price, s.PriceSpread)
	}
	last := 0
	for i := range items {
		last = max(last, items[i].Sales[len(items[i].Sales)-1].Day)
	}
	weeks := last/5 + 1
	if s.HistoryWeeks == 0 {
		s.HistoryWeeks = weeks / 2
	}
	if s.HistoryWeeks < 1 || s.HistoryWeeks >= weeks {
		return nil, fmt.Errorf("of %d weeks of sales %d cannot be the history: leave some to be played", weeks, s.HistoryWeeks)
	}
	w := &reorder.World{Start: 5 * s.HistoryWeeks, End: 5 * weeks, LookEvery: s.LookEvery, AdviseEvery: 5 * s.AdviseWeeks,
		LineCost: s.LineCost, Holding: s.Holding, Missed: s.Missed, Carriage: map[int]reorder.Carriage{}, Seed: s.Seed,
		Takes: func(r *rand.Rand, _ *reorder.Item) int { return s.Delivery.Takes(r) }}
	for k := range s.Suppliers {
		w.Carriage[k] = reorder.Carriage{Each: s.Carriage}
	}
	leads := s.leads()
	r := rand.New(rand.NewPCG(s.Seed, 1))
	for _, item := range items {
		drawn := math.Round(100*s.Price*math.Exp(s.PriceSpread*r.NormFloat64())) / 100
		if item.Supplier = r.IntN(s.Suppliers); item.Price == 0 {
			item.Price = max(0.01, drawn)
		}
		item.Lead = leads[item.Supplier]
		w.Items = append(w.Items, item)
	}
	return w, nil
}

// leads are what is known of each supplier from its past receipts.
func (s Simulation) leads() []*reorder.LeadTime {
	r := rand.New(rand.NewPCG(s.Seed, 2))
	var receipts []leadtime.Receipt
	today := calendar.Day(0)
	for k := range s.Suppliers {
		for n := range s.Receipts {
			took, ordered := s.Delivery.Takes(r), calendar.Day(7*n)
			arrived := ordered + calendar.Day(took+2*((took+4)/5))
			today = max(today, arrived)
			receipts = append(receipts, leadtime.Receipt{Supplier: strconv.Itoa(k), Quoted: &s.Delivery.Quoted, Took: took,
				Ordered: ordered, Arrived: arrived, Signal: leadtime.InStock})
		}
	}
	learnt := leadtime.Learn(receipts, nil, today)
	leads := make([]*reorder.LeadTime, s.Suppliers)
	for k := range leads {
		f := learnt.Forecast(leadtime.Order{Supplier: strconv.Itoa(k), Quoted: &s.Delivery.Quoted, Signal: leadtime.InStock})
		leads[k] = reorder.LeadTimeOf(f.OnDay)
	}
	return leads
}
