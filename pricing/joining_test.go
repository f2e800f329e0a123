package pricing

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
)

// ringOnOrder is a workshop whose ring was ordered this morning from the supplier that alone offers it, and that wants
// a chain by now.
func ringOnOrder(t *testing.T, from func(w *workshop) inventory.Supplier, price string) (w *workshop, chain inventory.Part, order inventory.Order) {
	w = newWorkshop(t, testdb.Tx(t))
	ring := w.part("black ring 50T", "chainring", blackRing, "120.00")
	chain = w.part("chain 9-speed", "chain", chain9, "17.99")
	w.offer(from(w), ring, 1, inventory.InStock, at(price))
	w.approvedRing()
	placed := w.place(w.plan(ordering.Policy{}))
	require.Len(t, placed, 1)
	w.keepOnShelf(chain, 0, 1)
	return w, chain, placed[0]
}

func harbourOf(w *workshop) inventory.Supplier { return w.harbour }

// What is wanted later in the day travels in the parcel that comes anyway: its carriage is paid once, falls away where
// the two orders together reach the level, and a minimum order that was reached is not asked again. By hand, of a ring
// and a chain.
func TestLaterOrderJoinsTheOpenOne(t *testing.T) {
	free := func(w *workshop) inventory.Supplier {
		return w.supplier(inventory.Supplier{Code: "quay", Name: "Quay Spares", LeadDays: 1, ToOrderDays: 9})
	}
	for _, c := range []struct {
		name        string
		from        func(w *workshop) inventory.Supplier
		ring        string
		offer       func(w *workshop, chain inventory.Part)
		adds, whole []string // goods, carriage of the list; goods, carriage of the order
		why         string
	}{
		{"carriage is paid once", harbourOf, "22.00",
			func(w *workshop, chain inventory.Part) { w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00")) },
			[]string{"9.00", "0.00", "9.00"}, []string{"31.00", "5.95"},
			"joins order 501, which goes with the same cut-off: its carriage of £5.95 is paid once; it is free from £44.00 more of goods"},
		{"even where another without carriage asks a little more", harbourOf, "22.00",
			func(w *workshop, chain inventory.Part) {
				w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00"))
				w.offer(free(w), chain, 1, inventory.InStock, at("9.10"))
			},
			[]string{"9.00", "0.00", "9.00"}, []string{"31.00", "5.95"},
			"joins order 501, which goes with the same cut-off: its carriage of £5.95 is paid once; it is free from £44.00 more of goods"},
		{"9.00 that save 5.95 are cheaper than 4.00", harbourOf, "70.00",
			func(w *workshop, chain inventory.Part) {
				w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00"))
				w.offer(free(w), chain, 1, inventory.InStock, at("4.00"))
			},
			[]string{"9.00", "-5.95", "3.05"}, []string{"79.00", "0.00"},
			"joins order 501, which goes with the same cut-off: together they reach the £75.00 at which carriage is paid, and its £5.95 falls away"},
		{"of an order that travels free", harbourOf, "80.00",
			func(w *workshop, chain inventory.Part) { w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00")) },
			[]string{"9.00", "0.00", "9.00"}, []string{"89.00", "0.00"},
			"joins order 501, which goes with the same cut-off: no carriage is asked for it"},
		{"a minimum order that was reached", func(w *workshop) inventory.Supplier { return w.north }, "20.00",
			func(w *workshop, chain inventory.Part) { w.offer(w.north, chain, 1, inventory.InStock, at("9.00")) },
			[]string{"9.00", "0.00", "9.00"}, []string{"29.00", "4.50"},
			"joins order 501, which goes with the same cut-off: its carriage of £4.50 is paid once; it is free from £71.00 more of goods"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w, chain, order := ringOnOrder(t, c.from, c.ring)
			c.offer(w, chain)
			list := w.plan(ordering.Policy{})
			require.Len(t, list.Orders, 1)
			o := list.Orders[0]
			require.Equal(t, order.ID, o.Joins)
			require.Equal(t, c.adds, onPaper(o.Goods, o.Carriage, list.Total))
			require.True(t, list.Proven)
			require.Equal(t, c.adds[2], list.LowerBound.StringFixed(2))
			require.Len(t, o.Reasons, 1)
			require.Contains(t, o.Reasons[0], c.why[len("joins order 501"):])
			whatIf, err := list.WhatIf(t.Context())
			require.NoError(t, err)
			require.Len(t, whatIf, 3, "a day later, a supplier fewer, one alone")
			require.Equal(t, "0.00", whatIf[2].More.StringFixed(2), whatIf[2].Words)

			joined := w.place(list)
			require.Len(t, joined, 1)
			require.Equal(t, order.ID, joined[0].ID)
			require.Equal(t, c.whole, onPaper(joined[0].Goods(), joined[0].Carriage))
			require.Len(t, joined[0].Lines, 2)
			require.Equal(t, joined[0].Lines[1:], joined[0].JoinedLast())
			all, err := inventory.Orders(t.Context(), w.tx, false)
			require.NoError(t, err)
			require.Len(t, all, 1)
			require.Empty(t, w.plan(ordering.Policy{}).Orders)
			require.Equal(t, inventory.Stock{OnOrder: 1}, w.stock(chain))
		})
	}
}

// An order whose cut-off is past, or of which its supplier has done or said anything, is not added to.
func TestLaterOrderStandsByItself(t *testing.T) {
	for _, c := range []struct {
		name   string
		later  time.Duration
		change func(t *testing.T, w *workshop, order inventory.Order)
	}{
		{"the cut-off is past", 6 * time.Hour, func(*testing.T, *workshop, inventory.Order) {}}, // 16:00
		{"it is the next day", 24 * time.Hour, func(*testing.T, *workshop, inventory.Order) {}},
		{"it was answered", time.Hour, func(t *testing.T, w *workshop, order inventory.Order) {
			day := today + 2
			_, err := inventory.Confirm(t.Context(), w.tx, order.ID, []inventory.Confirmation{{LineID: order.Lines[0].ID, Kind: inventory.Acknowledged, ExpectedOn: &day}}, now)
			require.NoError(t, err)
		}},
		{"it was cancelled", time.Hour, func(t *testing.T, w *workshop, order inventory.Order) {
			_, err := inventory.CancelOrder(t.Context(), w.tx, order.ID)
			require.NoError(t, err)
		}},
		{"carriage is another by now", time.Hour, func(t *testing.T, w *workshop, order inventory.Order) {
			_, err := inventory.ChangeSupplier(t.Context(), w.tx, "harbour", func(s *inventory.Supplier) { s.Carriage = pounds("6.95") })
			require.NoError(t, err)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w, chain, order := ringOnOrder(t, harbourOf, "22.00")
			w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00"))
			before := w.plan(ordering.Policy{})
			require.Equal(t, order.ID, before.Orders[0].Joins)
			c.change(t, w, order)
			at := now.Add(c.later)
			list, err := ordering.Plan(t.Context(), w.tx, ordering.Policy{}, at)
			require.NoError(t, err)
			require.Len(t, list.Orders, 1)
			require.Zero(t, list.Orders[0].Joins)
			require.True(t, list.Orders[0].Carriage.GreaterThan(decimal.Zero))
			require.NotEmpty(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := ordering.Place(ctx, tx, before, nil, at)
				require.ErrorAs(t, err, new(*ordering.ChangedError))
				return err
			}), "a list that would have joined it is not placed any more")
		})
	}
}
