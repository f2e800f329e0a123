package pricing

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/orderplan"
)

const belowMinimum = "Northmoor Wheel Goods takes no order below £15.00, and this list does not come to it"

// Northmoor's minimum order of 15.00 is out of reach of twelve chains at 0.50.
func TestOrderListOrdersTheRest(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	w.offer(w.harbour, w.part("black ring 50T", "chainring", blackRing, "33.49"), 1, inventory.InStock, at("20.00"))
	chain := w.part("chain 9-speed", "chain", chain9, "")
	w.offer(w.north, chain, 1, inventory.InStock, at("0.50"))
	w.keepOnShelf(chain, 0, 1)
	job := w.approvedRing()

	list := w.plan(OrderPolicy{})
	require.Equal(t, []string{"chain 9-speed: " + belowMinimum}, list.Missing)
	require.Empty(t, list.Late)
	require.Len(t, list.Orders, 1)
	require.Equal(t, []int64{job}, list.Orders[0].Lines[0].ForJobs)
	require.Equal(t, "25.95", list.Total.StringFixed(2))
	require.True(t, list.Proven)
}

func TestOrderListOrdersNothingWhereNothingReachesAMinimum(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	chain := w.part("chain 9-speed", "chain", chain9, "")
	w.offer(w.north, chain, 1, inventory.InStock, at("0.50"))
	w.keepOnShelf(chain, 0, 1)
	list := w.plan(OrderPolicy{})
	require.Empty(t, list.Orders)
	require.Equal(t, []string{"chain 9-speed: " + belowMinimum}, list.Missing)
}

// By the promised day only Northmoor could bring the ring, which alone does not make an order; Harbour Lane brings it later.
func TestOrderListGivesUpADayBeforeAPart(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring := w.part("black ring 50T", "chainring", blackRing, "33.49")
	w.offer(w.north, ring, 1, inventory.InStock, at("0.50"))
	w.offer(w.harbour, ring, 1, inventory.ToOrder, at("20.00"))
	job := w.ringJob(Limits{})
	w.quote(job)
	w.approve(job, "soonest")

	list := w.plan(OrderPolicy{})
	require.Equal(t, []string{"black ring 50T was promised for Wednesday 11 March and comes later: " + belowMinimum}, list.Late)
	require.Empty(t, list.Missing)
	require.Equal(t, "harbour", list.Orders[0].Supplier)
	require.Equal(t, []int64{job}, list.Orders[0].Lines[0].ForJobs)
}

// Nobody keeps thirty thousand balls; somebody's slip of the pen does not hold the rest up, nor does "never" as an amount.
func TestOrderListLeavesOutWhatIsTooMuch(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	never := w.supplier(inventory.Supplier{Code: "never", Name: "Never", LeadDays: 2, ToOrderDays: 9, Carriage: pounds("3"), CarriagePaidAt: nullPounds("9999999")})
	w.offer(never, w.part("black ring 50T", "chainring", blackRing, "33.49"), 1, inventory.InStock, at("20.00"))
	balls := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "")
	w.offer(w.harbour, balls, 1, inventory.InStock, at("0.05"))
	w.keepOnShelf(balls, 0, 30_000)
	w.approvedRing()
	list := w.plan(OrderPolicy{})
	require.Equal(t, []string{"balls 3/16 in: so much of it is more than a list can plan: order it by hand"}, list.Missing)
	require.Equal(t, "23.00", list.Total.StringFixed(2))
}

func TestLeastUrgent(t *testing.T) {
	day := func(n int) *int { return &n }
	p := orderplan.Problem{
		Lines: []orderplan.Line{{ID: "friday", DueDay: day(4)}, {ID: "monday", DueDay: day(7)}, {ID: "shelf"}},
		Offers: []orderplan.Offer{
			{Line: "friday", Supplier: "harbour"}, {Line: "monday", Supplier: "harbour"}, {Line: "shelf", Supplier: "northmoor"},
		},
	}
	for _, c := range []struct{ name, supplier, line string }{
		{"what no day is promised for", "", "shelf"},
		{"else what is due last", "harbour", "monday"},
		{"a supplier that offers nothing of it", "elsewhere", "shelf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.line, p.Lines[leastUrgent(p, c.supplier)].ID)
		})
	}
}

func TestOrderListThatWasNotFoundInTime(t *testing.T) {
	err := bench{}.explain(&orderplan.UnfinishedError{LowerBound: 123456, Cause: context.DeadlineExceeded})
	require.EqualError(t, err, "planning the orders: no list was found in 20 seconds: order what jobs wait for by hand and plan the rest")
	require.ErrorIs(t, bench{}.explain(&orderplan.UnfinishedError{Cause: context.Canceled}), context.Canceled)
}
