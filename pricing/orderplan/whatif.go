package orderplan

import (
	"context"
	"slices"
)

// CheapestEach buys every line where the line by itself is cheapest, whatever
// carriage that brings: the list one would write by hand. Its Total is what a
// plan's saving is measured against. A minimum order that this list does not
// reach is bought up to by nobody: the total is then lower than any order that
// suppliers would accept, and short names those suppliers. The plan is not
// proven to be anything.
func CheapestEach(ctx context.Context, p Problem) (plan Plan, short []string, err error) {
	if err := p.Validate(); err != nil {
		return Plan{}, nil, err
	}
	coarse, unit := p.coarse()
	in, err := tabulate(ctx, &coarse)
	if err != nil {
		return Plan{}, nil, err
	}
	c := newChooser(ctx, in)
	c.modes = slices.Repeat([]mode{pays}, len(in.suppliers))
	s := &search{in: in}
	for l := range in.lines {
		s.picks = append(s.picks, c.cheapest(l)...)
	}
	s.best = in.cost(s.picks)
	if ctx.Err() != nil {
		return Plan{}, nil, &UnfinishedError{Cause: ctx.Err()}
	}
	plan = s.plan().fine(unit)
	for _, got := range plan.Suppliers {
		if got.Goods < p.Suppliers[got.Supplier].MinimumOrder {
			short = append(short, got.ID)
		}
	}
	return plan, short, nil
}

// OneDayLater plans with every due day moved a day later. Offers keep their
// arrival days.
func OneDayLater(ctx context.Context, p Problem) (Plan, error) {
	p.Lines = slices.Clone(p.Lines)
	for i, l := range p.Lines {
		if l.DueDay != nil {
			later := *l.DueDay + 1
			p.Lines[i].DueDay = &later
		}
	}
	return Solve(ctx, p)
}

// Without plans as if a supplier did not exist: what one supplier fewer costs.
func Without(ctx context.Context, p Problem, supplier int) (Plan, error) {
	return keepOffers(ctx, p, func(o Offer) bool { return o.Supplier != supplier })
}

// OneSupplierFewer plans without each of the plan's suppliers in turn and
// returns the cheapest of those plans and who is left out. Another supplier may
// come in instead. The error is the last supplier's where none can be spared, or
// where ctx ends before there is such a plan; where it ends later, suppliers not
// reached by then are not compared.
func OneSupplierFewer(ctx context.Context, p Problem, plan Plan) (without string, best Plan, err error) {
	for _, s := range plan.Suppliers {
		fewer, failed := Without(ctx, p, s.Supplier)
		if failed != nil {
			err = failed
		} else if without == "" || fewer.Total < best.Total {
			without, best = s.ID, fewer
		}
	}
	if without != "" {
		err = nil
	}
	return without, best, err
}

// PinnedOnly plans with everything bought from one supplier.
func PinnedOnly(ctx context.Context, p Problem, supplier int) (Plan, error) {
	return keepOffers(ctx, p, func(o Offer) bool { return o.Supplier == supplier })
}

func keepOffers(ctx context.Context, p Problem, keep func(Offer) bool) (Plan, error) {
	p.Offers = slices.DeleteFunc(slices.Clone(p.Offers), func(o Offer) bool { return !keep(o) })
	return Solve(ctx, p)
}
