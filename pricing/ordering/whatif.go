package ordering

import (
	"context"
	"errors"
	"fmt"

	"github.com/shopspring/decimal"

	"stead/pricing/money"
	"stead/pricing/orderplan"
)

// WhatIf is how an order list would change under another rule.
type WhatIf struct {
	Words string `json:"words"` // "every due day one day later"
	// Total is what it would then cost, and More how much more that is than the list; both absent where no list would do.
	Total *decimal.Decimal `json:"total,omitempty"`
	More  *decimal.Decimal `json:"more,omitempty"`
	Why   string           `json:"why,omitempty"` // why no list would do
}

// WhatIf plans the list anew under other rules: a day more for everything, one supplier fewer, all from one supplier.
func (l List) WhatIf(ctx context.Context) ([]WhatIf, error) {
	if len(l.problem.Lines) == 0 {
		return nil, nil
	}
	ctx, cancel := context.WithTimeout(ctx, Patience)
	defer cancel()
	var out []WhatIf
	add := func(words string, already int64, plan orderplan.Plan, err error) error {
		w := WhatIf{Words: words}
		switch {
		case err == nil:
			total := money.FromFine(plan.Total - already)
			more := total.Sub(money.FromFine(l.plan.Total - l.problem.already()))
			w.Total, w.More = &total, &more
		case errors.As(err, new(*orderplan.InfeasibleError)), errors.As(err, new(*orderplan.InputError)):
			w.Why = "no list would do"
		case errors.As(err, new(*orderplan.UnfinishedError)):
			w.Why = fmt.Sprintf("none was found in %.0f seconds", Patience.Seconds())
		default:
			return fmt.Errorf("planning %q: %w", words, err)
		}
		out = append(out, w)
		return nil
	}
	later, err := orderplan.OneDayLater(ctx, l.problem.Problem)
	if err := add("everything may come a day later", l.problem.already(), later, err); err != nil {
		return nil, err
	}
	without, fewer, err := orderplan.OneSupplierFewer(ctx, l.problem.Problem, l.plan)
	words := "one supplier fewer"
	if without != "" {
		words += ", without " + without
	}
	if err := add(words, l.problem.already(), fewer, err); err != nil {
		return nil, err
	}
	for _, s := range l.plan.Suppliers {
		alone := l.problem.only(s.Supplier)
		only, err := orderplan.PinnedOnly(ctx, alone.Problem, s.Supplier)
		if err := add("everything from "+s.ID, alone.already(), only, err); err != nil {
			return nil, err
		}
	}
	return out, nil
}
