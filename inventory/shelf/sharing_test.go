package shelf

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/reorder"
	"stead/substitution"
)

// knownRing is a ring of which all is known that its place asks for.
func knownRing(teeth int, colour, name string) inventory.Part {
	p := ring(teeth, 110, colour)
	p.Spec = p.Spec.With("bolts", substitution.Count(5), substitution.FromMaker).With("speeds", substitution.List(10), substitution.FromMaker).
		With("position", substitution.Text("outer"), substitution.FromMaker)
	p.Name = name
	return p
}

// Two rings of one size stand in for one another; one of another colour where customers usually took that; none of
// another size, and none of which it can't be told.
func TestWhatSharesStock(t *testing.T) {
	silver, also, black := knownRing(50, "silver", "ring"), knownRing(50, "silver", "ring of another brand"), knownRing(50, "black", "black ring")
	larger, untold := knownRing(52, "silver", "larger ring"), ring(50, 110, "silver")
	usual := tastes{"chainring.finish": 0.8}
	for _, c := range []struct {
		name     string
		tastes   tastes
		was, now inventory.Part
		want     float64
	}{
		{"alike", nil, silver, also, 1},
		{"another colour, nobody asked", nil, silver, black, 0},
		{"another colour that customers usually took", usual, silver, black, 0.8},
		{"another colour that half of them took", tastes{"chainring.finish": 0.5}, silver, black, 0},
		{"other teeth", usual, silver, larger, 0},
		{"can't tell", usual, silver, untold, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.InDelta(t, c.want, c.tastes.take(&c.was.Part, &c.now.Part), 1e-9)
		})
	}

	lead := &reorder.LeadTime{OnDay: []float64{0, 0, 1}}
	sold := []reorder.Sale{{Day: 1, Pieces: 1}}
	items := []reorder.Item{{Lead: lead, Sales: sold}, {Lead: lead, Sales: sold}, {Lead: lead, Sales: sold}, {Lead: lead}}
	in := func(of tastes, parts ...inventory.Part) []reorder.StandIn {
		t.Helper()
		book, numbered := bookOf(items), map[int]inventory.Part{}
		for i, p := range parts {
			numbered[i] = p
		}
		require.NoError(t, of.shareStock(book.Items, soldMost(book), numbered))
		return book.Items[0].StandIns
	}
	want := []reorder.StandIn{{Item: 1, Accept: 1}, {Item: 2, Accept: 0.8}}
	require.Equal(t, want, in(usual, silver, also, black, also), "the likest first, and none that never sold")
	require.Equal(t, want, in(usual, silver, also, black, also), "asked again")
	require.Equal(t, want[:1], in(tastes{"chainring.finish": 0.5}, silver, also, black, also), "customers' tastes have changed")
	require.Equal(t, want[:1], in(usual, silver, also, larger, also), "a part was corrected")
}

// The advice says which other part it counts on, and together they are fewer than apart.
func TestAdviceCountsOnStandIns(t *testing.T) {
	b := newBooks(t)
	b.part = addPart(t, b.tx, knownRing(50, "black", "ring"))
	supplier := addSupplier(t, b.tx).ID
	other := b
	other.part = addPart(t, b.tx, knownRing(50, "black", "ring of another brand"))
	for _, x := range []books{b, other} {
		addOffer(t, b.tx, supplier, x.part.ID, 1)
		x.move(400, 90, inventory.Opening, nil)
		for ago := 395; ago > 1; ago -= 9 {
			x.move(ago, -1, inventory.Sold, nil)
		}
	}
	k := b.keeping(b.now)
	require.Contains(t, k.Words, "This counts on ring of another brand, taken in its stead")
	together := *k.AdvisedTo + *other.keeping(b.now).AdvisedTo

	_, err := b.tx.Exec(t.Context(), `UPDATE part SET dims = dims || '{"teeth": 48}' WHERE id = $1`, other.part.ID)
	require.NoError(t, err)
	k = b.keeping(b.now)
	require.NotContains(t, k.Words, "counts on")
	require.Greater(t, *k.AdvisedTo+*other.keeping(b.now).AdvisedTo, together)
}
