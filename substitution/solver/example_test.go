package solver_test

import (
	"context"
	"fmt"

	"stead/substitution"
	"stead/substitution/solver"
	"stead/substitution/supply"
)

// A worn chain is to be replaced. The cheaper of two that are at hand is for other sprockets.
func ExampleSolve() {
	part := func(family substitution.Family, spec string) *substitution.Part {
		p, err := substitution.ParsePart(family, spec)
		if err != nil {
			panic(err)
		}
		return &p
	}
	from := func(supplier int, price int64, day int) []supply.Offer {
		return []supply.Offer{{Supplier: supplier, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: price}}, Day: day}}
	}
	bike := substitution.Build{"frame": part("frame", "chainstay_mm=430"), "crank.outer-ring": part("chainring", "teeth=48"),
		"chain": part("chain", "speeds=9 links=116"), "rear.cassette": part("cassette", "speeds=9 freehub=hg teeth_min=11 teeth_max=32")}
	answer, err := solver.Solve(context.Background(), solver.Problem{
		Was:       bike,
		Needs:     []solver.Need{{ID: "chain", Family: "chain", Places: []substitution.Place{"chain"}, Pieces: 1, Candidates: []int{0, 1}}},
		Parts:     []solver.Part{{Part: part("chain", "speeds=7 links=116"), Offers: from(0, 900, 1)}, {Part: part("chain", "speeds=9 links=116"), Offers: from(0, 1400, 2)}},
		Suppliers: []supply.Supplier{{Carriage: 495}},
		Weights:   solver.DefaultWeights,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, o := range answer.Front {
		fmt.Println(o.Cost, "pence, here on day", o.Day, "with part", o.Chosen[0].Part)
	}
	// Output: 1895 pence, here on day 2 with part 1
}
