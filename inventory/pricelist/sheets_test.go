package pricelist

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A workbook whose list has several sheets, and some that are none.
func severalSheets(extra map[string][][]any) map[string][][]any {
	sheets := map[string][][]any{
		"Sheet1":       {{"Terms of trade"}, {"Carriage is paid from 75 pounds"}},
		"Tyres":        {{"Spring list"}, {"Code", "Description", "Trade", "RRP"}, {"T1", "TYRE 700X28C", 9.5, 17.99}, {"T2", "TUBE 700X28", "", 4.99}},
		"Brakes":       {{"Part no", "Brand", "Description", "Price"}, {"B1", "Hullin", "BRAKE CABLE", 0.95}},
		"Discontinued": {{"Code", "Description", "Trade", "RRP"}, {"D1", "TYRE 26X1.75", 5, 9.99}},
		"EUR":          {{"Code", "Description", "Trade", "RRP"}, {"T1", "TYRE 700X28C", 11.9, 21.99}},
		"In francs":    {{"All prices in CHF"}, {"Code", "Description", "Trade"}, {"T1", "TYRE 700X28C", 12.9}},
	}
	for name, rows := range extra {
		sheets[name] = rows
	}
	return sheets
}

func codesOf(t testing.TB, f *File, m Mapping) string {
	t.Helper()
	var out []string
	for row, err := range Rows(f, m) {
		require.NoError(t, err)
		out = append(out, fmt.Sprintf("%s/%d %s %s", row.Sheet, row.Line, row.Code, row.Price.Decimal))
		for _, p := range row.Problems {
			require.Equal(t, row.Sheet, p.Sheet)
		}
	}
	return strings.Join(out, ", ")
}

func TestSeveralSheets(t *testing.T) {
	t.Parallel()
	f := open(t, book(t, severalSheets(nil)))
	p, err := ProposeFile(f)
	require.NoError(t, err)
	m := p.In("GBP")
	require.ElementsMatch(t, []string{"Tyres/3 T1 9.5", "Tyres/4 T2 0", "Brakes/2 B1 0.95"}, strings.Split(codesOf(t, f, m), ", "))
	left := map[string]string{}
	for _, l := range m.Left {
		left[l.Sheet] = l.Why
	}
	require.Equal(t, map[string]string{
		"Sheet1": "no line of it looks like headings", "Discontinued": "its name says that it holds no offers of today",
		"EUR":       "its name says that its prices are in EUR, and the supplier's currency is GBP",
		"In francs": "the list says that its prices are in CHF, and the supplier's currency is GBP",
	}, left)

	later := open(t, book(t, severalSheets(map[string][][]any{
		"Brakes":   {{"Part no", "Description", "Brand", "Price"}, {"B1", "BRAKE CABLE", "Hullin", 0.99}},
		"Saddles":  {{"Code", "Description", "Trade", "RRP"}, {"S1", "SADDLE", 12, 24.99}},
		"Workshop": {{"Nr", "Was", "Was es kostet"}, {"W1", "STAND", 99}},
	})))
	moved, err := m.Check(later)
	require.NoError(t, err)
	moved = moved.In("GBP")
	require.ElementsMatch(t, []string{"Tyres/3 T1 9.5", "Tyres/4 T2 0", "Brakes/2 B1 0.99", "Saddles/2 S1 12"}, strings.Split(codesOf(t, later, moved), ", "))
	require.Contains(t, moved.Left, LeftSheet{"Workshop", "nobody has said which column of it is what: map the columns again"})

	gone := severalSheets(nil)
	gone["Brakes"] = [][]any{{"Code", "Text"}, {"B1", "x"}}
	_, err = m.Check(open(t, book(t, gone)))
	require.ErrorContains(t, err, "sheet Brakes: ")
}

// Whoever has confirmed one sheet gets no other read unasked.
func TestOneSheetStaysOne(t *testing.T) {
	t.Parallel()
	f := open(t, book(t, severalSheets(nil)))
	p, err := Propose(f, "Tyres")
	require.NoError(t, err)
	m, err := p.Check(f)
	require.NoError(t, err)
	require.Equal(t, "/3 T1 9.5, /4 T2 0", codesOf(t, f, m))
	require.Contains(t, m.Left, LeftSheet{"Brakes", "nobody has said which column of it is what: map the columns again"})
}

// What a person says of a column holds for the same heading on every sheet.
func TestAssign(t *testing.T) {
	t.Parallel()
	m := Mapping{Headings: []string{"Code", "Name", "List", "Yours"}, Columns: map[Field]int{Code: 1, Name: 2, Price: 3},
		Others: []Mapping{{Headings: []string{"Code", "Yours", "Name", "List"}, Columns: map[Field]int{Code: 1, Name: 3, Price: 4, RRP: 2}},
			{Headings: []string{"Code", "Name", "Price"}, Columns: map[Field]int{Code: 1, Name: 2, Price: 3}}}}
	m.Assign(map[Field]int{Code: 1, Name: 2, Price: 4})
	require.Equal(t, map[Field]int{Code: 1, Name: 3, Price: 2}, m.Others[0].Columns)
	require.Equal(t, map[Field]int{Code: 1, Name: 2, Price: 3}, m.Others[1].Columns)
}
