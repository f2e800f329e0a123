package inspection_test

import (
	"fmt"

	"stead/substitution"
	"stead/substitution/inspection"
)

func ExamplePropose() {
	p, _ := inspection.Propose(substitution.Build{}, "headset.upper-bearing", inspection.Readings{"feel": substitution.Text("notchy")})
	fmt.Println(p.Action, "-", p.Words)
	// Output: replace - turns notchy: its races are marked
}
