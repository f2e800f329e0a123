package reorder

import "slices"

// Lower is a part of which less is kept because of what is always kept of others.
type Lower struct {
	Item        int
	Is, Without Keep // as it is kept, and as it would be if nothing were insisted on
}

// Lowered are the parts of which less is kept at a target because what is insisted on of others meets more sales than it
// would by itself, and the target at which they are kept as before, if there is one below all sales.
func (s *Shelf) Lowered(target float64, keeps []Keep) (lower []Lower, restored float64) {
	if !slices.ContainsFunc(s.items, func(i Item) bool { return i.Least > 0 }) {
		return nil, 0
	}
	free := s.unbound().For(target)
	mixed := slices.Clone(keeps)
	for i := range keeps {
		if s.items[i].Least == 0 && free[i].own > keeps[i].own+1e-9 {
			lower = append(lower, Lower{Item: i, Is: keeps[i], Without: free[i]})
			mixed[i] = free[i]
		}
	}
	if lower == nil {
		return nil, 0
	}
	met := 0.0
	for _, k := range mixed {
		met += k.own * k.PerDay * WorkingDaysPerYear
	}
	return lower, s.promise.gives(min(1, met/s.sales))
}

// withoutFloors is the shelf as it would be weighed with nothing insisted on: what came of what was said would have been
// another thing too.
func (s *Shelf) withoutFloors() *Shelf {
	items := slices.Clone(s.items)
	for i := range items {
		items[i].Least = 0
	}
	return StockBook{items, s.books.Sold}.Weigh(s.learnt.start, s.now, s.learnt.terms)
}
