package substitution_test

import (
	"fmt"

	"stead/substitution"
)

func ExampleTogether() {
	chain, _ := substitution.ParsePart("chain", "speeds=9")
	cassette, _ := substitution.ParsePart("cassette", "speeds=10")
	v := substitution.Together(&chain, &cassette)
	fmt.Println(v.Fits)
	for _, f := range v.Stops() {
		fmt.Println(f.Words)
	}
	// Output:
	// breaks
	// 9-speed chain with 10-speed cassette: they do not go together
}
