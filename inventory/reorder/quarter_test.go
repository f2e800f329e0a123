package reorder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What is said of the last quarter is what was said in it: the sales after a day change nothing of what was advised before.
func TestLastQuarter(t *testing.T) {
	w := guarded(40, 60, 1, 9, false)
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	now := w.End
	quarter := func(items []Item, start, now int) (Quarter, bool) {
		return Weigh(items, start, now, terms).LastQuarter(0.95)
	}
	q, there := quarter(w.Items, 0, now)
	require.True(t, there)
	require.Equal(t, now-60, q.From)
	asked := 0
	for _, item := range w.Items {
		asked += countBefore(item.Sales, now) - countBefore(item.Sales, q.From)
	}
	require.InDelta(t, asked, q.Sales, 0.05*float64(asked), "all but the sales of what had not sold before")
	require.InDelta(t, 0.95, q.Said, 0.02)
	require.InDelta(t, q.Said, share(q.Met, q.Sales), 0.05, "the world is as it was, so what was said holds")

	t.Run("a quarter unlike all before", func(t *testing.T) {
		strange := make([]Item, len(w.Items))
		for i, item := range w.Items {
			strange[i] = item
			strange[i].Sales = nil
			for _, s := range item.Sales { // everybody asks for more at once
				if s.Day >= q.From {
					s.Pieces *= 6
				}
				strange[i].Sales = append(strange[i].Sales, s)
			}
		}
		other, there := quarter(strange, 0, now)
		require.True(t, there)
		require.Equal(t, q.Sales, other.Sales)
		require.InDelta(t, q.Said, other.Said, 0.03, "nothing foretold it")
		require.Less(t, share(other.Met, other.Sales), share(q.Met, q.Sales)-0.2)
		require.Greater(t, other.Aims, q.Aims, "and more is aimed at for it")
	})
	t.Run("too young", func(t *testing.T) {
		_, there := quarter(w.Items, 0, 79)
		require.False(t, there, "less than a month was known when it began")
		_, there = quarter(nil, 0, now)
		require.False(t, there)
	})
}

// A part that sold until the quarter before, and of which nothing is advised any more when the quarter begins, is still on
// the shelf: its next sale is met.
func TestLastQuarterKeepsWhatWasLeft(t *testing.T) {
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	const now, from, target = 600, 540, 0.6
	w := guarded(40, now/daysPerPeriod, 1, 9, false)
	var spent []Item
	for i := range w.Items {
		item := w.Items[i]
		item.StandIns = nil
		if i%2 == 0 {
			item.Sales, item.Price = nil, 50
			for day := i % daysPerPeriod; day < from-60; day += 3 {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
			}
			item.Sales = append(item.Sales, Sale{Day: from + 5, Pieces: 1})
		}
		spent = append(spent, item)
	}
	w.Items = spent
	keeps := Weigh(Books{w, from}.known(), 0, from, terms).For(target)
	left := 0
	for i := 0; i < len(keeps); i += 2 {
		require.Zero(t, keeps[i].UpTo, "nothing of it is advised when the quarter begins")
		left++
	}
	q, there := Weigh(w.Items, 0, now, terms).LastQuarter(target)
	require.True(t, there)
	require.Greater(t, share(q.Met, q.Sales), 0.7, "%d of %d sales, %d of what was left", q.Met, q.Sales, left)
}

// What is said comes of what is aimed at.
func TestGivesIsWhatWasAskedFor(t *testing.T) {
	p := promise{shift: -0.4, tilt: 0.15}
	for _, target := range []float64{0.5, 0.9, 0.95, 0.99} {
		require.InDelta(t, target, p.gives(p.ask(target)), 1e-12)
	}
	require.Zero(t, p.gives(0))
	require.Equal(t, 1.0, p.gives(1))
}
