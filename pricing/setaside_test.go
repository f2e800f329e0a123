package pricing

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
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

	list := w.plan(ordering.Policy{})
	require.Equal(t, []ordering.Waiting{{PartID: chain.ID, Name: "chain 9-speed", Supplier: "northmoor", Words: belowMinimum,
		FillUp: "buying up to it: 30 of chain 9-speed where 1 is wanted, £19.50 more in all"}}, list.Waiting, "30 × 0.50 and carriage 4.50")
	require.Empty(t, list.Missing)
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
	list := w.plan(ordering.Policy{})
	require.Empty(t, list.Orders)
	require.Len(t, list.Waiting, 1)
	require.True(t, list.Proven)

	list = w.plan(ordering.Policy{FillUp: []string{"northmoor"}})
	require.Empty(t, list.Waiting)
	require.Equal(t, "19.50", list.Total.StringFixed(2))
	require.Equal(t, []string{"carriage £4.50; it is free from £85.00 more of goods", "minimum order £15.00 is met, by buying more than is wanted: 29 of chain 9-speed"}, list.Orders[0].Reasons)
}

// Of a part at 4.00 one is wanted: four make Northmoor's minimum of 15.00. More than the shop buys unasked is not bought
// unasked, whatever the limit is.
func TestAMinimumOrderIsNotMetUnaskedBeyondTheLimit(t *testing.T) {
	for _, c := range []struct {
		overbuy string
		fillUp  []string
		packs   int
	}{
		{"1", nil, 0}, {"2", nil, 0}, {"3.9", nil, 0}, {"4", nil, 4}, {"20", nil, 4},
		{"1", []string{"northmoor"}, 4}, {"1", []string{"harbour"}, 0},
	} {
		t.Run(fmt.Sprintf("%s times, asked %v", c.overbuy, c.fillUp), func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			bearing := w.part("bearing 6902", "chain", chain9, "")
			w.offer(w.north, bearing, 1, inventory.InStock, at("4.00"))
			w.keepOnShelf(bearing, 0, 1)
			_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) { s.Overbuy = pounds(c.overbuy) })
			require.NoError(t, err)
			list := w.plan(ordering.Policy{FillUp: c.fillUp})
			if c.packs == 0 {
				require.Empty(t, list.Orders)
				require.Len(t, list.Waiting, 1)
				require.Equal(t, "buying up to it: 4 of bearing 6902 where 1 is wanted, £20.50 more in all", list.Waiting[0].FillUp)
				return
			}
			require.Empty(t, list.Waiting)
			require.Equal(t, c.packs, list.Orders[0].Lines[0].Packs)
			require.Equal(t, 3, list.Orders[0].Lines[0].Beyond)
			require.Contains(t, list.Orders[0].Reasons, "minimum order £15.00 is met, by buying more than is wanted: 3 of bearing 6902")
		})
	}
}

// What waits for one supplier holds nothing else up, and of two suppliers' minimums each is asked about by itself.
func TestMinimumsOfTwoSuppliers(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	moss := w.supplier(inventory.Supplier{Code: "moss", Name: "Moss Lane", LeadDays: 2, ToOrderDays: 9, MinimumOrder: pounds("40")})
	ring, chain := w.part("black ring 50T", "chainring", blackRing, ""), w.part("chain 9-speed", "chain", chain9, "")
	w.offer(moss, ring, 1, inventory.InStock, at("10.00"))
	w.offer(w.north, chain, 1, inventory.InStock, at("5.00"))
	for _, p := range []inventory.Part{ring, chain} {
		w.keepOnShelf(p, 0, 1)
	}
	var waits []string
	for _, x := range w.plan(ordering.Policy{}).Waiting {
		waits = append(waits, x.Supplier+" "+x.FillUp)
	}
	require.ElementsMatch(t, []string{
		"moss buying up to it: 4 of black ring 50T where 1 is wanted, £40.00 more in all",
		"northmoor buying up to it: 3 of chain 9-speed where 1 is wanted, £19.50 more in all",
	}, waits)
	list := w.plan(ordering.Policy{FillUp: []string{"northmoor"}})
	require.Len(t, list.Waiting, 1)
	require.Equal(t, "moss", list.Waiting[0].Supplier)
	require.Len(t, list.Orders, 1)
}

// By the promised day only Northmoor could bring the ring, which alone does not make an order; Harbour Lane brings it later.
func TestOrderListGivesUpADayBeforeAPart(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring := w.part("black ring 50T", "chainring", blackRing, "33.49")
	w.offer(w.north, ring, 1, inventory.InStock, at("0.50"))
	w.offer(w.harbour, ring, 1, inventory.ToOrder, at("20.00"))
	w.minimum(w.north, "0")
	job := w.ringJob(Limits{})
	w.quote(job)
	w.approve(job, "soonest")
	w.minimum(w.north, "15")

	list := w.plan(ordering.Policy{})
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
	list := w.plan(ordering.Policy{})
	require.Equal(t, []string{"balls 3/16 in: so much of it is more than a list can plan: order it by hand"}, list.Missing)
	require.Equal(t, "23.00", list.Total.StringFixed(2))
}
