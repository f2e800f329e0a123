package pages

import (
	"regexp"
	"slices"
	"strings"
)

// typedMark stands on a form that is shown again with what was typed into it, and on each of its fields that was filled in or
// is wrong.
const typedMark = " data-typed>"

var folds = regexp.MustCompile(`<details\b[^>]*>|</details>|` + typedMark)

// unfold opens each fold of a page that holds something typed: behind a closed one it would look lost, and what is wrong with
// it would be told to nobody.
func unfold(page string) string {
	if !strings.Contains(page, typedMark) {
		return page
	}
	var within, open []int // where the folds around here begin, and those to open
	for _, at := range folds.FindAllStringIndex(page, -1) {
		switch found := page[at[0]:at[1]]; {
		case found == typedMark:
			open = append(open, within...)
		case found != "</details>":
			within = append(within, at[0])
		case len(within) > 0:
			within = within[:len(within)-1]
		}
	}
	slices.Sort(open)
	var out strings.Builder
	from := 0
	for _, at := range slices.Compact(open) {
		at += len("<details")
		out.WriteString(page[from:at])
		if tag, _, _ := strings.Cut(page[at:], ">"); !strings.HasSuffix(tag, " open") {
			out.WriteString(" open")
		}
		from = at
	}
	return out.String() + page[from:]
}
