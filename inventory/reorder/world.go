package reorder

import (
	"cmp"
	"math/rand/v2"
)

// World is what is played.
type World struct {
	Items       []Item
	Takes       func(r *rand.Rand, supplier int) int // how many working days an order takes
	Start, End  int                                  // the first working day played, and the first no longer played
	LookEvery   int                                  // working days from one look at the shelf to the next
	AdviseEvery int                                  // working days from one advice to the next
	LineCost    float64
	Holding     float64 // a year, for each pound of stock
	Carriage    float64 // what a parcel costs
	Missed      float64 // what a sale costs that is not met whole
	Seed        uint64
	// What the whole shelf is weighed by beside that, where books are played: the day on which they begin, and what
	// [Terms] say of the season and of how long stock may lie.
	Begin     int
	Season    *Season
	Given     bool
	MostYears float64 // 0: a year
}

// Books is what a rule knows in the evening before day Now.
type Books struct {
	*World
	Now int
}

// Known are the sales of an item up to the day.
func (b Books) Known(item int) []Sale {
	sales := b.Items[item].Sales
	return sales[:countBefore(sales, b.Now)]
}

// known are the items with the sales that the books have.
func (b Books) known() []Item {
	items := make([]Item, len(b.Items))
	for i := range items {
		items[i] = b.Items[i]
		items[i].Sales = b.Known(i)
	}
	return items
}

// Rule says what to keep of every item, by the books.
type Rule func(Books) []Keep

// takes is how long an order of a day takes: the same for whatever rule places it, for all that is in the parcel.
func (w *World) takes(supplier, day int) int {
	r := rand.New(rand.NewPCG(w.Seed, uint64(supplier)<<32|uint64(uint32(day))))
	return w.Takes(r, supplier)
}

// Weigh weighs the whole shelf by the books.
func (b Books) Weigh() *Shelf {
	return Weigh(b.known(), b.Begin, b.Now, Terms{LookEvery: b.LookEvery, AdviseEvery: b.AdviseEvery, LineCost: b.LineCost, Holding: b.Holding,
		MostYears: cmp.Or(b.MostYears, 1), Season: b.Season, Given: b.Given})
}
