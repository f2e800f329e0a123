package pricing

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// Tax is a rate of tax as it stood on a day.
type Tax struct {
	Name    string          `json:"name"`
	Percent decimal.Decimal `json:"percent"`
}

var hundred = decimal.NewFromInt(100)

// round is the one rounding of the house: to the penny, a half penny upwards.
func round(x decimal.Decimal) decimal.Decimal { return x.Round(2) }

// With adds the tax to a price before tax and rounds to the penny.
func (t Tax) With(net decimal.Decimal) decimal.Decimal {
	return round(net.Mul(hundred.Add(t.Percent)).Div(hundred))
}

// In is the tax contained in a price that includes it, rounded to the penny.
func (t Tax) In(gross decimal.Decimal) decimal.Decimal {
	net := gross.Mul(hundred).DivRound(hundred.Add(t.Percent), 12)
	return gross.Sub(round(net))
}

// Pence is an amount in whole pence, rounded up: a planner that rounds a cost down would promise too little.
func Pence(x decimal.Decimal) int64 { return x.Mul(hundred).Ceil().IntPart() }

// FromPence is the amount of so many pence.
func FromPence(p int64) decimal.Decimal { return decimal.New(p, -2) }

// symbols are the signs of the currencies that workshops here price in; another currency is written by its ISO 4217 code.
var symbols = map[string]string{"GBP": "£", "EUR": "€", "USD": "$"}

// Amount writes money with its currency: "£12.40", "CHF 12.40".
func Amount(currency string, x decimal.Decimal) string {
	if s, ok := symbols[currency]; ok {
		if x.IsNegative() {
			return "-" + s + x.Neg().StringFixed(2)
		}
		return s + x.StringFixed(2)
	}
	return fmt.Sprintf("%s %s", currency, x.StringFixed(2))
}
