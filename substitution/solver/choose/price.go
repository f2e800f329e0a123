package choose

// Buy is what covering a number of pieces from one offer takes.
type Buy struct {
	Packs int
	Pence int64
}

// Cover is the cheapest way to have at least so many pieces of an offer, in whole packs: the fewest packs, or more
// where a price break makes more cheaper. It reports false where the source has not so many.
func (o Offer) Cover(pieces int) (Buy, bool) {
	least := (pieces + o.Pack - 1) / o.Pack
	if o.Most > 0 && pieces > o.Most {
		return Buy{}, false
	}
	// The last pack of a shelf may be an opened one: what is needed can be had, even if it is no whole pack.
	most := max(least, o.Most/o.Pack)
	if o.Most == 0 {
		most = maxPieces
	}
	best, found := Buy{}, false
	for i, b := range o.Breaks {
		packs := max(least, b.Packs)
		if packs > most || i+1 < len(o.Breaks) && packs >= o.Breaks[i+1].Packs {
			continue
		}
		if buy := (Buy{packs, int64(packs) * b.Price}); !found || buy.Pence < best.Pence {
			best, found = buy, true
		}
	}
	return best, found
}

// Charge is what a supplier charges for goods of a value.
func (s Supplier) Charge(goods int64) int64 {
	if s.PaidAt > 0 && goods >= s.PaidAt {
		return 0
	}
	return s.Carriage
}

// landed sums up a full choice: pieces by offer, whole packs, carriage by supplier. It reports false where a source
// has too few pieces or an order stays below its supplier's minimum.
func (p *Problem) landed(pieces map[int]int) (int64, bool) {
	goods := make([]int64, len(p.Suppliers))
	used := make([]bool, len(p.Suppliers))
	var total int64
	for offer, n := range pieces {
		buy, ok := p.Offers[offer].Cover(n)
		if !ok {
			return 0, false
		}
		total += buy.Pence
		if s := p.Offers[offer].Supplier; s != Shelf {
			goods[s] += buy.Pence
			used[s] = true
		}
	}
	count := 0
	for s, sup := range p.Suppliers {
		if !used[s] {
			continue
		}
		count++
		if goods[s] < sup.MinimumOrder {
			return 0, false
		}
		total += sup.Charge(goods[s])
	}
	return total, p.MostSuppliers == 0 || count <= p.MostSuppliers
}
