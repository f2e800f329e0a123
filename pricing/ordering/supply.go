package ordering

import (
	"stead/inventory"
	"stead/pricing/money"
	"stead/substitution/supply"
)

// Supply is an offer, priced in the shop's currency, as the planners have it: the one way from a supplier's list to packs,
// breaks and whole numbers of money. Fewer packs than the offer's minimum are not sold, so that its first break is there.
func Supply(o inventory.Offer, supplier, day int) supply.Offer {
	out := supply.Offer{Supplier: supplier, Pack: o.Pack, Day: day}
	for _, b := range o.Breaks {
		from := max(b.FromPacks, o.MinimumPacks)
		each := money.InFine(o.PriceAt(from))
		if n := len(out.Breaks); n > 0 && out.Breaks[n-1].Packs == from {
			out.Breaks[n-1].Price = each
			continue
		}
		out.Breaks = append(out.Breaks, supply.Break{Packs: from, Price: each})
	}
	return out
}

// Terms are a supplier's terms, in the shop's currency, as the planners have them.
func Terms(s inventory.Supplier) supply.Supplier {
	out := supply.Supplier{Carriage: money.InFine(s.Carriage), MinimumOrder: money.InFine(s.MinimumOrder)}
	if s.CarriagePaidAt.Valid {
		out.PaidAt = min(money.InFine(s.CarriagePaidAt.Decimal), supply.MaxMoney) // a level beyond every order is none
	}
	return out
}
