package desk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist"
)

// Whoever confirms the columns of a workbook sees those of each sheet, where they are not as on the first.
func TestColumnsOfOtherSheetsAreSaid(t *testing.T) {
	t.Parallel()
	m := pricelist.Mapping{Sheet: "Chains", Headings: []string{"Code", "Text", "Net"}, Columns: map[pricelist.Field]int{pricelist.Code: 1, pricelist.Name: 2, pricelist.Price: 3}}
	same, moved := m, m
	same.Sheet, moved.Sheet = "Tyres", "Brakes"
	moved.Headings = []string{"Net", "Code", "Text"}
	moved.Columns = map[pricelist.Field]int{pricelist.Code: 2, pricelist.Name: 3, pricelist.Price: 1}
	m.Others = []pricelist.Mapping{same, moved}
	words := Columns{Mapping: m}.Words()
	require.Contains(t, words, "on sheet Brakes: code B (Code), name C (Text), price A (Net)")
	require.NotContains(t, words, "on sheet Tyres: ")
}
