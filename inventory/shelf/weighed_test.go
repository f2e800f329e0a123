package shelf

import (
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/reorder"
)

// bookOf is the stock book of items.
func bookOf(items []reorder.Item) (book reorder.StockBook) {
	for _, item := range items {
		book.Add(item)
	}
	return book
}

// However few parts are read at a time, the same is weighed and told of each.
func TestShelfReadBySomeIsTheWhole(t *testing.T) {
	b := newBooks(t)
	supplier := addSupplier(t, b.tx).ID
	for n := range 7 {
		other := b
		other.part = addPart(t, b.tx, knownRing(50, "black", fmt.Sprintf("ring %d", n)))
		if n != 3 { // nobody offers one of them
			addOffer(t, b.tx, supplier, other.part.ID, 1+n%2)
		}
		other.move(400, 90, inventory.Opening, nil)
		for ago := 395; ago > 1; ago -= 9 + 5*n {
			other.move(ago, -1-n%3, inventory.Sold, nil)
		}
	}
	books, err := loadShelfBooks(t.Context(), b.tx, b.now)
	require.NoError(t, err)
	by := func(atOnce int) *Advice {
		policy := usualShelf
		policy.LookEvery = 5
		s, err := books.advice(t.Context(), b.tx, policy, b.now)
		require.NoError(t, err)
		require.NoError(t, s.weigh(t.Context(), b.tx, books, atOnce))
		return s
	}
	whole := by(len(books.parts))
	require.Len(t, whole.Parts, len(books.parts))
	for _, atOnce := range []int{1, 2, 3, len(books.parts) + 1} {
		some := by(atOnce)
		require.Equal(t, whole.Parts, some.Parts, "%d at a time", atOnce)
		require.Equal(t, whole.weighed.of, some.weighed.of, "%d at a time", atOnce)
	}
}

// A shelf is weighed once as long as nothing that bears on it has changed, whoever asks, and never taken for another.
func TestShelfIsWeighedOnce(t *testing.T) {
	lead := func(onDay ...float64) *reorder.LeadTime { return reorder.LeadTimeOf(onDay) }
	season := reorder.Riding
	shelf := func() ([]reorder.Item, reorder.Terms) {
		var items []reorder.Item
		for _, every := range []int{5, 9, 14} {
			item := reorder.Item{Name: "tube", Kind: "tube", Price: 4, Lead: lead(0, 0, 0.5, 0.5), Breaks: []reorder.Break{{From: 10, Price: 3}},
				StandIns: []reorder.StandIn{{Item: 0, Accept: 0.9}}, Unseen: []reorder.Stretch{{From: 20, To: 22, Share: 1}}}
			for day := every; day < 260; day += every {
				item.Sales = append(item.Sales, reorder.Sale{Day: day, Pieces: 1})
			}
			items = append(items, item)
		}
		return items, reorder.Terms{LookEvery: 5, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1, Season: &season}
	}
	ask := func(start, today int, change func([]reorder.Item, *reorder.Terms)) *weighed {
		items, terms := shelf()
		if change != nil {
			change(items, &terms)
		}
		w, err := weigh(bookOf(items), start, today, terms)
		require.NoError(t, err)
		return w
	}
	usual := ask(0, 260, nil)
	require.Same(t, usual, ask(0, 260, nil))
	for name, other := range map[string]*weighed{
		"another day":        ask(0, 261, nil),
		"older books":        ask(-5, 260, nil),
		"another sale":       ask(0, 260, func(items []reorder.Item, _ *reorder.Terms) { items[1].Sales[3].Pieces = 2 }),
		"another lead time":  ask(0, 260, func(items []reorder.Item, _ *reorder.Terms) { items[2].Lead = lead(0, 0, 0.4, 0.6) }),
		"nobody sells it":    ask(0, 260, func(items []reorder.Item, _ *reorder.Terms) { items[2].Lead = nil }),
		"another price":      ask(0, 260, func(items []reorder.Item, _ *reorder.Terms) { items[0].Breaks[0].Price = 2 }),
		"another look":       ask(0, 260, func(_ []reorder.Item, terms *reorder.Terms) { terms.LookEvery = 10 }),
		"another season":     ask(0, 260, func(_ []reorder.Item, terms *reorder.Terms) { turned := season.Turned(); terms.Season = &turned }),
		"a stand-in is gone": ask(0, 260, func(items []reorder.Item, _ *reorder.Terms) { items[1].StandIns = nil }),
	} {
		require.NotEqual(t, usual.of, other.of, name)
		require.NotSame(t, usual, other, name)
	}
	items, terms := shelf()
	want, told := reorder.Weigh(items, 0, 260, terms).LastQuarter(0.95)
	require.True(t, told)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			w, err := weigh(bookOf(items), 0, 260, terms)
			require.NoError(t, err)
			got, _ := w.LastQuarter(0.95)
			require.Equal(t, want, got)
			require.Equal(t, usual.For(0.95), w.For(0.95))
		})
	}
	all.Wait()
}
