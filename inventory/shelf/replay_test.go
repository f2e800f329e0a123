package shelf

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/reorder"
)

// The shop's own books are played under the levels as they are set and under both rules.
func TestBooksToPlay(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	_, err := BooksToPlay(ctx, b.tx, UsualSimulation, b.now)
	require.ErrorContains(t, err, "the books are 0 weeks old")
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(364, 60, inventory.Opening, nil)
	for week := 50; week > 0; week -= 2 {
		b.move(week*7-3, -1, inventory.Sold, nil)
	}
	level, to := 3, 6
	require.NoError(t, SetReorder(ctx, b.tx, b.part.ID, &level, &to))
	books, err := BooksToPlay(ctx, b.tx, UsualSimulation, b.now)
	require.NoError(t, err)
	require.Equal(t, []reorder.Keep{{At: 3, UpTo: 6}}, books.AsSet)
	w := books.World
	require.Len(t, w.Items[0].Sales, 25)
	require.Equal(t, 260, w.End-w.Begin)
	require.NotNil(t, w.Season, "it is played as it is advised: with the season")
	rules, err := reorder.Simulate(w, books.AsSet, []float64{0.9})
	require.NoError(t, err)
	require.Equal(t, []reorder.RuleName{reorder.AsSet, reorder.PartByPart, reorder.WholeShelf}, []reorder.RuleName{rules[0].Rule, rules[1].Rule, rules[2].Rule})
	require.Equal(t, rules[0].Sales, rules[2].Sales, "all see the same sales")
	require.Greater(t, rules[0].Share, 0.9)
}

// Parcels are charged as each supplier of the books asks, in the shop's money and free from its own amount on, unless one
// carriage is given for all. What is in stock and what comes to order travel together.
func TestBooksToPlayChargeAsTheSuppliersAsk(t *testing.T) {
	b := newBooks(t)
	first, second := addSupplier(t, b.tx), addSupplier(t, b.tx)
	_, err := b.tx.Exec(t.Context(), `UPDATE supplier SET carriage = 4.50, carriage_paid_at = NULL WHERE id = $1`, second.ID)
	require.NoError(t, err)
	sold := func(s inventory.Supplier, stock inventory.Signal) {
		part := b
		part.part = addPart(t, b.tx, knownRing(50, "silver", fmt.Sprintf("ring %d", shifted.Add(1))))
		o := addOffer(t, b.tx, s.ID, part.part.ID, 1)
		o.Stock = stock
		_, err := inventory.PutOffer(t.Context(), b.tx, o)
		require.NoError(t, err)
		part.move(364, 60, inventory.Opening, nil)
		for week := 50; week > 0; week -= 2 {
			part.move(week*7-3, -1, inventory.Sold, nil)
		}
	}
	sold(first, inventory.InStock)
	sold(first, inventory.ToOrder)
	sold(second, inventory.InStock)
	own := UsualSimulation
	own.OwnCarriage = true
	books, err := BooksToPlay(t.Context(), b.tx, own, b.now)
	require.NoError(t, err)
	require.Equal(t, map[int]reorder.Carriage{int(first.ID): {Each: 5.95, PaidAt: 75}, int(second.ID): {Each: 4.5}}, books.World.Carriage)
	books, err = BooksToPlay(t.Context(), b.tx, UsualSimulation, b.now)
	require.NoError(t, err)
	require.Equal(t, map[int]reorder.Carriage{int(first.ID): {Each: 4.95}, int(second.ID): {Each: 4.95}}, books.World.Carriage)
}

// Who stands in for whom is known of the parts that are played by their numbers there, however many are not played.
func TestBooksToPlayKnowStandIns(t *testing.T) {
	b := newBooks(t)
	supplier := addSupplier(t, b.tx)
	b.move(200, 5, inventory.Opening, nil) // lies there, never sold and offered by nobody: it is not played
	var played []books
	for _, name := range []string{"ring", "ring of another brand"} {
		twin := b
		twin.part = addPart(t, b.tx, knownRing(50, "silver", name))
		addOffer(t, b.tx, supplier.ID, twin.part.ID, 1)
		twin.move(364, 60, inventory.Opening, nil)
		for week := 50; week > 0; week -= 2 {
			twin.move(week*7-3, -1, inventory.Sold, nil)
		}
		played = append(played, twin)
	}
	out, err := BooksToPlay(t.Context(), b.tx, UsualSimulation, b.now)
	require.NoError(t, err)
	require.Len(t, out.World.Items, 2)
	for i, item := range out.World.Items {
		require.Len(t, item.StandIns, 1, played[i].part.Name)
		require.Equal(t, 1-i, item.StandIns[0].Item)
	}
	_, err = reorder.Simulate(out.World, out.AsSet, []float64{0.9})
	require.NoError(t, err)
}
