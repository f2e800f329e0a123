package inventory

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/reorder"
)

// The shop's own books are played under the levels as they are set and under both rules.
func TestBooksToPlay(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	_, _, err := BooksToPlay(ctx, b.tx, UsualSimulation, b.now)
	require.ErrorContains(t, err, "the books are 0 weeks old")
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(364, 60, Opening, nil)
	for week := 50; week > 0; week -= 2 {
		b.move(week*7-3, -1, Sold, nil)
	}
	level, to := 3, 6
	require.NoError(t, SetReorder(ctx, b.tx, b.part.ID, &level, &to))
	w, asSet, err := BooksToPlay(ctx, b.tx, UsualSimulation, b.now)
	require.NoError(t, err)
	require.Equal(t, []reorder.Keep{{At: 3, UpTo: 6}}, asSet)
	require.Len(t, w.Items[0].Sales, 25)
	require.Equal(t, 260, w.End)
	rules, err := reorder.Simulate(w, asSet, []float64{0.9})
	require.NoError(t, err)
	require.Equal(t, []reorder.RuleName{reorder.AsSet, reorder.PartByPart, reorder.WholeShelf}, []reorder.RuleName{rules[0].Rule, rules[1].Rule, rules[2].Rule})
	require.Equal(t, rules[0].Sales, rules[2].Sales, "all see the same sales")
	require.Greater(t, rules[0].Share, 0.9)
}
