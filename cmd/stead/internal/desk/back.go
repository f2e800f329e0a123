package desk

import (
	"fmt"

	"stead/inventory"
	"stead/pricing"
)

// ReturnWords tell of a return and what came of it.
func ReturnWords(r inventory.Return) string {
	words := fmt.Sprintf("return %d: %d of %s back to %s with order %d, %s; ", r.ID, r.Pieces, r.Part, r.Supplier, r.OrderID, r.Why)
	expected := pricing.Amount(r.Currency, r.Expected)
	switch {
	case !r.Credited.Valid:
		return words + "credit expected " + expected
	case r.Credited.Decimal.IsZero():
		return words + "no credit given, " + expected + " expected"
	case r.Credited.Decimal.Equal(r.Expected):
		return words + "credited " + expected
	}
	return words + "credited " + pricing.Amount(r.Currency, r.Credited.Decimal) + ", " + expected + " expected"
}
