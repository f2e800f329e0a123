package catalogue

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// What is held is said for what was not accepted, and not for what was.
func TestHeldForWhatWasNotAccepted(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, head+"A1,CHAIN 9SPD 116L,,,,9.00,19.99,,\n", 0, Accept{})
	require.NoError(t, err)
	list := head + "A1,CHAIN 9SPD 116L,,,,19.00,39.99,,\nA2,CHAIN 10SPD 116L,,,,POA,,,\n"
	_, err = load(t, tx, supplier, list, 1, Accept{})
	require.ErrorContains(t, err, "1 of 2 lines are bad")
	_, err = load(t, tx, supplier, list, 1, Accept{GoodRows: true})
	require.ErrorContains(t, err, "nothing was loaded: 1 prices moved far, the first is A1 from 9.00 to 19.00")
	_, err = load(t, tx, supplier, list, 1, Accept{GoodRows: true, Jumps: true})
	require.NoError(t, err)
}
