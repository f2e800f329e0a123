package ordering

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOfALongListTheDearest(t *testing.T) {
	line := func(name string, home int64, jobs ...int64) Line { return Line{Name: name, home: home, ForJobs: jobs} }
	list := List{Orders: []Draft{
		{Supplier: "a", Lines: []Line{line("bolts", 2), line("rim", 90), line("tape", 5, 101)}},
		{Supplier: "b", Lines: []Line{line("hub", 100), line("cap", 1, 102), line("nut", 2)}},
	}}
	names := func(orders []Draft) (out [][]string) {
		for _, o := range orders {
			var of []string
			for _, l := range o.Lines {
				of = append(of, l.Name)
			}
			out = append(out, of)
		}
		return out
	}
	for _, c := range []struct {
		name        string
		after, most int
		want        [][]string
	}{
		{"jobs first", 0, 2, [][]string{{"tape"}, {"cap"}}},
		{"then the dearest", 0, 4, [][]string{{"tape", "rim"}, {"cap", "hub"}}},
		{"those after", 3, 2, [][]string{{"rim", "bolts"}, nil}},
		{"none after the last", 6, 2, [][]string{nil, nil}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, names(list.Dearest(c.after, c.most)))
		})
	}
	require.Equal(t, 6, list.Count())
	require.Len(t, list.Orders[0].Lines, 3, "the list is left as it is")
}
