package pricing

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/reorder"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution"
)

// What the shelf is judged by, sales and parcels played day by day, must be what the shop's own books come to: the same
// sales are taken off the ledger, the order plan orders for the shelf each evening, and what it ordered is taken in on the
// day on which the play's parcels come. As many sales are met whole, and as many lines are ordered.
func TestTheLedgerGoesAsTheShelfIsPlayed(t *testing.T) {
	const start, days, looks = 0, 60, 2
	w := newWorkshop(t, testdb.Tx(t))
	r := rand.New(rand.NewPCG(17, 4))
	world := &reorder.World{Start: start, End: days, LookEvery: looks, AdviseEvery: days, Seed: 8,
		Takes: func(r *rand.Rand, _ *reorder.Item) int { return 2 + r.IntN(6) }}
	var parts []inventory.Part
	var suppliers []int64
	var keeps []reorder.Keep
	for i, p := range []struct {
		family       substitution.Family
		sizes        string
		pack, at, to int
	}{{"chain", chain9, 1, 1, 5}, {"chainring", blackRing, 1, 0, 2}, {"loose-balls", "ball_mm=4.7625 material=steel", 6, 7, 14}} {
		s := w.supplier(inventory.Supplier{Code: fmt.Sprint("free-", i), Name: fmt.Sprint("Free ", i), LeadDays: 2, ToOrderDays: 12}) // no carriage: nothing rides along
		part := w.part(string(p.family)+" of the shelf", p.family, p.sizes, "20.00")
		w.offer(s, part, p.pack, inventory.InStock, at("5.00"))
		w.keepOnShelf(part, p.at, p.to)
		w.shelve(part, p.to)
		item := reorder.Item{Name: part.Name, Price: 5, Pack: p.pack, Minimum: p.pack, Supplier: i,
			Sales: []reorder.Sale{{Day: -1, Pieces: 1}}} // a part that never sold is not played
		for day := range days {
			if r.IntN(3) == 0 {
				item.Sales = append(item.Sales, reorder.Sale{Day: day, Pieces: 1 + r.IntN(3)})
			}
		}
		world.Items = append(world.Items, item)
		parts, suppliers, keeps = append(parts, part), append(suppliers, s.ID), append(keeps, reorder.Keep{At: p.at, UpTo: p.to})
	}
	played := world.Play(func(reorder.Books) []reorder.Keep { return keeps })

	met, lines := make([]int, len(parts)), 0
	due := map[int][]int64{} // orders that come on a day
	for day := range days {
		morning := time.Date(2026, time.March, 2+day/5*7+day%5, 8, 0, 0, 0, time.UTC)
		for _, order := range due[day] {
			_, err := inventory.ReceiveAll(t.Context(), w.tx, w.request, order, "", inventory.Into{Bin: "A1"}, morning, nil, false)
			require.NoError(t, err)
		}
		for i, item := range world.Items {
			for _, sale := range item.Sales {
				if sale.Day != day {
					continue
				}
				there := min(sale.Pieces, w.stock(parts[i]).Free()) // the rest is bought for the job
				if there == sale.Pieces {
					met[i]++
				}
				if there > 0 {
					require.NoError(t, inventory.Sell(t.Context(), w.tx, w.request, parts[i].ID, there, ""))
				}
			}
		}
		if (day+1)%looks != 0 {
			continue
		}
		evening := morning.Add(10 * time.Hour)
		list, err := ordering.Plan(t.Context(), w.tx, ordering.Policy{}, evening)
		require.NoError(t, err)
		placed, err := ordering.Place(t.Context(), w.tx, list, nil, evening)
		require.NoError(t, err)
		for _, o := range placed {
			for i, supplier := range suppliers {
				if supplier == o.SupplierID {
					takes := world.Takes(rand.New(rand.NewPCG(world.Seed, uint64(i)<<32|uint64(day))), &world.Items[i])
					due[day+takes] = append(due[day+takes], o.ID)
				}
			}
			lines += len(o.Lines)
		}
	}
	require.Equal(t, played.ItemMet, met)
	require.Equal(t, played.Lines, lines)
	require.NotEqual(t, played.ItemSales, met, "some are short")
}
