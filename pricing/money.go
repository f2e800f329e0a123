package pricing

import (
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing/money"
)

// Tax is a rate of tax as it stood on a day.
type Tax struct {
	Name    string          `json:"name"`
	Percent decimal.Decimal `json:"percent"`
}

var hundred = decimal.NewFromInt(100)

// With adds the tax to a price before tax and rounds to the penny.
func (t Tax) With(net decimal.Decimal) decimal.Decimal { return t.share(net, 1, 1) }

// share is what so many pieces come to, tax included, of a quantity that costs net before tax. It divides once and last:
// a third of a pound has no last decimal, and a half penny must not be lost in it.
func (t Tax) share(net decimal.Decimal, pieces, of int) decimal.Decimal {
	return inventory.Rounded(net.Mul(decimal.NewFromInt(int64(pieces))).Mul(hundred.Add(t.Percent)), hundred.Mul(decimal.NewFromInt(int64(of))), 2)
}

// In is the tax contained in a price that includes it: what is left over the price before tax, rounded to the penny.
func (t Tax) In(gross decimal.Decimal) decimal.Decimal {
	return gross.Sub(inventory.Rounded(gross.Mul(hundred), hundred.Add(t.Percent), 2))
}

// Amount writes money with its currency: "£12.40", "CHF 12.40".
func Amount(currency string, x decimal.Decimal) string { return money.Amount(currency, x) }
