package substitution

import (
	"fmt"
	"slices"
	"strings"
)

// MostNamed is how many names an error gives to choose from: more than that nobody reads.
const MostNamed = 5

// nearest are the names that are spelt most like the one that was asked for, the likest first, at most MostNamed.
func nearest(asked string, names []string) []string {
	near := slices.Clone(names)
	slices.SortStableFunc(near, func(a, b string) int {
		switch la, lb := likeness(asked, a), likeness(asked, b); {
		case la > lb:
			return -1
		case la < lb:
			return 1
		}
		return 0
	})
	return near[:min(len(near), MostNamed)]
}

// Among lists names for a sentence: all of a few, of many the nearest to what was asked for and how many more there are.
func Among(asked string, names []string) string {
	if len(names) <= MostNamed {
		return Few(names)
	}
	return Few(append(nearest(asked, names), names[MostNamed:]...))
}

// amongSorted lists the nearest by the alphabet, where names are many and have no order of their own.
func amongSorted(asked string, names []string) string {
	near := nearest(asked, names)
	slices.Sort(near)
	return Few(append(near, names[len(near):]...))
}

// Few lists the first names, and says how many more there are.
func Few(names []string) string {
	if more := len(names) - MostNamed; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:MostNamed], ", "), more)
	}
	return strings.Join(names, ", ")
}

// likeness is the share of pairs of letters that two words have in common (the coefficient of Dice, 1945), 1 for the same.
func likeness(a, b string) float64 {
	left, right := lettersBy2(a), lettersBy2(b)
	total, common := len(left)+len(right), 0
	for _, p := range left {
		if i := slices.Index(right, p); i >= 0 {
			right, common = slices.Delete(right, i, i+1), common+1
		}
	}
	return 2 * float64(common) / float64(total)
}

// lettersBy2 are the pairs of letters of a word, with its beginning and its end.
func lettersBy2(word string) []string {
	letters := []rune(" " + strings.ToLower(word) + " ")
	out := make([]string, 0, len(letters)-1)
	for i := range len(letters) - 1 {
		out = append(out, string(letters[i:i+2]))
	}
	return out
}
