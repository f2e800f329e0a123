package ordering

import (
	"fmt"
	"slices"

	"stead/inventory"
	"stead/pricing/money"
	"stead/pricing/orderplan"
	"stead/substitution/supply"
)

// addStanding puts the open orders that a list joins into the problem. What stands on one is a line that its supplier alone
// sells, so that what joins it pays no second carriage and helps to reach the level at which there is none; what it costs by
// itself is paid already. Its supplier has taken it, so that no minimum order is asked any more.
func (b bench) addStanding(p *posed, suppliers map[int64]int) {
	for _, id := range b.suppliers() {
		order, joins := b.open[id]
		at, planned := suppliers[id]
		if !joins || !planned {
			continue
		}
		home, err := b.deliveries.Home(id, order.Goods())
		if err != nil {
			continue // no rate, and so no usable offer
		}
		goods := money.InFine(home)
		p.Offers = append(p.Offers, orderplan.Offer{Line: len(p.Lines), Offer: supply.Offer{Supplier: at, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: goods}}}})
		p.offers = append(p.offers, dated{})
		now := 0
		p.Lines = append(p.Lines, orderplan.Line{ID: fmt.Sprintf("order %d", order.ID), Need: 1, Max: 1, DueDay: &now})
		p.demands = append(p.demands, nil)
		p.paid = append(p.paid, goods+p.Suppliers[at].Charge(goods))
	}
}

// already is what the open orders that the list may join cost by themselves.
func (p posed) already() (sum int64) {
	for _, paid := range p.paid {
		sum += paid
	}
	return sum
}

// standing reports whether a line is an open order, not something wanted.
func (p posed) standing(line int) bool { return p.demands[line] == nil }

// only is the problem without the open orders of all suppliers but one: they come whatever else is ordered from whom.
func (p posed) only(supplier int) posed {
	p.Lines, p.demands, p.paid = slices.Clone(p.Lines), slices.Clone(p.demands), slices.Clone(p.paid)
	for line := len(p.Lines) - 1; line >= 0 && p.standing(line); line-- {
		if !slices.ContainsFunc(p.Offers, func(o orderplan.Offer) bool { return o.Line == line && o.Supplier == supplier }) {
			k := len(p.paid) - (len(p.Lines) - line)
			p.takeOut(line)
			p.paid = slices.Delete(p.paid, k, k+1)
		}
	}
	return p
}

// joins says what an order list saves of a carriage by joining an open order.
func (d Draft) joins(open inventory.Order, s inventory.Supplier) string {
	words := fmt.Sprintf("joins order %d, which goes with the same cut-off", open.ID)
	paid := money.Amount(s.Currency, open.Carriage)
	switch {
	case open.Carriage.IsZero():
		return words + ": no carriage is asked for it"
	case d.Carriage.IsNegative():
		return fmt.Sprintf("%s: together they reach the %s at which carriage is paid, and its %s falls away", words,
			money.Amount(s.Currency, s.CarriagePaidAt.Decimal), paid)
	case s.CarriagePaidAt.Valid:
		return fmt.Sprintf("%s: its carriage of %s is paid once; it is free from %s more of goods", words, paid,
			money.Amount(s.Currency, s.CarriagePaidAt.Decimal.Sub(open.Goods()).Sub(d.Goods)))
	}
	return fmt.Sprintf("%s: its carriage of %s is paid once", words, paid)
}
