package shelf

import (
	"testing"

	"stead/inventory"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
)

func TestExcess(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(728, 5, inventory.Opening, nil)
	for week := 100; week > 60; week -= 10 {
		b.move(week*7-3, -1, inventory.Sold, nil)
	}
	b.move(300, 40, inventory.Counted, nil) // what came later is what is there
	excess := func(p ExcessPolicy) []Excess {
		t.Helper()
		policy := usualShelf
		policy.Excess = p
		s, err := Load(ctx, b.tx, policy, nil, b.now)
		require.NoError(t, err)
		list, err := s.Excess(ctx, b.tx)
		require.NoError(t, err)
		return list
	}
	list := excess(usualShelf.Excess)
	require.Len(t, list, 1)
	e := list[0]
	require.Equal(t, 41, e.Free)
	require.Equal(t, e.Free, e.Sells+e.Excess)
	require.Less(t, e.Sells, 8)
	require.Equal(t, "2024-04-01", e.Since.String(), "of the five that were there first one is left")
	require.Equal(t, decimal.NewFromInt(int64(9*e.Excess)).StringFixed(2), e.TiedUp.StringFixed(2))
	require.Equal(t, ReduceThem, e.How)
	require.Positive(t, e.Part)
	require.Equal(t, decimal.RequireFromString("4.5").StringFixed(2), e.Piece.StringFixed(2))

	require.Equal(t, ReturnThem, excess(ExcessPolicy{Months: 24, Returned: 0.9, Reduced: 0.5})[0].How)
	require.Equal(t, KeepThem, excess(ExcessPolicy{Months: 24})[0].How, "what brings nothing is kept: the space costs nothing here")
	require.Less(t, excess(ExcessPolicy{Months: 600})[0].Excess, e.Excess)
	require.Error(t, ExcessPolicy{Months: 0}.Check())
	require.Error(t, ExcessPolicy{Months: 12, Reduced: 2}.Check())

	b.move(1, -41, inventory.Scrapped, nil)
	require.Empty(t, excess(usualShelf.Excess), "nothing is there")
}
