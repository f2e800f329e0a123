package orderplan

import "fmt"

// Check verifies a plan by adding it up again: that it keeps every rule of the
// problem, that its sums are right, and that the lower bound holds, the last by
// walking the certificate in whole numbers. It shares with the planner the price
// of a quantity (Offer.Cost) and the tables made from it, but none of the search.
//
// What is proven is that no plan costs less than plan.Certificate.Bound. That is
// LowerBound itself unless the search was so long that its certificate was cut
// short; the difference then rests on the search alone.
func Check(p Problem, plan Plan) error {
	if err := p.Validate(); err != nil {
		return err
	}
	if err := checkOrder(p, plan); err != nil {
		return err
	}
	if plan.LowerBound > plan.Total || plan.Proven != (plan.LowerBound == plan.Total) {
		return fmt.Errorf("lower bound %d, total %d and proven %v contradict each other", plan.LowerBound, plan.Total, plan.Proven)
	}
	if plan.Certificate.Bound > plan.LowerBound {
		return fmt.Errorf("the certificate claims %d, more than the lower bound %d", plan.Certificate.Bound, plan.LowerBound)
	}
	return checkCertificate(p, plan.Certificate)
}

// checkOrder adds up the purchases and the suppliers' orders.
func checkOrder(p Problem, plan Plan) error {
	units := map[string]int{}
	goods := map[string]int64{}
	places := map[string]map[string]bool{}
	taken := map[int]bool{} // offers used
	for _, b := range plan.Lines {
		offer := -1
		for i, o := range p.Offers {
			if o.Line != b.ID || o.Supplier != b.Supplier || taken[i] {
				continue
			}
			if cost, ok := o.Cost(b.Units); ok && cost == b.Cost && o.inTime(p.lineByID(b.ID)) {
				offer = i
				break
			}
		}
		if offer < 0 {
			return fmt.Errorf("line %q: no offer in time of supplier %q sells %d units for %d", b.ID, b.Supplier, b.Units, b.Cost)
		}
		taken[offer] = true
		units[b.ID] += b.Units
		goods[b.Supplier] += b.Cost
		if places[b.ID] == nil {
			places[b.ID] = map[string]bool{}
		}
		places[b.ID][b.Supplier] = true
	}
	for _, l := range p.Lines {
		if n := units[l.ID]; n < l.Need || n > l.Max {
			return fmt.Errorf("line %q: %d units bought, need %d, max %d", l.ID, n, l.Need, l.Max)
		}
		if p.NoSplit && len(places[l.ID]) > 1 {
			return fmt.Errorf("line %q: split over suppliers, which the problem forbids", l.ID)
		}
	}
	total := int64(0)
	ordered := map[string]bool{}
	for _, got := range plan.Suppliers {
		for _, s := range p.Suppliers {
			if s.ID != got.ID {
				continue
			}
			if ordered[s.ID] || got.Goods != goods[s.ID] || got.Goods < s.MinimumOrder || got.Carriage != carriage(&s, got.Goods) {
				return fmt.Errorf("supplier %q: goods %d and carriage %d are wrong or below the minimum order", s.ID, got.Goods, got.Carriage)
			}
			ordered[s.ID] = true
			total += got.Goods + got.Carriage
		}
	}
	for _, b := range plan.Lines {
		if !ordered[b.Supplier] {
			return fmt.Errorf("supplier %q: bought from but not among the orders", b.Supplier)
		}
	}
	if total != plan.Total || len(ordered) != len(plan.Suppliers) {
		return fmt.Errorf("the orders come to %d, not %d", total, plan.Total)
	}
	return nil
}

func (p Problem) lineByID(id string) Line {
	for _, l := range p.Lines {
		if l.ID == id {
			return l
		}
	}
	return Line{}
}
