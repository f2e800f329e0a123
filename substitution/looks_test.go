package substitution

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two parts are of one kind exactly when they are the same in every dimension that was asked, and kinds are counted as they
// come.
func TestKindsAreAlikeInWhatWasAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		family := rapid.SampledFrom(Families()).Draw(t, "family")
		parts := make([]*Part, rapid.IntRange(0, 8).Draw(t, "parts"))
		for i := range parts {
			parts[i] = anyPart(t, family, fmt.Sprint(i, " "))
		}
		table, err := TableOf(family)
		require.NoError(t, err)
		looks := LooksOf(parts)
		for range 3 { // what was read before is not read again
			dims := rapid.SliceOfN(rapid.SampledFrom(append(table.DimensionNames(), "")), 0, 4).Draw(t, "dimensions")
			same := func(p, q *Part) bool {
				for _, name := range dims {
					v, known := p.Get(name)
					w, asWell := q.Get(name)
					if name == "" && p.Spec.String() != q.Spec.String() || known != asWell || !v.Equal(w) {
						return false
					}
				}
				return true
			}
			requireKinds(t, looks.Kinds(dims...), parts, same)
		}
		if len(parts) > 0 {
			very := rapid.SampledFrom(parts).Draw(t, "the very one")
			requireKinds(t, looks.Very(very), parts, func(p, q *Part) bool { return p == q || p != very && q != very })
		}
	})
}

func requireKinds(t *rapid.T, kinds Kinds, parts []*Part, same func(p, q *Part) bool) {
	require.Len(t, kinds.Of, len(parts))
	count := 0
	for i, p := range parts {
		if first := kinds.First[kinds.Of[i]]; first == i {
			require.Equal(t, count, kinds.Of[i])
			count++
		}
		for j, q := range parts {
			require.Equal(t, same(p, q), kinds.Of[i] == kinds.Of[j], "%v and %v", p.Spec, q.Spec)
		}
	}
	require.Len(t, kinds.First, count)
}
