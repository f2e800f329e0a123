package leadtime

import (
	"cmp"
	"slices"

	"stead/inventory/calendar"
)

// Score says how forecasts would have done on past receipts, beside taking the
// quote at its word.
type Score struct {
	Receipts   int
	Confidence float64
	// Loss and QuoteLoss are the mean pinball loss in working days: of a day
	// named with 9 in 10, a day late costs nine times a day of needless waiting.
	// The smaller the better.
	Loss, QuoteLoss float64
	// Held and QuoteHeld are the shares of receipts that came by the day named.
	Held, QuoteHeld float64
}

// Backtest goes through the receipts in the order in which they were ordered,
// forecasts each from what had come before its order day, and compares. Its
// confidence is above 0 and below 1.
func Backtest(receipts []Receipt, confidence float64) Score {
	score := Score{Receipts: len(receipts), Confidence: confidence}
	if len(receipts) == 0 {
		return score
	}
	inOrder := slices.SortedStableFunc(slices.Values(receipts), func(a, b Receipt) int {
		return cmp.Compare(a.Ordered, b.Ordered)
	})
	var learned *Experience
	var asOf calendar.Day
	for _, r := range inOrder {
		if learned == nil || asOf != r.Ordered {
			// What was still out on that day is not known to this test.
			learned, asOf = Learn(receipts, nil, r.Ordered-1), r.Ordered
		}
		forecast := learned.Forecast(Order{Supplier: r.Supplier, Quoted: r.Quoted, Signal: r.Signal})
		days, ok := forecast.Within(confidence)
		if !ok {
			days = len(forecast.OnDay)
		}
		quoted := forecast.Assumption.QuotedDays
		score.Loss += pinball(confidence, days, r.Took)
		score.QuoteLoss += pinball(confidence, quoted, r.Took)
		if r.Took <= days {
			score.Held++
		}
		if r.Took <= quoted {
			score.QuoteHeld++
		}
	}
	n := float64(len(receipts))
	score.Loss /= n
	score.QuoteLoss /= n
	score.Held /= n
	score.QuoteHeld /= n
	return score
}

// pinball is the loss of naming so many days, with the confidence, for what took
// so many (Koenker and Bassett, "Regression quantiles", Econometrica 46, 1978).
func pinball(confidence float64, named, took int) float64 {
	if took > named {
		return confidence * float64(took-named)
	}
	return (1 - confidence) * float64(named-took)
}
