package describe_test

import (
	"fmt"

	"stead/inventory/pricelist/describe"
)

func ExampleRead() {
	said := describe.Read("C/RING 46T BLK 110 PCD 5 ARM RS-7")
	fmt.Println(said.Family)
	fmt.Println(said.Spec)
	fmt.Println(said.Unread)
	// Output:
	// chainring
	// bcd_mm 110, bolts 5, colour black, teeth 46
	// [RS-7]
}
