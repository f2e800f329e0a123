package shelf

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/reorder"
)

// badInput is what the week's list, what to keep, what is too many and the play of the books say of a part whose books are
// not as they should be.
type badInput struct {
	name   string
	silent bool // no day is booked for seven weeks
	do     func(books, inventory.Offer)
	doubt  string // said on every list
	words  string // said of the part itself
	left   bool   // out of all that rests on its figures
	unsold bool   // out of what can be ordered, but not out of what lies there
	packs  int    // pieces are ordered in so many
}

var badInputs = []badInput{
	{name: "nothing is wrong"},
	{name: "returns larger than use", do: func(b books, _ inventory.Offer) { b.move(1, 900, inventory.Returned, nil) },
		doubt: "more came back than was ever used or sold", words: "nothing can be said until that is put right", left: true},
	{name: "a clock that stood at its first day", do: func(b books, _ inventory.Offer) { b.move(20_000, 2, inventory.Opening, nil) },
		doubt: "1 movement is dated two years or more before all others"},
	{name: "a clock that was ahead", do: func(b books, _ inventory.Offer) { b.move(-40, 1, inventory.Opening, nil) }, doubt: "1 movement is dated after today"},
	{name: "weeks without entries", silent: true, doubt: "nothing was booked from"},
	{name: "a part renamed", do: func(b books, _ inventory.Offer) {
		b.exec(`UPDATE part SET name = 'a ring by another name' WHERE id = $1`, b.part.ID)
	}},
	{name: "a part merged with another", do: func(b books, _ inventory.Offer) {
		twin := b
		twin.part = addPart(b.t, b.tx, ring(50, 110, "silver"))
		twin.move(200, 9, inventory.Opening, nil)
		twin.move(190, -9, inventory.Sold, nil)
		b.exec(`UPDATE part SET merged_into = $1 WHERE id = $2`, b.part.ID, twin.part.ID)
	}},
	{name: "a pack that changed", packs: 10, do: func(b books, o inventory.Offer) {
		o.Pack = 10
		_, err := inventory.PutOffer(b.t.Context(), b.tx, o)
		require.NoError(b.t, err)
	}},
	{name: "a price of nought", do: func(b books, o inventory.Offer) {
		o.Breaks = []inventory.Break{{FromPacks: 1, Price: pounds("0.00")}}
		_, err := inventory.PutOffer(b.t.Context(), b.tx, o)
		require.ErrorContains(b.t, err, "cannot be meant")
	}},
	{name: "a supplier gone", unsold: true, words: "Nobody offers it at a price that can be compared", do: func(b books, o inventory.Offer) {
		b.exec(`UPDATE offer SET gone_at = as_of WHERE id = $1`, o.ID)
	}},
}

func (b books) exec(sql string, args ...any) {
	b.t.Helper()
	_, err := b.tx.Exec(b.t.Context(), sql, args...)
	require.NoError(b.t, err)
}

// selling is a part that sells every third day, of which so many were bought at first.
func (b books) selling(bought int, silent bool) {
	b.move(200, bought, inventory.Opening, nil)
	for ago := 199; ago > 1; ago -= 3 {
		if !silent || ago < 60 || ago > 110 {
			b.move(ago, -1, inventory.Sold, nil)
		}
	}
}

// What cannot be right in the books gives a sentence wherever the shelf is spoken of, and lists without the part rather than a
// wrong line; the other part stays on all of them.
func TestBadInputOfTheShelf(t *testing.T) {
	for _, c := range badInputs {
		t.Run(c.name, func(t *testing.T) {
			b := newBooks(t)
			supplier := addSupplier(t, b.tx).ID
			offer := addOffer(t, b.tx, supplier, b.part.ID, 1)
			other := b
			other.part = addPart(t, b.tx, ring(52, 130, "silver"))
			addOffer(t, b.tx, supplier, other.part.ID, 1)
			b.selling(900, c.silent)
			other.selling(900, c.silent)
			if c.do != nil {
				c.do(b, offer)
			}
			c.tooMany(t, b, other)
			c.played(t, b, other)
			for _, x := range []books{b, other} { // none are left
				x.move(1, -stockOf(t, x.tx, x.part.ID).OnHand, inventory.Scrapped, nil)
			}
			c.listed(t, b, other)
		})
	}
}

