package orderplan_test

import (
	"context"
	"fmt"
	"strings"

	"stead/pricing/orderplan"
)

// The brake pads are dearer from the north, and cost less there because carriage is paid once.
func ExampleSolve() {
	p, err := orderplan.ReadProblem(strings.NewReader(`{
		"lines": [{"id": "chain", "need": 3, "max": 3}, {"id": "pads", "need": 1, "max": 1}],
		"suppliers": [{"id": "north", "carriage": 495}, {"id": "south", "carriage": 400}],
		"offers": [
			{"line": "chain", "supplier": "north", "pack": 1, "breaks": [{"min": 1, "unit_price": 1650}]},
			{"line": "pads", "supplier": "north", "pack": 1, "breaks": [{"min": 1, "unit_price": 900}]},
			{"line": "pads", "supplier": "south", "pack": 1, "breaks": [{"min": 1, "unit_price": 700}]}]}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := orderplan.Solve(context.Background(), p)
	fmt.Println(plan.Total, plan.Proven, err)
	// Output: 6345 true <nil>
}
