package ordering

import (
	"cmp"
	"slices"
)

// Count is how many lines the orders have.
func (l List) Count() (lines int) {
	for _, o := range l.Orders {
		lines += len(o.Lines)
	}
	return lines
}

// Dearest are the orders with so many of their lines after the first ones: what jobs wait for first, then the dearest, whoever
// sells it. All sums are of all lines.
func (l List) Dearest(after, most int) []Draft {
	type place struct {
		order int
		Line
	}
	var all []place
	orders := slices.Clone(l.Orders)
	for i, o := range l.Orders {
		for _, line := range o.Lines {
			all = append(all, place{i, line})
		}
		orders[i].Lines = nil
	}
	forJobs := func(l place) int { return min(1, len(l.ForJobs)) }
	slices.SortStableFunc(all, func(a, b place) int {
		return cmp.Or(cmp.Compare(forJobs(b), forJobs(a)), cmp.Compare(b.home, a.home))
	})
	all = all[min(after, len(all)):]
	for _, p := range all[:min(most, len(all))] {
		orders[p.order].Lines = append(orders[p.order].Lines, p.Line)
	}
	return orders
}
