package substitution

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The torque that is marked on a part is asked of what is bolted and of nothing else; every other dimension of every
// family is asked. Which parts bear a mark is common practice, no source.
func TestAsked(t *testing.T) {
	for family, asks := range map[Family]bool{"stem": true, "seatpost": true, "bolt": true, "thru-axle": true, "rear-derailleur": true,
		"chain": false, "disc-pad": false, "rim-pad": false, "tyre": false, "tube": false, "grease": false, "loose-balls": false, "cable-inner": false} {
		table, err := TableOf(family)
		require.NoError(t, err)
		if asks {
			require.Contains(t, table.Asked(nil), "torque_nm", family)
		} else {
			require.NotContains(t, table.Asked(nil), "torque_nm", family)
		}
	}
	for _, table := range tables {
		for _, name := range table.DimensionNames() {
			require.True(t, name == "torque_nm" || slices.Contains(table.Asked(nil), name), "%s of a %s", name, table.Family)
		}
	}
	chain, err := TableOf("chain")
	require.NoError(t, err)
	require.Contains(t, chain.Asked(Spec{"torque_nm": {Value: Num(5)}}), "torque_nm", "what is on record can be put right")
	for family := range bolted {
		_, err := TableOf(family)
		require.NoError(t, err)
	}
}
