package terminal

import (
	"strings"
	"testing"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestTableKeepsToTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns := rapid.IntRange(1, 7).Draw(t, "columns")
		word := rapid.StringMatching(`[a-zé]{1,12}( [a-z]{1,12}){0,12}`)
		heading := rapid.SliceOfN(rapid.StringMatching(`>?[A-Z]{1,8}`), columns, columns).Draw(t, "heading")
		rows := rapid.SliceOfN(rapid.SliceOfN(word, columns, columns), 0, 5).Draw(t, "rows")
		var out strings.Builder
		Table(&out, heading, rows)
		for line := range strings.Lines(out.String()) {
			require.LessOrEqual(t, text.StringWidthWithoutEscSequences(strings.TrimRight(line, "\n")), Width, "%q", line)
		}
	})
}

func TestTable(t *testing.T) {
	var out strings.Builder
	Table(&out, []string{"PART", ">PACKS"}, [][]string{{"ring", "2"}, {"a long name of a part", "12"}})
	require.Equal(t, "PART                   PACKS\nring                       2\na long name of a part     12\n", out.String())
}

func TestTableWithoutAHeading(t *testing.T) {
	var out strings.Builder
	Table(&out, []string{"", ">"}, [][]string{{"fit chain", "£13.20"}})
	require.Equal(t, "fit chain  £13.20\n", out.String())
}

func TestPlot(t *testing.T) {
	var out strings.Builder
	Plot(&out, []Point{{X: 1, Y: 10, Mark: 'a'}, {X: 5, Y: 2, Mark: 'b'}}, Axis{"1 Dec", "5 Dec"}, Axis{"£2", "£10"})
	lines := strings.Split(out.String(), "\n")
	require.Equal(t, "       £10 │a", lines[0])
	require.Equal(t, "        £2 │"+strings.Repeat(" ", plotWidth-1)+"b", lines[plotHeight-1])
	require.True(t, strings.HasPrefix(strings.TrimSpace(lines[plotHeight+1]), "1 Dec"))
	require.True(t, strings.HasSuffix(lines[plotHeight+1], "5 Dec"))
}

func TestPlotOfOnePoint(t *testing.T) {
	var out strings.Builder
	Plot(&out, []Point{{X: 3, Y: 3, Mark: 'o'}}, Axis{"a", "a"}, Axis{"b", "b"})
	require.Contains(t, out.String(), "o")
}

func TestBars(t *testing.T) {
	var out strings.Builder
	Bars(&out, []int{0, 0, 2})
	require.Equal(t, "         0 │██ 2\n         1 │ 0\n         2 │█ 1\n", out.String())
}
