package desk

import (
	"fmt"

	"github.com/shopspring/decimal"

	"stead/pricing"
	"stead/pricing/billing"
)

// endingWords say how a job ended and what is due for it; none while it is in the workshop.
func endingWords(e *pricing.Ending, account billing.Account, currency string, clock Clock) []string {
	if e == nil {
		return nil
	}
	if e.Why != "" {
		words := fmt.Sprintf("given up on %s: %s; nothing is due", clock.DayOf(e.At), e.Why)
		if e.Agreed.Valid {
			words += " of the " + pricing.Amount(currency, e.Agreed.Decimal) + " agreed"
		}
		if e.Hold {
			words += "; its parts are held for the customer"
		}
		if e.Mistake {
			words = "taken back on " + clock.DayOf(e.At) + ": " + e.Why
		}
		if account.Paid.IsPositive() {
			words += "; to be paid back: " + pricing.Amount(currency, account.Paid)
		}
		return []string{words}
	}
	var out []string
	for _, l := range e.LeftOut {
		words := l.Words
		if l.Pieces > 0 {
			words = fmt.Sprintf("%d of %s", l.Pieces, l.Words)
		}
		out = append(out, fmt.Sprintf("left out: %s, %s", words, pricing.Amount(currency, l.Amount)))
	}
	for _, x := range e.Extras {
		out = append(out, "used beyond what was agreed: "+ExtraWords(x, currency))
	}
	if e.Agreed.Valid {
		out = append(out, dueWords(*e, account, currency))
	}
	return out
}

// balance is what a job comes to, as billed where it is, and what is still to be paid of that: below zero to be paid back.
func balance(e pricing.Ending, a billing.Account) (all, due decimal.Decimal) {
	if len(a.Papers) > 0 {
		return a.Billed, a.Due
	}
	return e.Due, e.Due.Sub(a.Paid)
}

// dueWords say what is still due for a job, and of what where something was paid: "due: £41.63; it comes to £61.63, and
// £20.00 is paid".
func dueWords(e pricing.Ending, a billing.Account, currency string) string {
	all, due := balance(e, a)
	words := "due: " + pricing.Amount(currency, due)
	if due.IsNegative() {
		words = "to be paid back: " + pricing.Amount(currency, due.Neg())
	}
	if a.Paid.IsZero() {
		return words
	}
	if due.IsZero() {
		return "paid: all of the " + pricing.Amount(currency, all)
	}
	return fmt.Sprintf("%s; it comes to %s, and %s is paid", words, pricing.Amount(currency, all), pricing.Amount(currency, a.Paid))
}
