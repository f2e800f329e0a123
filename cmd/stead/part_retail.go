package main

import (
	"strconv"

	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
)

// retailWords are the retail price of a piece and its mark-up on the cheapest offer; empty when none is known.
func retailWords(v desk.Retail, p inventory.Part, offers []inventory.Offer) string {
	if !p.Retail.Valid {
		return ""
	}
	out := ofAPiece(v.Currency, p.Retail.Decimal)
	if least, ok := v.Least(offers); ok && least.IsPositive() {
		out += " (" + markUp(least, p.Retail.Decimal, v.Tax) + ")"
	}
	return out
}

// retailOfPacks are the retail prices of what is sold together, of each size of pack that is offered.
func retailOfPacks(v desk.Retail, p inventory.Part, offers []inventory.Offer) string {
	var out string
	said := map[int]bool{1: true}
	for _, o := range offers {
		if !p.Retail.Valid || said[o.Pack] {
			continue
		}
		said[o.Pack] = true
		out += ", " + pricing.Amount(v.Currency, p.Retail.Decimal.Mul(decimal.NewFromInt(int64(o.Pack)))) + " for " + strconv.Itoa(o.Pack)
	}
	return out
}
