package orderplan

import "fmt"

// Check verifies a plan by adding it up again: that it keeps every rule of the
// problem, that its sums are right, and that the lower bound holds, the last by
// walking the certificate in whole numbers. It shares with the planner the price
// of a quantity (supply.Offer.Cost) and the tables made from it, but none of the search.
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
	units := make([]int, len(p.Lines))
	goods := make([]int64, len(p.Suppliers))
	places := make([]map[int]bool, len(p.Lines))
	taken := map[int]bool{} // offers used
	for _, b := range plan.Lines {
		if b.Offer < 0 || b.Offer >= len(p.Offers) || taken[b.Offer] {
			return fmt.Errorf("line %q: offer %d is none, or bought from twice", b.ID, b.Offer)
		}
		o := p.Offers[b.Offer]
		cost, sold := o.cost(b.Units)
		if !sold || cost != b.Cost || b.Line != o.Line || b.ID != p.Lines[o.Line].ID || b.Supplier != p.Suppliers[o.Supplier].ID || !o.inTime(p.Lines[o.Line]) {
			return fmt.Errorf("line %q: offer %d does not sell %d units for %d of supplier %q in time", b.ID, b.Offer, b.Units, b.Cost, b.Supplier)
		}
		taken[b.Offer] = true
		units[o.Line] += b.Units
		goods[o.Supplier] += b.Cost
		if places[o.Line] == nil {
			places[o.Line] = map[int]bool{}
		}
		places[o.Line][o.Supplier] = true
	}
	for i, l := range p.Lines {
		if n := units[i]; n < l.Need || n > l.Max {
			return fmt.Errorf("line %q: %d units bought, need %d, max %d", l.ID, n, l.Need, l.Max)
		}
		if p.NoSplit && len(places[i]) > 1 {
			return fmt.Errorf("line %q: split over suppliers, which the problem forbids", l.ID)
		}
	}
	total := int64(0)
	ordered := map[int]bool{}
	for _, got := range plan.Suppliers {
		if got.Supplier < 0 || got.Supplier >= len(p.Suppliers) || ordered[got.Supplier] {
			return fmt.Errorf("supplier %q: is none, or ordered from twice", got.ID)
		}
		s := p.Suppliers[got.Supplier]
		if got.ID != s.ID || got.Goods != goods[got.Supplier] || got.Goods < s.MinimumOrder || got.Carriage != s.Charge(got.Goods) {
			return fmt.Errorf("supplier %q: goods %d and carriage %d are wrong or below the minimum order", s.ID, got.Goods, got.Carriage)
		}
		ordered[got.Supplier] = true
		total += got.Goods + got.Carriage
	}
	for _, b := range plan.Lines {
		if !ordered[p.Offers[b.Offer].Supplier] {
			return fmt.Errorf("supplier %q: bought from but not among the orders", b.Supplier)
		}
	}
	if total != plan.Total || len(ordered) != len(plan.Suppliers) {
		return fmt.Errorf("the orders come to %d, not %d", total, plan.Total)
	}
	return nil
}
