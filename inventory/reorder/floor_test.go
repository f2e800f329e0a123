package reorder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Where what is always kept of a part meets more than it would by itself, other parts are kept lower: which, and what to ask
// for to have them back, is told. A floor that changes nothing lowers nothing.
func TestFloorsLowerOtherParts(t *testing.T) {
	lead := LeadTimeOf([]float64{0, 0, 0, 0.8, 0, 0, 0, 0, 0.2})
	weigh := func(least int) *Shelf {
		items := Make(40, 60, 5)
		for i := range items {
			items[i].Lead, items[i].Price = lead, 10
		}
		items[0].Sales = nil
		for day := 3; day < 295; day += 2 { // it sells most, and is dear
			items[0].Sales = append(items[0].Sales, Sale{Day: day, Pieces: 1})
		}
		items[0].Price, items[0].Least = 80, least
		return Weigh(items, 0, 300, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	}
	const target = 0.9
	none := weigh(0)
	lower, _ := none.Lowered(target, none.For(target))
	require.Empty(t, lower, "nothing is insisted on")

	small := weigh(1)
	lower, _ = small.Lowered(target, small.For(target))
	require.Empty(t, lower)

	s := weigh(20)
	keeps := s.For(target)
	lower, restored := s.Lowered(target, keeps)
	require.NotEmpty(t, lower)
	for _, l := range lower {
		require.NotZero(t, l.Item, "of the part itself more is kept")
		require.Equal(t, keeps[l.Item].UpTo, l.Is.UpTo)
		require.Greater(t, l.Without.own, l.Is.own)
	}
	require.Greater(t, restored, target)
	again, _ := s.Lowered(target, s.For(restored))
	require.Less(t, len(again), len(lower), "asked for so much they are kept again")
}
