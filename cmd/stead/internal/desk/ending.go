package desk

import (
	"fmt"

	"stead/pricing"
)

// endingWords say how a job ended and what is due for it; none while it is in the workshop.
func endingWords(e *pricing.Ending, currency string, clock Clock) []string {
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
		out = append(out, "due: "+pricing.Amount(currency, e.Due))
	}
	return out
}
