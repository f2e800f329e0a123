package choose

import "stead/substitution/supply"

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
		total += buy.Cost
		if s := p.Offers[offer].Supplier; s != supply.Shelf {
			goods[s] += buy.Cost
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
