package shelf

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// What waits dearest comes first: a brake hose seldom asked for before the tube that is asked for each week, where the
// shop says what a wait costs it; else what is likeliest to be missed.
func TestTheDearestWaitComesFirst(t *testing.T) {
	lines := []WeekLine{
		{Name: "tape", Risk: 0.1},
		{Name: "tube", Risk: 0.3, regret: 1.2},
		{Name: "hose", Risk: 0.05, regret: 4},
		{Name: "cable", Risk: 0.2},
	}
	slices.SortStableFunc(lines, dearer)
	var names []string
	for _, l := range lines {
		names = append(names, l.Name)
	}
	require.Equal(t, []string{"hose", "tube", "cable", "tape"}, names)
}

// Of a long list the dearest come first whichever supplier sells them, in blocks whose sums are of all; and a list is told
// from another by its parts and their numbers.
func TestOfALongListTheDearest(t *testing.T) {
	line := func(part int64, order int, regret float64) WeekLine {
		return WeekLine{PartID: part, Order: order, regret: regret}
	}
	list := WeekList{Blocks: []WeekBlock{
		{Supplier: "far", Parts: 3, Lines: []WeekLine{line(1, 2, 9), line(2, 1, 4), line(3, 1, 1)}},
		{Supplier: "near", Parts: 2, Lines: []WeekLine{line(4, 5, 6), line(5, 1, 2)}},
	}}
	require.Equal(t, 5, list.Count())
	parts := func(blocks []WeekBlock) (out [][]int64) {
		for _, b := range blocks {
			var of []int64
			for _, l := range b.Lines {
				of = append(of, l.PartID)
			}
			out = append(out, of)
		}
		return out
	}
	for _, c := range []struct {
		name        string
		after, most int
		want        [][]int64
	}{
		{"the first three", 0, 3, [][]int64{{1, 2}, {4}}},
		{"the last two", 3, 2, [][]int64{{5}, {3}}},
		{"all", 0, 40, [][]int64{{1, 2, 3}, {4, 5}}},
		{"beyond", 9, 3, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			blocks := list.Dearest(c.after, c.most)
			require.Equal(t, c.want, parts(blocks))
			for _, b := range blocks {
				require.Equal(t, map[string]int{"far": 3, "near": 2}[b.Supplier], b.Parts)
			}
		})
	}
	require.Len(t, list.Blocks[0].Lines, 3, "the list itself stays whole")

	mark := list.Mark()
	turned := WeekList{Blocks: []WeekBlock{list.Blocks[1], list.Blocks[0]}}
	require.Equal(t, mark, turned.Mark(), "what is dearest may change, what is taken does not")
	turned.Blocks[0].Lines = []WeekLine{line(4, 6, 6), line(5, 1, 2)}
	require.NotEqual(t, mark, turned.Mark(), "one more of a part")
	turned.Blocks[0].Lines = []WeekLine{line(4, 5, 6)}
	require.NotEqual(t, mark, turned.Mark(), "a part fewer")
}