func (c badInput) shelf(t *testing.T, b books) *Advice {
	t.Helper()
	s, err := Load(t.Context(), b.tx, usualShelf, nil, b.now)
	require.NoError(t, err)
	c.says(t, s.Doubts)
	return s
}

// says looks for the sentence, and for no other.
func (c badInput) says(t *testing.T, doubts []string) {
	t.Helper()
	if c.doubt == "" {
		require.Empty(t, doubts)
		return
	}
	require.NotEmpty(t, doubts)
	require.Contains(t, doubts[0], c.doubt)
}

func (c badInput) listed(t *testing.T, b, other books) {
	s := c.shelf(t, b)
	k, there := s.Keeping(b.part.ID)
	require.True(t, there)
	require.Contains(t, k.Words, c.words)
	require.Equal(t, c.left || c.unsold, k.AdvisedTo == nil, k.Words)
	for _, change := range s.Changes() {
		require.False(t, change.PartID == b.part.ID && (c.left || c.unsold), "--as-advised sets nothing of what nothing is known of")
	}
	list, err := s.WeekList()
	require.NoError(t, err)
	c.says(t, list.Doubts)
	line, there := list.Line(b.part.ID)
	require.Equal(t, !c.left && !c.unsold, there)
	if there {
		require.Zero(t, line.Order%max(1, c.packs), "whole packs as they are now")
	}
	_, there = list.Line(other.part.ID)
	require.True(t, there)
}

func (c badInput) tooMany(t *testing.T, b, other books) {
	excess, err := c.shelf(t, b).Excess(t.Context(), b.tx)
	require.NoError(t, err)
	of := func(part inventory.Part) *Excess {
		if i := slices.IndexFunc(excess, func(e Excess) bool { return e.PartID == part.ID }); i >= 0 {
			return &excess[i]
		}
		return nil
	}
	require.NotNil(t, of(other.part))
	e := of(b.part)
	require.Equal(t, c.left, e == nil)
	if e == nil {
		return
	}
	require.WithinDuration(t, b.now.AddDate(0, 0, -200), e.Since.Time(), 48*time.Hour, "no longer ago than the books go")
	if c.unsold {
		require.Equal(t, KeepThem, e.How, "what it is worth nobody knows")
	}
}

func (c badInput) played(t *testing.T, b, other books) {
	world, err := BooksToPlay(t.Context(), b.tx, UsualSimulation, b.now)
	require.NoError(t, err)
	c.says(t, world.Doubts)
	names := []string{}
	for _, item := range world.World.Items {
		names = append(names, item.Name)
	}
	parts, err := inventory.Parts(t.Context(), b.tx, []int64{b.part.ID, other.part.ID})
	require.NoError(t, err)
	require.Contains(t, names, parts[other.part.ID].Name)
	require.Equal(t, !c.left && !c.unsold, slices.Contains(names, parts[b.part.ID].Name))
	_, err = reorder.Simulate(world.World, world.AsSet, []float64{1})
	require.ErrorContains(t, err, "is not between 0 and 0.999", "all sales can never be met")
	rules, err := reorder.Simulate(world.World, world.AsSet, []float64{0.9})
	require.NoError(t, err)
	require.Len(t, rules, 3)
}

// What is sold over the counter of a part that is one with another now was not there on the same days.
func TestEmptyDaysOfAMergedPart(t *testing.T) {
	b := newBooks(t)
	twin := b
	twin.part = addPart(t, b.tx, ring(50, 110, "silver"))
	twin.move(200, 2, inventory.Opening, nil)
	twin.move(190, -2, inventory.Sold, nil)
	b.exec(`UPDATE part SET merged_into = $1 WHERE id = $2`, b.part.ID, twin.part.ID)
	b.move(100, 2, inventory.Opening, nil)
	d, err := LoadDemand(t.Context(), b.tx, b.now)
	require.NoError(t, err)
	require.Len(t, d.Empty[b.part.ID], 1)
	require.Empty(t, d.Empty[twin.part.ID])
}
