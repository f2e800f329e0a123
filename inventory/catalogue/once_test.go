package catalogue

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// A line that is printed twice is taken once; one code for two things, or at two prices, is taken from neither.
func TestPrintedTwice(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	list := head + "A1,CHAIN 9SPD 116L,,,,9.00,19.99,,\nA1,CHAIN 9SPD 116L,,,,9.00,19.99,,\nA2,CHAIN 10SPD 116L,,,,9.00,19.99,,\nA2,CHAIN 10SPD 116L,,,,9.50,19.99,,\n" +
		"A3,FREEWHEEL 7SPD 14-34,,,,9.75,19.99,,\nA3,FREEWHEEL 6SPD 14-34,,,,9.75,19.99,,\n"
	s, err := load(t, tx, supplier, list, 0, Accept{GoodRows: true})
	require.NoError(t, err)
	require.Equal(t, 4, s.Refused)
	prices := pricesOf(t, tx, supplier)
	require.Len(t, prices, 1)
	require.Equal(t, "9", prices["A1"].String())
}
