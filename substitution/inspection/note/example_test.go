package note_test

import (
	"fmt"

	"stead/substitution"
	"stead/substitution/inspection/note"
)

func ExampleRead() {
	said := note.Read("chain's at point nine, front brake just wants adjusting, headset might want a look", substitution.Build{})
	for _, f := range said.Findings {
		fmt.Println(f.Place, f.Action, f.Readings)
	}
	fmt.Println(said.Unread)
	// Output:
	// chain  map[wear_percent:0.9]
	// front.caliper adjust map[]
	// [headset might want a look]
}
