package pricelist_test

import (
	"fmt"
	"strings"

	"stead/inventory/pricelist"
)

// What a list's columns hold is proposed, for a person to confirm, and then read row by row.
func Example() {
	list := "Art. no.;Description;Trade price;Pack\nA-17;Chain 9-speed 116 links;14.50;1\nA-18;Brake pads, organic;6.20;2\n"
	f, err := pricelist.Open("list.csv", strings.NewReader(list), int64(len(list)))
	if err != nil {
		fmt.Println(err)
		return
	}
	defer f.Close()
	proposal, err := pricelist.ProposeFile(f)
	if err != nil {
		fmt.Println(err)
		return
	}
	for row, err := range pricelist.Rows(f, proposal.Mapping) {
		fmt.Println(row.Code, row.Name, row.Price.Decimal, row.Pack, err)
	}
	// Output:
	// A-17 Chain 9-speed 116 links 14.5 1 <nil>
	// A-18 Brake pads, organic 6.2 2 <nil>
}
