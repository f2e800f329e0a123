package ordering

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/pricing/orderplan"
	"stead/substitution/supply"
)

func TestLeastUrgent(t *testing.T) {
	day := func(n int) *int { return &n }
	p := orderplan.Problem{
		Lines: []orderplan.Line{{ID: "friday", DueDay: day(4)}, {ID: "monday", DueDay: day(7)}, {ID: "shelf"}},
		Offers: []orderplan.Offer{
			{Line: 0, Offer: supply.Offer{Supplier: 0}}, {Line: 1, Offer: supply.Offer{Supplier: 0}}, {Line: 2, Offer: supply.Offer{Supplier: 1}},
		},
	}
	for _, c := range []struct {
		name     string
		supplier int
		line     string
	}{
		{"what no day is promised for", -1, "shelf"},
		{"else what is due last", 0, "monday"},
		{"a supplier that offers nothing of it", 2, "shelf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.line, p.Lines[leastUrgent(p, c.supplier)].ID)
		})
	}
}

func TestOrderListThatWasNotFoundInTime(t *testing.T) {
	err := bench{}.explain(posed{}, &orderplan.UnfinishedError{LowerBound: 123456, Cause: context.DeadlineExceeded})
	require.EqualError(t, err, "planning the orders: no list was found in 20 seconds: order what jobs wait for by hand and plan the rest")
	require.ErrorIs(t, bench{}.explain(posed{}, &orderplan.UnfinishedError{Cause: context.Canceled}), context.Canceled)
}
