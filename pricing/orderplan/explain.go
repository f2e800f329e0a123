package orderplan

import (
	"context"
	"slices"
)

// explain names what makes a problem infeasible whose lines can each be bought
// on their own: then a minimum order is in the way.
func (in *instance) explain(ctx context.Context) error {
	for i, s := range in.problem.Suppliers {
		if s.MinimumOrder == 0 || len(in.suppliers[i].arcs) == 0 {
			continue
		}
		p := *in.problem
		p.Suppliers = slices.Clone(p.Suppliers)
		p.Suppliers[i].MinimumOrder = 0
		if feasible(ctx, p) {
			return &InfeasibleError{Supplier: s.ID, Line: in.onlyFrom(i),
				Why: "what must be bought there cannot be brought up to the minimum order"}
		}
	}
	return &InfeasibleError{Why: "the minimum orders of the suppliers cannot all be reached by what the lines allow"}
}

// onlyFrom is a line that only supplier i can serve, if there is one.
func (in *instance) onlyFrom(i int) string {
	for l, t := range in.lines {
		if t.need > 0 && !slices.ContainsFunc(t.arcs, func(a int) bool { return in.arcs[a].supplier != i }) {
			return in.problem.Lines[l].ID
		}
	}
	return ""
}

func feasible(ctx context.Context, p Problem) bool {
	in, err := tabulate(ctx, &p)
	if err != nil {
		return false
	}
	s := newSearch(ctx, in)
	s.run()
	return s.best < none
}
