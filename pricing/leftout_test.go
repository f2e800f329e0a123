package pricing

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
)

// What is left out is found again among what was agreed by what it is: carriage by whose it is, however they were called
// when it was agreed, and what was kept without its kind by its words.
func TestLeftOutOf(t *testing.T) {
	vat := Tax{Name: "VAT", Percent: decimal.NewFromInt(20)}
	five := decimal.NewFromInt(5)
	carriage := func(supplier, words string) AgreedLine {
		return AgreedLine{Kind: CarriesLine, Supplier: supplier, Words: words, Tax: vat, Amount: five}
	}
	ring := AgreedLine{Kind: PartsLine, Place: "crank.outer-ring", Words: "ring 50T", Pieces: 2, Supplier: "north", Tax: vat, Amount: five}
	for _, tc := range []struct {
		name   string
		left   LeftOut
		agreed AgreedLine
		is     bool
	}{
		{"carriage by another name", LeftOut{Kind: CarriesLine, Supplier: "north", Words: "carriage from Northmoor Wheel Goods", Tax: vat, Amount: five}, carriage("north", "carriage from north"), true},
		{"carriage of another of the same name", LeftOut{Kind: CarriesLine, Supplier: "north", Words: "carriage from Northmoor", Tax: vat, Amount: five}, carriage("north-2", "carriage from Northmoor"), false},
		{"more carriage than was agreed", LeftOut{Kind: CarriesLine, Supplier: "north", Tax: vat, Amount: five.Add(five)}, carriage("north", "carriage from north"), false},
		{"carriage kept without its kind", LeftOut{Words: "carriage from north", Tax: vat, Amount: five}, carriage("north", "carriage from north"), true},
		{"carriage kept without its kind, of another", LeftOut{Words: "carriage from south", Tax: vat, Amount: five}, carriage("north", "carriage from north"), false},
		{"one piece of two", LeftOut{Kind: PartsLine, Place: ring.Place, Words: ring.Words, Pieces: 1, Tax: vat, Amount: five.Div(decimal.NewFromInt(2))}, ring, true},
		{"work of a part's words", LeftOut{Kind: WorkLine, Place: ring.Place, Words: ring.Words, Tax: vat, Amount: five}, ring, false},
	} {
		t.Run(tc.name, func(t *testing.T) { require.Equal(t, tc.is, tc.left.Of(tc.agreed)) })
	}
}

// A quote that was made before quotes kept what suppliers are called tells of them by their codes, and its carriage is the
// same line whatever it is called.
func TestSourceOfAnOldQuote(t *testing.T) {
	was := Quote{Version: 1}.lines(Option{Carriage: []CarriageLine{{Supplier: "north", Amount: decimal.NewFromInt(5)}}})
	is := Quote{Version: 1}.lines(Option{Carriage: []CarriageLine{{Supplier: "north", From: "Northmoor Wheel Goods", Amount: decimal.NewFromInt(5)}}})
	require.Equal(t, "carriage from north", was[0].Words)
	require.Equal(t, "carriage from Northmoor Wheel Goods", is[0].Words)
	require.True(t, was[0].is(is[0]))
	require.Equal(t, "north", PartLine{Supplier: "north"}.Source())
	require.Equal(t, "Northmoor Wheel Goods", PartLine{Supplier: "north", From: "Northmoor Wheel Goods"}.Source())
}
