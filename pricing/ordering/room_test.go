package ordering

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/pricing/orderplan"
)

// Of more than a list holds what jobs wait for has room first, then what the shelf wants least of; the rest is left for the
// next list, but for what no list holds.
func TestWhatHasNoRoomIsLeftForTheNextList(t *testing.T) {
	names := []string{"job's"}
	for i := range 20 {
		names = append(names, fmt.Sprint("shelf's ", i))
	}
	p := wants(map[string]*int{"job's": nil}, names...)
	p.Suppliers = []orderplan.Supplier{{ID: "a"}, {ID: "b"}}
	for i := range p.Lines {
		p.Lines[i].Need, p.Lines[i].Max = 15_000+i, 15_000+i
		p.sells(0, i, 1)
		p.sells(1, i, 2)
	}
	p.Lines[0].Need, p.Lines[0].Max = 20_000, 20_000
	p.Lines[5].Max = orderplan.MaxUnits + 1
	list := List{}
	bench{deliveries: &inventory.Deliveries{}}.leaveRoom(&p, &list)
	// 500,000 quantities: 40,000 of the job's line and twice 15,001 and so on of 15 others.
	require.Len(t, p.Lines, 16)
	require.Equal(t, "job's", p.Lines[0].ID)
	require.Equal(t, "shelf's 15", p.Lines[15].ID)
	require.Equal(t, []string{"shelf's 4: so much of it is more than a list can plan: order it by hand"}, list.Missing)
	require.Equal(t, 4, list.Left)
	require.NoError(t, p.Validate())

	before := len(p.Lines)
	require.True(t, bench{}.leaveMore(&p, &list, nil))
	require.Len(t, p.Lines, before-8)
	require.Equal(t, "job's", p.Lines[0].ID)
	require.Equal(t, 12, list.Left)
}
