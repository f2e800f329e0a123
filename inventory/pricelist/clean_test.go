package pricelist

import (
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// What steers a terminal, hides, or turns the direction of writing (Unicode Standard Annex 9, table 3) never gets past the
// reader, from whatever column, nor does what a spreadsheet breaks lines with.
func TestNothingUnseenIsRead(t *testing.T) {
	t.Parallel()
	for cell, want := range map[string]string{
		"CHAIN\x1b[31m 9SPD": "CHAIN[31m 9SPD", "CHAIN \u202e9DPS": "CHAIN 9DPS", "\u2066CHAIN\u2069": "CHAIN", "CHA\u00adIN": "CHAIN", "CHA\u200bIN": "CHAIN",
		"CHAIN\r\n9SPD": "CHAIN  9SPD", "\x00CHAIN\x07": "CHAIN", "\u009bCHAIN": "CHAIN", " \u00a0CHAIN\x1a": "CHAIN", "KETTENÖL ½\" Ø": "KETTENÖL ½\" Ø",
	} {
		require.Equal(t, want, Clean(cell))
	}
	list := "Code\x1b]0;x\x07,Description,Brand,Trade\nA\x1b1,CHAIN \x1b[2J9SPD,Tarn\u202ehow,9.00\r\nA2,CHAIN\x01 9SPD,,9.00\x1a\n"
	p, err := ProposeFile(open(t, []byte(list)))
	require.NoError(t, err)
	require.Equal(t, []string{"Code]0;x", "Description", "Brand", "Trade"}, p.Headings)
	var rows []Row
	for r, err := range Rows(open(t, []byte(list)), Mapping{Header: 1, Headings: p.Headings, Columns: map[Field]int{Code: 1, Name: 2, Brand: 3, Price: 4}}) {
		require.NoError(t, err)
		rows = append(rows, r)
	}
	require.Equal(t, "A1", rows[0].Code)
	require.Equal(t, "CHAIN [2J9SPD", rows[0].Name)
	require.Equal(t, "Tarnhow", rows[0].Brand)
	rapid.Check(t, func(t *rapid.T) {
		for _, r := range Clean(rapid.String().Draw(t, "cell")) {
			require.False(t, unicode.IsControl(r) || unicode.Is(unicode.Cf, r), "%U", r)
		}
	})
}
