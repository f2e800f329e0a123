package reorder

import (
	"cmp"
	"math/rand/v2"
)

// World is what is played.
type World struct {
	Items       []Item
	Takes       func(r *rand.Rand, item *Item) int // how many working days an order takes
	Start, End  int                                // the first working day played, and the first no longer played
	LookEvery   int                                // working days from one look at the shelf to the next
	AdviseEvery int                                // working days from one advice to the next
	LineCost    float64
	Holding     float64          // a year, for each pound of stock
	Carriage    map[int]Carriage // by supplier, what a parcel costs; nothing where none is named
	Missed      float64          // what a sale costs that is not met whole
	Seed        uint64
	// What the whole shelf is weighed by beside that, where books are played: the day on which they begin, and what
	// [Terms] say of the season and of how long stock may lie.
	Begin     int
	Season    *Season
	Given     bool
	MostYears float64 // 0: a year
}

// Carriage is what a supplier asks for a parcel, in pounds.
type Carriage struct {
	Each   float64
	PaidAt float64 // goods from which it is free; 0: never
}

// of is the carriage of a parcel with goods worth so much.
func (c Carriage) of(goods float64) float64 {
	if c.PaidAt > 0 && goods >= c.PaidAt {
		return 0
	}
	return c.Each
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

// takes is how long an order of a day takes: the same for whatever rule places it, for all that is in the parcel and comes by
// the same lead time.
func (w *World) takes(item *Item, day int) int {
	r := rand.New(rand.NewPCG(w.Seed, uint64(item.Supplier)<<32|uint64(uint32(day))))
	return w.Takes(r, item)
}

// Weigh weighs the whole shelf by the books.
func (b Books) Weigh() *Shelf {
	return Weigh(b.known(), b.Begin, b.Now, Terms{LookEvery: b.LookEvery, AdviseEvery: b.AdviseEvery, LineCost: b.LineCost, Holding: b.Holding,
		MostYears: cmp.Or(b.MostYears, 1), Season: b.Season, Given: b.Given})
}
