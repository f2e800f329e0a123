// Package supply says what can be bought and what it costs: packs of a part from a source, price breaks, carriage.
//
// It is what the solver of a job and the planner of orders have in common. Both take a caller's offers and suppliers as they
// stand in the caller's lists and answer with their indices, so that nobody has to find an offer again by what it cost.
//
// Amounts are whole numbers of one unit of money, the same throughout a problem; which unit is the caller's affair. The
// finer it is, the less a plan is decided by rounding: a ball out of a bag costs no whole penny.
package supply

import "fmt"

// Shelf is the source that is no supplier's: the shop's own shelf, which costs no carriage.
const Shelf = -1

// Offer is packs of one part at one source.
type Offer struct {
	Supplier int // index of a supplier, or Shelf
	Pack     int // pieces in a pack; only whole packs are sold
	Breaks   []Break
	// Tiers stand in place of Breaks where each piece costs the price of the tier that it lies in.
	Tiers []Tier
	Day   int // the day on which it is here; any numbering of days will do
	Most  int // pieces that this source has; zero: any number
}

// Break is a price that holds for every pack bought, from a number of packs on. Fewer packs than the first break's are not
// sold.
type Break struct {
	Packs int
	Price int64 // of a pack
}

// Tier is the price of the pieces from one number on, up to the next tier. In a list that begins at 0, From is a boundary:
// {0 at 8}, {1200 at 7} prices 1200 pieces at 8 and the next at 7. In a list that begins at 1 or more, From is the number of
// a piece: {1 at 8}, {1200 at 7} prices the 1200th piece at 7; pieces before the first From cost the first price.
type Tier struct {
	From  int
	Price int64 // of a piece
}

// Supplier charges carriage once if anything is bought from it.
type Supplier struct {
	Carriage     int64
	PaidAt       int64 // goods from which carriage is free; zero: never
	MinimumOrder int64 // goods below which it does not deliver; zero: none
}

// Buy is what a number of pieces from one offer takes.
type Buy struct {
	Packs int
	Cost  int64
}

// Money, pieces and days are bounded so that no sum of a problem can overflow.
const (
	MaxMoney  = int64(1e13)
	MaxPieces = 1_000_000
	MaxDay    = 10_000_000
)

// Check refuses an offer that means nothing, of so many suppliers.
func (o Offer) Check(suppliers int) error {
	if o.Supplier != Shelf && (o.Supplier < 0 || o.Supplier >= suppliers) {
		return fmt.Errorf("there is no supplier %d", o.Supplier)
	}
	if o.Pack < 1 || o.Pack > MaxPieces || o.Most < 0 {
		return fmt.Errorf("a pack of %d pieces with at most %d in all cannot be meant", o.Pack, o.Most)
	}
	if o.Day < -MaxDay || o.Day > MaxDay {
		return fmt.Errorf("day %d cannot be meant", o.Day)
	}
	if len(o.Breaks) == 0 {
		return fmt.Errorf("there is no price")
	}
	for i, b := range o.Breaks {
		if b.Packs < 1 || b.Packs > MaxPieces || i > 0 && b.Packs <= o.Breaks[i-1].Packs {
			return fmt.Errorf("price breaks are out of order")
		}
		if b.Price < 0 || b.Price > MaxMoney {
			return fmt.Errorf("a price of %d cannot be meant", b.Price)
		}
	}
	return nil
}

// Cost is what so many packs cost, all at the price of the highest break reached, or each piece at that of its tier. It
// reports false for fewer packs than are sold, and for none.
func (o Offer) Cost(packs int) (int64, bool) {
	if len(o.Tiers) > 0 {
		return o.tiered(packs * o.Pack)
	}
	if packs < 1 || packs < o.Breaks[0].Packs {
		return 0, false
	}
	price := o.Breaks[0].Price
	for _, b := range o.Breaks[1:] {
		if packs >= b.Packs {
			price = b.Price
		}
	}
	return int64(packs) * price, true
}

func (o Offer) tiered(pieces int) (cost int64, sold bool) {
	if pieces < 1 || pieces < o.Tiers[0].From {
		return 0, false
	}
	from := 0
	for i, t := range o.Tiers {
		upTo := pieces
		if i+1 < len(o.Tiers) {
			upTo = min(pieces, o.Tiers[i+1].From)
			if o.Tiers[0].From > 0 {
				upTo = min(pieces, o.Tiers[i+1].From-1)
			}
		}
		cost += int64(upTo-from) * t.Price
		from = upTo
	}
	return cost, true
}

// Cover is the cheapest way to have at least so many pieces of an offer with breaks, in whole packs: the fewest packs, or
// more where a price break makes more cheaper. It reports false where the source has not so many.
func (o Offer) Cover(pieces int) (Buy, bool) {
	least := (pieces + o.Pack - 1) / o.Pack
	if o.Most > 0 && pieces > o.Most {
		return Buy{}, false
	}
	// The last pack of a shelf may be an opened one: what is needed can be had, even if it is no whole pack.
	most := max(least, o.Most/o.Pack)
	if o.Most == 0 {
		most = MaxPieces
	}
	best, found := Buy{}, false
	for i, b := range o.Breaks {
		packs := max(least, b.Packs)
		if packs > most || i+1 < len(o.Breaks) && packs >= o.Breaks[i+1].Packs {
			continue
		}
		if buy := (Buy{packs, int64(packs) * b.Price}); !found || buy.Cost < best.Cost {
			best, found = buy, true
		}
	}
	return best, found
}

// Falls reports whether the price of an offer's packs never rises with their number.
func (o Offer) Falls() bool {
	for i := 1; i < len(o.Breaks); i++ {
		if o.Breaks[i].Price > o.Breaks[i-1].Price {
			return false
		}
	}
	return true
}

// Charge is what a supplier charges for goods of a value.
func (s Supplier) Charge(goods int64) int64 {
	if s.PaidAt > 0 && goods >= s.PaidAt {
		return 0
	}
	return s.Carriage
}
