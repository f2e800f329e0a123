package pricelist

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What suppliers write of how much is sold together; common practice, no source.
func TestQuantityIn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cell   string
		pieces int // 0: it cannot be told
		by     measure
		lot    string
	}{
		{"10", 10, "", ""}, {"10.00", 10, "", ""}, {"1,000", 1000, "", ""}, {"each", 1, "", ""}, {"St.", 1, "", ""}, {"5 Stück", 5, "", ""},
		{"pair", 2, "", ""}, {"25 Paar", 50, "", ""}, {"10 paires", 20, "", ""}, {"1 paio", 2, "", ""}, {"gross", 144, "", ""}, {"2 doz", 24, "", ""}, {"5 x 10", 50, "", ""}, {"2 x pair", 4, "", ""},
		{"box of 100", 100, "", ""}, {"bag 144", 144, "", ""}, {"boîte de 50", 50, "", ""}, {"100 pz", 100, "", ""}, {"pack of 12", 12, "", ""}, {"pair of 2 bags", 4, "", ""},
		{"10's", 10, "", ""}, {"PK10", 10, "", ""}, {"C62", 1, "", ""}, {"loose", 1, "", ""}, {"singles", 1, "", ""}, {"Stck.", 1, "", ""}, {"bulk", 0, "", ""},
		{"box", 1, "", "box"}, {"Karton", 1, "", "karton"},
		{"30 m", 30, metres, ""}, {"Rolle 30 m", 30, metres, ""}, {"30m", 30, metres, ""}, {"metre", 1, metres, ""},
		{"5 litre can", 1, litres, ""}, {"125 ml", 1, portions, ""}, {"kg", 1, kilograms, ""},
		{"", 0, "", ""}, {"ask", 0, "", ""}, {"0", 0, "", ""}, {"2.5", 0, "", ""}, {"10 20", 0, "", ""}, {"9.50 a bag", 0, "", ""}, {"-", 0, "", ""}, {"500000", 0, "", ""},
	} {
		t.Run(c.cell, func(t *testing.T) {
			t.Parallel()
			q, ok := quantityIn(c.cell, false)
			require.Equal(t, c.pieces > 0, ok)
			if ok {
				require.Equal(t, c.pieces, q.pieces())
				require.Equal(t, c.by, q.measure)
				require.Equal(t, c.lot, q.lot)
			}
		})
	}
	q, ok := quantityIn("1.000", true)
	require.True(t, ok)
	require.Equal(t, 1000, q.pieces(), "where the comma is the decimal mark")
}
