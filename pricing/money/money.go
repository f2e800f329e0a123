// Package money rounds amounts and writes them. An amount is a decimal of its currency's unit, and never a float.
package money

import (
	"fmt"

	"github.com/shopspring/decimal"

	"stead/inventory"
)

// Round is the one rounding of the house: to the penny, a half penny upwards.
func Round(x decimal.Decimal) decimal.Decimal { return inventory.Rounded(x, decimal.NewFromInt(1), 2) }

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

// Unit is one of a currency: "£1", "CHF 1".
func Unit(currency string) string {
	if s, ok := symbols[currency]; ok {
		return s + "1"
	}
	return currency + " 1"
}

// Fine is how many parts the planners' whole numbers divide a unit of currency into, a ten-thousandth of a penny each: the
// price of one ball out of a bag is no whole penny, and a plan must not be decided by its rounding. Prices have four
// decimals, so that of a pack is exact.
const Fine = 1_000_000

// InFine is an amount in the planners' whole numbers, rounded up: a planner that rounds a cost down would promise too
// little.
func InFine(x decimal.Decimal) int64 { return x.Mul(decimal.NewFromInt(Fine)).Ceil().IntPart() }

// FromFine is the amount of so many of the planners' parts, to the penny.
func FromFine(x int64) decimal.Decimal { return Round(decimal.New(x, -6)) }
