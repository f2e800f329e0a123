package catalogue_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"stead/inventory/catalogue"
)

// What a list recommends is with tax, what it asks is without.
func Example() {
	asked, recommended, tax := decimal.RequireFromString("1.00"), decimal.RequireFromString("1.68"), decimal.NewFromInt(20)
	fmt.Println(catalogue.MarkUp(asked, recommended, tax), catalogue.Doubtful(asked, recommended, tax))
	fmt.Println(catalogue.Doubtful(asked, decimal.RequireFromString("0.99"), tax))
	// Output:
	// 40 false
	// true
}
