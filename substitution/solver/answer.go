package solver

import (
	"stead/substitution"
)

// Answer is what Solve found.
type Answer struct {
	// Front are the options of which no other is at least as good in cost, day and deviation and better in one, the
	// cheapest first. Where several choices come to the same three figures, one stands for them, the same every time.
	Front []Option
	Picks Picks

	Proven bool // Front is complete and each of its options is optimal; false only where the context ended the search
	// Bound is honest whether proven or not: no set of parts that keeps all wishes costs less than this.
	Bound   int64
	Nodes   int64    // partial choices looked at: a measure of the work
	Refusal *Refusal // where nothing fits: why, and the ways out
}

// Picks name options of the front by their index, or -1 where the front is empty.
type Picks struct {
	Soonest  int // the earliest day; of those the cheapest
	Cheapest int // the lowest cost
	Closest  int // the least deviation; of those the cheapest
	// Balanced is the option whose greatest regret is least. The regret in cost, day or deviation is how far the option
	// lies from the front's best towards the front's worst, from nought to one. Of equals, the least sum of regrets,
	// then the cheapest.
	Balanced int
}

// Option is one way to do the whole job.
type Option struct {
	Cost      int64 // carriage included
	Day       int   // the day on which everything is here
	Deviation int64 // the weights of what is different, summed up

	Chosen     []Chosen    // for each need in its order, then for each thing that is brought
	Purchases  []Purchase  // for each offer used
	Carriage   []Carriage  // for each supplier used
	Deviations []Deviation // what is different, function before finish
	Verdict    substitution.Verdict
}

// Chosen is the part and source that meet a need.
type Chosen struct {
	Need    string // a need's ID; for what is brought, what it is in words
	Part    int    // index into Problem.Parts
	Offer   int    // index into the part's offers
	Pieces  int    // in all
	Shelf   Lot    // what comes off the shelf first, so that Offer, a supplier's, meets only the rest; of no offer: nothing
	Brought bool
}

// Lot is so many pieces of an offer of the part that is chosen.
type Lot struct {
	Offer  int // index into the part's offers
	Pieces int
}

// Lots are what is taken of each offer, what comes off the shelf first.
func (c Chosen) Lots() []Lot {
	if c.Shelf == (Lot{}) {
		return []Lot{{c.Offer, c.Pieces}}
	}
	return []Lot{c.Shelf, {c.Offer, c.Pieces - c.Shelf.Pieces}}
}

// Purchase is what is bought from one offer, for all the needs that share it.
type Purchase struct {
	Part     int // index into Problem.Parts
	Offer    int // index into the part's offers
	Supplier int // index into Problem.Suppliers; supply.Shelf: taken from the shelf
	Pieces   int // wanted
	Packs    int // bought: whole packs, the fewest or more where a price break makes more cheaper
	Cost     int64
	Day      int
}

// Carriage is what a supplier's delivery comes to.
type Carriage struct {
	Supplier int   // index into Problem.Suppliers
	Goods    int64 // what the goods cost
	Cost     int64 // carriage; zero where the goods reach the carriage-paid level
}

// Deviation is a difference from what was there that still fits.
type Deviation struct {
	substitution.Finding
	Weight int64
}
