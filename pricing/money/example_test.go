package money_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"stead/pricing/money"
)

func ExampleAmount() {
	fmt.Println(money.Amount("GBP", money.Round(decimal.RequireFromString("7.125"))))
	// Output: £7.13
}
