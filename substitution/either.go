package substitution

import "slices"

// Either is the narrowest condition that admits whatever one of two conditions admits, or false where they ask about
// different things.
func Either(a, b Condition) (Condition, bool) {
	switch a := a.(type) {
	case Between:
		if b, same := b.(Between); same && a.Dimension == b.Dimension {
			return Between{a.Dimension, min(a.Low, b.Low), max(a.High, b.High)}, true
		}
	case OneOf:
		if b, same := b.(OneOf); same && a.Dimension == b.Dimension {
			return OneOf{a.Dimension, union(a.Words, b.Words)}, true
		}
	case SharesAny:
		if b, same := b.(SharesAny); same && a.Dimension == b.Dimension {
			return SharesAny{a.Dimension, union(a.Counts, b.Counts)}, true
		}
	case Weighted:
		if b, same := b.(Weighted); same && slices.Equal(a.Terms, b.Terms) {
			return Weighted{a.Terms, max(a.AtMost, b.AtMost)}, true
		}
	}
	return nil, false
}

func union[T comparable](a, b []T) []T {
	all := slices.Clone(a)
	for _, v := range b {
		if !slices.Contains(all, v) {
			all = append(all, v)
		}
	}
	return all
}
