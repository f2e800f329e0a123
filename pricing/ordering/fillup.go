package ordering

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"stead/pricing/money"
	"stead/pricing/orderplan"
)

// askToFillUp works out, for each supplier whose minimum order makes a part wait, what buying up to it would mean: how much
// that nobody wants, and how much dearer the whole list would be. It is only told; whoever orders decides.
func (b bench) askToFillUp(ctx context.Context, list *List) error {
	told := map[string]string{}
	for i, w := range list.Waiting {
		words, known := told[w.Supplier]
		if !known {
			var err error
			if words, err = b.fillingUp(ctx, *list, w.Supplier); err != nil {
				return err
			}
			told[w.Supplier] = words
		}
		list.Waiting[i].FillUp = words
	}
	return nil
}

// fillingUp says what a list would be that buys up to a supplier's minimum order; nothing where that cannot be done.
func (b bench) fillingUp(ctx context.Context, list List, supplier string) (string, error) {
	b.policy.FillUp = append(b.policy.FillUp[:len(b.policy.FillUp):len(b.policy.FillUp)], supplier)
	full := List{}
	problem, plan, err := b.solve(ctx, &full)
	if errors.As(err, new(*orderplan.UnfinishedError)) {
		return "", nil
	}
	if err != nil {
		return "", b.explain(problem, err)
	}
	if err := b.write(&full, problem, plan); err != nil {
		return "", err
	}
	for _, w := range full.Waiting {
		if w.Supplier == supplier {
			return "", nil
		}
	}
	var more []string
	home := b.deliveries.HomeCurrency()
	for _, o := range full.Orders {
		if o.Supplier != supplier {
			continue
		}
		for _, l := range o.Lines {
			if l.Beyond > 0 {
				are := "are"
				if l.Packs*l.Pack-l.Beyond == 1 {
					are = "is"
				}
				more = append(more, fmt.Sprintf("%d of %s where %d %s wanted", l.Packs*l.Pack, l.Name, l.Packs*l.Pack-l.Beyond, are))
			}
		}
	}
	return fmt.Sprintf("buying up to it: %s, %s more in all", strings.Join(more, ", "), money.Amount(home, full.Total.Sub(list.Total))), nil
}
