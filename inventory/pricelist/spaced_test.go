package pricelist

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Of a pasted list every line that is read has each cell in its own column, whichever cells are empty and however the columns
// are set; only what tells its columns no more is loose.
func TestPastedColumns(t *testing.T) {
	t.Parallel()
	heads := []string{"Code", "Description", "Pack", "Trade", "RRP", "Stock"}
	rapid.Check(t, func(t *rapid.T) {
		rows := [][]string{heads}
		for i := range rapid.IntRange(4, 12).Draw(t, "rows") {
			row := []string{
				"K" + rapid.StringMatching(`[0-9]{3,5}`).Draw(t, "code"), rapid.StringMatching(`[a-zé]{3,9}( [a-zé0-9]{1,9}){0,4}`).Draw(t, "name"),
				rapid.SampledFrom([]string{"1", "10", ""}).Draw(t, "pack"), rapid.StringMatching(`[1-9][0-9]{0,2}[.][0-9]{2}`).Draw(t, "trade"),
				rapid.StringMatching(`([1-9][0-9]{0,2}[.][0-9]{2})?`).Draw(t, "rrp"), rapid.SampledFrom([]string{"yes", "no", ""}).Draw(t, "stock"),
			}
			if i < 2 { // of which at least the first is plain
				row[2], row[4], row[5] = "1", "9.99", "yes"
			}
			rows = append(rows, row)
		}
		right := rapid.Bool().Draw(t, "figures to the right")
		loose := rapid.Bool().Draw(t, "out of line")
		text := pasted(rows, right, loose)
		f, err := Open("list.txt", strings.NewReader(text), int64(len(text)))
		require.NoError(t, err)
		require.Equal(t, "text, columns apart by blanks", f.Form())
		i := 0
		for line, err := range f.Lines("") {
			require.NoError(t, err)
			if !line.Loose {
				require.Equal(t, cleanCells(append([]string{}, rows[i]...)), line.Cells)
			}
			if !loose || i == 0 {
				require.False(t, line.Loose, "line %d", line.Number)
			}
			i++
		}
		require.Equal(t, len(rows), i)
	})
}

// pasted sets rows as a letter does: in columns, or, out of line, each cell two blanks behind the last.
func pasted(rows [][]string, right, loose bool) string {
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			switch {
			case loose && cell != "":
				line.WriteString(cell + "   ")
			case loose:
			case right && i > 1:
				line.WriteString(pad + cell + "   ")
			default:
				line.WriteString(cell + pad + "   ")
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

func TestPiecesOf(t *testing.T) {
	t.Parallel()
	require.Equal(t, []piece{{"A1", 0, 2}, {"Kette 9-fach", 6, 18}, {"8,50", 24, 28}}, piecesOf("A1    Kette 9-fach      8,50  "))
	require.Equal(t, []piece{{"A1", 0, 2}, {"ä b", 8, 11}, {"8", 16, 17}}, piecesOf("A1\tä b\t8"), "a tabulator stands on the next eighth letter")
	require.Empty(t, piecesOf("  \t "))
}

// Texts with separators stay what they were, though blanks are set around their cells.
func TestPaddedTextHasItsSeparator(t *testing.T) {
	t.Parallel()
	for list, form := range map[string]string{
		"Code;  Name;  Trade\nA1;    Chain;    8,50\nA2;    Tube;     2,50\n":          "text, semicolons",
		"Code   ;Name   ;Trade   \nA1     ;Chain  ;8,50   \nA2     ;Tube   ;2,50   \n": "text, semicolons",
		"Code,  Name,  Trade\nA1,    Chain,    8.50\nA2,    Tube,     2.50\n":          "text, commas",
		"Code\tName\tTrade\nA1\tChain  9  speed\t8.50\nA2\tTube  28\t2.50\n":           "text, tabs",
		"Code\tName\tTrade\tRRP\nA1\tChain\t8.50\t\nA2\tTube\t2.50\t9\n":               "text, tabs",
		"Code|Name|Trade\nA1|Chain  9  s|8.50\nA2|Tube  28  mm|2.50\n":                 "text, bars",
		"Code   Name    Trade\nA1     Chain   8,50\nA2     Tube    2,50\n":             "text, columns apart by blanks",
		"Code\t\tName\tTrade\nA1\t\tChain\t8,50\nA2222222\tTube\t2,50\n":               "text, columns apart by blanks",
	} {
		require.Equal(t, form, open(t, []byte(list)).Form(), list)
	}
}
