package reorder_test

import (
	"fmt"
	"strings"

	"stead/inventory/reorder"
)

func ExampleReadSales() {
	items, err := reorder.ReadSales(strings.NewReader("day,part,pieces,price\n2026-03-02,chain 9-speed,1,14.50\n2026-03-11,chain 9-speed,2,\n2026-03-04,brake pads,1,\n"))
	for _, item := range items {
		fmt.Println(item.Name, len(item.Sales), item.Price)
	}
	fmt.Println(err)
	// Output:
	// brake pads 1 0
	// chain 9-speed 2 14.5
	// <nil>
}
