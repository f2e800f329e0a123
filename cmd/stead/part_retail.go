package main

import (
	"context"
	"strconv"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing"
)

// retailView sets a part's retail price against what it costs.
type retailView struct {
	currency string
	tax      decimal.Decimal
	rates    inventory.Rates
	supplier map[int64]inventory.Supplier
}

func loadRetailView(ctx context.Context, w *workshop) (retailView, error) {
	shop, err := inventory.LoadShop(ctx, w)
	if err != nil {
		return retailView{}, err
	}
	v := retailView{currency: shop.Currency, supplier: map[int64]inventory.Supplier{}}
	if v.tax, err = taxPercent(ctx, w); err != nil {
		return v, err
	}
	if v.rates, err = inventory.RatesOn(ctx, w, now()); err != nil {
		return v, err
	}
	suppliers, err := inventory.Suppliers(ctx, w)
	if err != nil {
		return v, err
	}
	for _, s := range suppliers {
		v.supplier[s.ID] = s
	}
	return v, nil
}

// least is the smallest price of a piece among offers, in the shop's currency; ok is false when none can be had in it.
func (v retailView) least(offers []inventory.Offer) (least decimal.Decimal, ok bool) {
	for _, o := range offers {
		home, err := v.rates.Home(v.supplier[o.SupplierID], o.PriceAt(o.MinimumPacks))
		if err != nil {
			continue
		}
		each := inventory.Rounded(home, decimal.NewFromInt(int64(o.Pack)), 6)
		if !ok || each.LessThan(least) {
			least, ok = each, true
		}
	}
	return least, ok
}

// words are the retail price of a piece and its mark-up on the cheapest offer; empty when none is known.
func (v retailView) words(p inventory.Part, offers []inventory.Offer) string {
	if !p.Retail.Valid {
		return ""
	}
	out := ofAPiece(v.currency, p.Retail.Decimal)
	if least, ok := v.least(offers); ok && least.IsPositive() {
		out += " (" + markUp(least, p.Retail.Decimal, v.tax) + ")"
	}
	return out
}

// packs are the retail prices of what is sold together, of each size of pack that is offered.
func (v retailView) packs(p inventory.Part, offers []inventory.Offer) string {
	var out string
	said := map[int]bool{1: true}
	for _, o := range offers {
		if !p.Retail.Valid || said[o.Pack] {
			continue
		}
		said[o.Pack] = true
		out += ", " + pricing.Amount(v.currency, p.Retail.Decimal.Mul(decimal.NewFromInt(int64(o.Pack)))) + " for " + strconv.Itoa(o.Pack)
	}
	return out
}
