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
	b, err := addUp(p, plan)
	if err != nil {
		return err
	}
	if err := b.checkLines(p); err != nil {
		return err
	}
	return b.checkSuppliers(p, plan)
}

// basket is what a plan buys, added up purchase by purchase.
type basket struct {
	units  []int          // by line
	places []map[int]bool // by line: the suppliers it is bought from
	goods  []int64        // by supplier
}

// addUp adds up the purchases; each is one that its offer sells, in time.
func addUp(p Problem, plan Plan) (basket, error) {
	b := basket{make([]int, len(p.Lines)), make([]map[int]bool, len(p.Lines)), make([]int64, len(p.Suppliers))}
	taken := map[int]bool{} // offers used
	for _, buy := range plan.Lines {
		if buy.Offer < 0 || buy.Offer >= len(p.Offers) || taken[buy.Offer] {
			return b, fmt.Errorf("line %q: offer %d is none, or bought from twice", buy.ID, buy.Offer)
		}
		o := p.Offers[buy.Offer]
		cost, sold := o.cost(buy.Units)
		if !sold || cost != buy.Cost || buy.Line != o.Line || buy.ID != p.Lines[o.Line].ID || buy.Supplier != p.Suppliers[o.Supplier].ID || !o.inTime(p.Lines[o.Line]) {
			return b, fmt.Errorf("line %q: offer %d does not sell %d units for %d of supplier %q in time", buy.ID, buy.Offer, buy.Units, buy.Cost, buy.Supplier)
		}
		taken[buy.Offer] = true
		b.units[o.Line] += buy.Units
		b.goods[o.Supplier] += buy.Cost
		if b.places[o.Line] == nil {
			b.places[o.Line] = map[int]bool{}
		}
		b.places[o.Line][o.Supplier] = true
	}
	return b, nil
}

// checkLines says which line has too little, too much, or comes from several
// suppliers where none may.
func (b basket) checkLines(p Problem) error {
	for i, l := range p.Lines {
		if n := b.units[i]; n < l.Need || n > l.Max {
			return fmt.Errorf("line %q: %d units bought, need %d, max %d", l.ID, n, l.Need, l.Max)
		}
		if p.NoSplit && len(b.places[i]) > 1 {
			return fmt.Errorf("line %q: split over suppliers, which the problem forbids", l.ID)
		}
	}
	return nil
}

// checkSuppliers compares the suppliers' orders with what is bought of each, and
// with the total.
func (b basket) checkSuppliers(p Problem, plan Plan) error {
	total := int64(0)
	ordered := map[int]bool{}
	for _, got := range plan.Suppliers {
		if got.Supplier < 0 || got.Supplier >= len(p.Suppliers) || ordered[got.Supplier] {
			return fmt.Errorf("supplier %q: is none, or ordered from twice", got.ID)
		}
		s := p.Suppliers[got.Supplier]
		if got.ID != s.ID || got.Goods != b.goods[got.Supplier] || got.Goods < s.MinimumOrder || got.Carriage != s.Charge(got.Goods) {
			return fmt.Errorf("supplier %q: goods %d and carriage %d are wrong or below the minimum order", s.ID, got.Goods, got.Carriage)
		}
		ordered[got.Supplier] = true
		total += got.Goods + got.Carriage
	}
	for _, buy := range plan.Lines {
		if !ordered[p.Offers[buy.Offer].Supplier] {
			return fmt.Errorf("supplier %q: bought from but not among the orders", buy.Supplier)
		}
	}
	if total != plan.Total || len(ordered) != len(plan.Suppliers) {
		return fmt.Errorf("the orders come to %d, not %d", total, plan.Total)
	}
	return nil
}
