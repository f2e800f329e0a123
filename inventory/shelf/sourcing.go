package shelf

import (
	"fmt"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// bought is what the lead time of a part for the shelf depends on.
type bought struct {
	supplier int64
	signal   inventory.Signal
}

// sourcing knows how parts are bought. Parts of one supplier and signal share their lead time.
type sourcing struct {
	d     *inventory.Deliveries
	leads map[bought]*reorder.LeadTime
}

// cheapest is how a part is bought from whoever asks least for a piece, of those from whom anything is to be expected.
func (s sourcing) cheapest(offers []inventory.Offer) (best reorder.Item, found bool) {
	for _, o := range offers {
		home, err := s.d.InHomeMoney(o)
		if err != nil || o.Gone {
			continue // no rate for its currency, or no longer sold
		}
		if _, shut := shutFor(s.d, o.SupplierID); shut {
			continue
		}
		key := bought{o.SupplierID, o.Stock}
		lead, known := s.leads[key]
		if !known {
			lead = reorder.LeadTimeOf(s.d.Restocking(o.SupplierID, o.Stock).OnDay)
			s.leads[key] = lead
		}
		pieces := o.MinimumPacks * o.Pack
		each := home.Cost(o.MinimumPacks).Div(decimal.NewFromInt(int64(pieces))).InexactFloat64()
		if lead != nil && each > 0 && (!found || each < best.Price) {
			best, found = reorder.Item{Price: each, Pack: o.Pack, Minimum: pieces, Supplier: int(o.SupplierID), Lead: lead}, true
			for _, b := range home.Breaks {
				if price := b.Price.Div(decimal.NewFromInt(int64(o.Pack))).InexactFloat64(); b.FromPacks > o.MinimumPacks && price < each {
					best.Breaks = append(best.Breaks, reorder.Break{From: b.FromPacks * o.Pack, Price: price})
				}
			}
		}
	}
	return best, found
}

// A supplier that is shut so long from so soon on is none for the shelf: what its parcels took says nothing of when the
// next comes.
const (
	shutSoon = 14 // days from now
	shutLong = 28
)

// shutFor reports whether a supplier's door stays shut beyond what a shelf can wait for, and from when it opens again.
func shutFor(d *inventory.Deliveries, supplierID int64) (opens calendar.Day, shut bool) {
	for _, c := range d.Supplier(supplierID).Closures {
		if c.First <= d.Today+shutSoon && c.Last >= d.Today+shutLong {
			return c.Last + 1, true
		}
	}
	return 0, false
}

// untold says why nothing can be advised of a part that nobody offers as the shelf needs it.
func (s *Advice) untold(offers []inventory.Offer) string {
	for _, o := range offers {
		if opens, shut := shutFor(s.deliveries, o.SupplierID); shut && !o.Gone {
			return fmt.Sprintf("%s is shut until %s, and nobody else offers it at a price that can be compared: what to keep of it cannot be told.",
				s.deliveries.Supplier(o.SupplierID).Name, (opens - 1).Words(s.today()))
		}
	}
	return "Nobody offers it at a price that can be compared: what to keep of it cannot be told."
}
