package desk

import (
	"maps"
	"slices"
	"strings"

	"stead/substitution"
)

var brokenWords = map[substitution.Severity]string{
	substitution.Mating:   "broken, the parts will not go together",
	substitution.Safety:   "broken, the parts must not be used together",
	substitution.Function: "broken, it works and rides or shifts differently: the customer decides",
	substitution.Finish:   "broken, it fits and looks different: the customer decides",
}

// BrokenWords say what it comes to where a rule is broken.
func BrokenWords(s substitution.Severity) string { return brokenWords[s] }

// ExampleParts lists the parts of an example by place; "?" is a part of which nothing is known.
func ExampleParts(parts map[substitution.Place]string) string {
	var out []string
	for _, place := range slices.Sorted(maps.Keys(parts)) {
		text := parts[place]
		if text == "?" {
			text = "not known"
		}
		out = append(out, string(place)+" "+text)
	}
	return strings.Join(out, "; ")
}
