package reorder

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is ordered of a supplier in one day comes in one parcel, whatever its lead times, and each supplier charges for its own
// by what is in it. One piece of each part is sold in the day, and one ordered in its evening, on days 1 to 10 alone.
func TestEachSupplierChargesForItsParcels(t *testing.T) {
	quick, slow := &LeadTime{OnDay: []float64{0, 1}}, &LeadTime{OnDay: []float64{0, 0, 1}}
	priced := func(supplier int, price float64, lead *LeadTime) Item {
		item := Item{Supplier: supplier, Price: price, Lead: lead}
		for day := range 11 {
			item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
		}
		return item
	}
	for name, test := range map[string]struct {
		items   []Item
		charged map[int]Carriage
		parcels int
		pounds  float64
	}{
		"one supplier, two lead times": {[]Item{priced(7, 2, quick), priced(7, 3, slow)}, map[int]Carriage{7: {Each: 4}}, 10, 40},
		"two suppliers":                {[]Item{priced(7, 2, quick), priced(8, 3, quick)}, map[int]Carriage{7: {Each: 4}, 8: {Each: 0.5}}, 20, 45},
		"free from what is in it":      {[]Item{priced(7, 2, quick), priced(7, 3, quick)}, map[int]Carriage{7: {Each: 4, PaidAt: 5}}, 10, 0},
		"a penny short of free":        {[]Item{priced(7, 2, quick), priced(7, 2.99, quick)}, map[int]Carriage{7: {Each: 4, PaidAt: 5}}, 10, 40},
		"a supplier that asks nothing": {[]Item{priced(7, 2, quick)}, nil, 10, 0},
	} {
		t.Run(name, func(t *testing.T) {
			w := &World{Items: test.items, Start: 1, End: 11, LookEvery: 1, AdviseEvery: 100, Carriage: test.charged,
				Takes: func(r *rand.Rand, item *Item) int { return item.Lead.Draw(r) }}
			played := w.Play(func(Books) []Keep {
				keeps := make([]Keep, len(test.items))
				for i := range keeps {
					keeps[i] = Keep{At: 4, UpTo: 5}
				}
				return keeps
			})
			require.Equal(t, test.parcels, played.Parcels)
			require.InDelta(t, test.pounds, played.Carriage, 1e-9)
		})
	}
}
