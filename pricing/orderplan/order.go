package orderplan

import "slices"

// cost is the true landed cost of picks that keep every rule.
func (in *instance) cost(picks []pick) int64 {
	goods := make([]int64, len(in.suppliers))
	used := make([]bool, len(in.suppliers))
	for _, p := range picks {
		a := &in.arcs[p.arc]
		goods[a.supplier] += a.all[p.option].cost
		used[a.supplier] = true
	}
	total := int64(0)
	for i, g := range goods {
		if used[i] {
			total += g + in.problem.Suppliers[i].Charge(g)
		}
	}
	return total
}

// plan writes the best plan found, suppliers and lines in the problem's order.
func (s *search) plan() Plan {
	p := s.in.problem
	out := Plan{Total: s.best, LowerBound: s.lower, Proven: s.lower == s.best, Work: s.work,
		Suppliers: []SupplierTotal{}, Lines: []Purchase{}, Certificate: s.certificate()}
	goods := make([]int64, len(p.Suppliers))
	used := make([]bool, len(p.Suppliers))
	slices.SortFunc(s.picks, func(a, b pick) int { return int(a.arc) - int(b.arc) })
	for _, k := range s.picks {
		a := &s.in.arcs[k.arc]
		used[a.supplier] = true
		for _, part := range a.all[k.option].parts {
			goods[a.supplier] += part.cost
			out.Lines = append(out.Lines, Purchase{Line: a.line, Offer: part.offer, ID: p.Lines[a.line].ID, Supplier: p.Suppliers[a.supplier].ID,
				Units: part.units, Cost: part.cost})
		}
	}
	for i := range p.Suppliers {
		if used[i] {
			out.Suppliers = append(out.Suppliers, SupplierTotal{Supplier: i, ID: p.Suppliers[i].ID, Goods: goods[i],
				Carriage: p.Suppliers[i].Charge(goods[i])})
		}
	}
	return out
}
