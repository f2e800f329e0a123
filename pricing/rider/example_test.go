package rider_test

import (
	"fmt"

	"stead/pricing/rider"
)

func Example() {
	fmt.Println(rider.Words("48T in place of 50T"))
	fmt.Println(rider.Of("crank.outer-ring").Name)
	fmt.Println(rider.Found("turns notchy: its races are marked"))
	// Output:
	// 48 teeth instead of 50
	// big chainring
	// turns notchy: the tracks that its balls run on are marked
}
