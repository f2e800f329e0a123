package shelf

import (
	"testing"

	"stead/inventory"

	"github.com/stretchr/testify/require"
)

// The list says how the last quarter's promises did, once there is one.
func TestLastQuarter(t *testing.T) {
	b := newBooks(t)
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	quarter := func() *Quarter {
		s, err := Load(t.Context(), b.tx, usualShelf, nil, b.now)
		require.NoError(t, err)
		q, err := s.LastQuarter(t.Context(), b.tx)
		require.NoError(t, err)
		return q
	}
	require.Nil(t, quarter(), "nothing was said yet")
	b.move(364, 90, inventory.Opening, nil)
	for ago := 360; ago > 0; ago -= 7 {
		b.move(ago, -1, inventory.Sold, nil)
	}
	q := quarter()
	require.Equal(t, 12, q.Sales, "a week, one each")
	require.LessOrEqual(t, q.Met, q.Sales)
	require.Greater(t, q.Said, 0.8)
	require.True(t, q.Few())
	require.Zero(t, q.Used)

	job := addJob(t, b.tx)
	b.move(10, -1, inventory.Used, &job)
	require.Equal(t, 1, quarter().Used)
	require.Zero(t, quarter().Waited, "it was on the shelf")
}

// What chance explains is no reason to think otherwise of the advice: of 100 sales of which 95 were to be met, 91 to 99.
func TestLuck(t *testing.T) {
	for met, luck := range map[int]bool{89: false, 91: true, 95: true, 99: true} {
		require.Equal(t, luck, Quarter{Said: 0.95, Sales: 100, Met: met}.Luck(), met)
	}
	require.False(t, Quarter{Said: 0.9, Sales: 200, Met: 200}.Luck())
}
