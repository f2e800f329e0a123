package desk

import (
	"fmt"
	"strings"

	"stead/inventory"
	"stead/pricing"
)

// ReturnWords tell of a return and what came of it.
func ReturnWords(r inventory.Return) string {
	words := fmt.Sprintf("return %d: %d of %s back to %s with order %d, %s; ", r.ID, r.Pieces, r.Part, r.From, r.OrderID, r.Why)
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

// CameWords tell what came of a line beside what was ordered, and what has gone back of it.
func CameWords(b inventory.Beside) (out []string) {
	if b.Wrong > 0 {
		out = append(out, fmt.Sprintf("%d of another part came: still to go back", b.Wrong))
	}
	if b.Damaged > 0 {
		out = append(out, fmt.Sprintf("%d came damaged: still to go back", b.Damaged))
	}
	if b.Over > 0 {
		out = append(out, fmt.Sprintf("%d more than ordered came: kept", b.Over))
	}
	if b.Back > 0 {
		out = append(out, fmt.Sprintf("%d went back", b.Back))
	}
	return out
}

// ToGoBackWords tell of pieces that came wrong or damaged and are still here.
func ToGoBackWords(b inventory.Beside) string {
	b.Over, b.Back = 0, 0
	return fmt.Sprintf("%s, order %d from %s: %s", b.Part, b.OrderID, b.Supplier, strings.Join(CameWords(b), "; "))
}
