package judge_test

import (
	"fmt"

	"stead/substitution/judge"
)

func ExampleLine() {
	r := judge.Line([]byte(`{"id": 1, "kind": "pair", "a": {"family": "chain", "spec": {"speeds": "9"}},
		"b": {"family": "chainring", "spec": {"speeds": "8/9"}}}`))
	fmt.Println(r.Answer)
	fmt.Println(judge.Line([]byte(`{"id": 2, "kind": "pair"}`)).Why[0])
	// Output:
	// fits
	// a is missing: it is a part, such as {"family": "chain", "spec": {"speeds": "9"}}
}
