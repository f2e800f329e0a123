package people_test

import (
	"fmt"

	"stead/inventory/people"
)

func ExampleCheckPIN() {
	fmt.Println(people.CheckPIN("4821"))
	fmt.Println(people.CheckPIN("48"))
	// Output:
	// <nil>
	// a PIN is 4 to 8 figures
}
