package orderplan

import "slices"

// unit is the largest unit of money in which all amounts of the problem are whole: a penny, mostly, of a problem that is
// put in ten-thousandths of one. A bound counts for the next whole number above it, so that it closes the sooner the
// coarser the unit is, and sums stay further below what a float64 counts exactly.
func (p Problem) unit() int64 {
	unit := int64(0)
	divide := func(x int64) {
		for x != 0 {
			unit, x = x, unit%x
		}
	}
	for _, s := range p.Suppliers {
		divide(s.Carriage)
		divide(s.PaidAt)
		divide(s.MinimumOrder)
	}
	for _, o := range p.Offers {
		for _, b := range o.Breaks {
			divide(b.Price)
		}
		for _, t := range o.Tiers {
			divide(t.Price)
		}
	}
	return max(1, unit)
}

// coarse is the problem in its largest unit of money, and that unit. What buying costs is a sum of whole numbers of it.
func (p Problem) coarse() (Problem, int64) {
	unit := p.unit()
	if unit == 1 {
		return p, 1
	}
	p.Suppliers, p.Offers = slices.Clone(p.Suppliers), slices.Clone(p.Offers)
	for i := range p.Suppliers {
		s := &p.Suppliers[i]
		s.Carriage, s.PaidAt, s.MinimumOrder = s.Carriage/unit, s.PaidAt/unit, s.MinimumOrder/unit
	}
	for i := range p.Offers {
		o := &p.Offers[i]
		o.Breaks, o.Tiers = slices.Clone(o.Breaks), slices.Clone(o.Tiers)
		for k := range o.Breaks {
			o.Breaks[k].Price /= unit
		}
		for k := range o.Tiers {
			o.Tiers[k].Price /= unit
		}
	}
	return p, unit
}

// fine is a plan of a coarse problem in the unit of the problem that was given.
func (p Plan) fine(unit int64) Plan {
	p.Total, p.LowerBound, p.Certificate.Bound = p.Total*unit, p.LowerBound*unit, p.Certificate.Bound*unit
	for i := range p.Suppliers {
		p.Suppliers[i].Goods *= unit
		p.Suppliers[i].Carriage *= unit
	}
	for i := range p.Lines {
		p.Lines[i].Cost *= unit
	}
	return p
}
