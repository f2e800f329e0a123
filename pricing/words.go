package pricing

import (
	"strings"

	"stead/substitution"
)

// siteWords is a place as it is called on paper: "outer chainring".
func siteWords(p substitution.Place) string {
	if site, err := substitution.SiteOf(p); err == nil {
		return site.Words
	}
	return string(p)
}

// OptionWords are the names of an option as one says them: "cheapest and closest".
func OptionWords(names []string) string { return joinAnd(names) }

// Called is an option by all its names.
func (o Option) Called() string { return OptionWords(o.Names) }

// joinAnd joins words as one says them: "a, b and c".
func joinAnd(words []string) string { return join(words, " and ") }

// joinOr joins words as one offers them: "a, b or c".
func joinOr(words []string) string { return join(words, " or ") }

func join(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + last + words[n]
}
