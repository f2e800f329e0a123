package inventory

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/reorder"
)

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
		w, err := weigh(items, start, today, terms)
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
			w, err := weigh(items, 0, 260, terms)
			require.NoError(t, err)
			got, _ := w.LastQuarter(0.95)
			require.Equal(t, want, got)
			require.Equal(t, usual.For(0.95), w.For(0.95))
		})
	}
	all.Wait()
}
