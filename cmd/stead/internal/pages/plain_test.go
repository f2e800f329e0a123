package pages_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
)

// unsaid is what no page says to a mechanic, wherever it stands: it is for programs, or for whoever wrote this one.
var unsaid = []struct {
	what string
	like *regexp.Regexp
}{
	{"a day as a program writes it", regexp.MustCompile(`\b20\d\d-\d\d-\d\d\b`)},
	{"what a supplier has as a program writes it", regexp.MustCompile(`\b(in-stock|to-order)\b`)},
	{"a kind of part as a program writes it", regexp.MustCompile(`\b(loose-balls|cable-(inner|outer)|ball-cage|rim-pad|disc-pad|hub-(internals|cone)|drive-battery|crank-arm)\b`)},
	{"a supplier by its short name", regexp.MustCompile(`\btworivers\b`)},
	{"several names joined by a sign", regexp.MustCompile(`\b(soonest|cheapest|closest|balanced|shelf) = `)},
}

// requirePlain holds a page to the trade's words.
func requirePlain(t testing.TB, at string, a answer) {
	t.Helper()
	for _, u := range unsaid {
		for _, found := range u.like.FindAllStringIndex(a.text, 3) {
			assert.Fail(t, "it says "+u.what, "%s: … %s …", at, a.text[max(0, found[0]-40):min(len(a.text), found[1]+40)])
		}
	}
}
