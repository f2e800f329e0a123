package choose_test

import (
	"context"
	"fmt"

	"stead/substitution/solver/choose"
	"stead/substitution/supply"
)

// One need and two offers: what is dearer is here sooner, so neither betters the other.
func ExampleSolve() {
	p := &choose.Problem{
		Needs: []choose.Need{{Name: "chain", Pieces: 1, Options: []choose.Option{{Offer: 0}, {Offer: 1}}}},
		Offers: []supply.Offer{
			{Supplier: 0, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 1650}}, Day: 1},
			{Supplier: 1, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 1400}}, Day: 3},
		},
		Suppliers: []supply.Supplier{{}, {Carriage: 100}},
	}
	r, err := choose.Solve(context.Background(), p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, pt := range r.Front {
		fmt.Println(pt.Day, pt.Cost, pt.Options)
	}
	// Output:
	// 3 1500 [1]
	// 1 1650 [0]
}
