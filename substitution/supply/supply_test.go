package supply

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// A bag of 144 costs 3.50, from two bags on 3.00 each; carriage is 4.95, and paid from 75.00 on. Amounts are pence.
func Example() {
	bags := Offer{Pack: 144, Breaks: []Break{{Packs: 1, Price: 350}, {Packs: 2, Price: 300}}}
	buy, _ := bags.Cover(200)
	terms := Supplier{Carriage: 495, PaidAt: 7500}
	fmt.Println(buy.Packs, buy.Cost, terms.Charge(buy.Cost), terms.Charge(7500))
	// Output: 2 600 495 0
}

func TestCost(t *testing.T) {
	// The two vendors of model QdiscSupL in the LINDO Systems model library: vendor B's discount is by tiers. 6000 units cost
	// 1200 × 8 + 1800 × 7 + 3000 × 6 = 40200.
	vendorB := Offer{Pack: 1, Tiers: []Tier{{0, 8}, {1200, 7}, {3000, 6}, {7500, 4}, {14000, 2}}}
	boxes := Offer{Pack: 5, Breaks: []Break{{Packs: 2, Price: 70}, {Packs: 4, Price: 50}}}
	for _, c := range []struct {
		name  string
		offer Offer
		packs int
		cost  int64
		sold  bool
	}{
		{"tiers from nought", vendorB, 6000, 40200, true},
		{"tiers, none", vendorB, 0, 0, false},
		{"tiers by the number of the piece", Offer{Pack: 1, Tiers: []Tier{{1, 10}, {5, 8}}}, 5, 48, true},
		{"tiers across a pack", Offer{Pack: 4, Tiers: []Tier{{4, 10}, {6, 8}}}, 2, 50 + 24, true},
		{"below the least sold", boxes, 1, 0, false},
		{"the least sold", boxes, 2, 140, true},
		{"below the break", boxes, 3, 210, true},
		{"at the break", boxes, 4, 200, true},
		{"none", boxes, 0, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			cost, sold := c.offer.Cost(c.packs)
			require.Equal(t, c.sold, sold)
			if sold {
				require.Equal(t, c.cost, cost)
			}
		})
	}
}

// What covers a number of pieces is the cheapest of all numbers of packs that do, and of those the fewest.
func TestCoverIsTheCheapestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Offer{Pack: rapid.IntRange(1, 6).Draw(t, "pack"), Most: rapid.SampledFrom([]int{0, 0, 1, 7, 30}).Draw(t, "most")}
		packs := 0
		for range rapid.IntRange(1, 3).Draw(t, "breaks") {
			packs += rapid.IntRange(1, 5).Draw(t, "more packs")
			o.Breaks = append(o.Breaks, Break{Packs: packs, Price: rapid.Int64Range(0, 40).Draw(t, "price")})
		}
		require.NoError(t, o.Check(1))
		pieces := rapid.IntRange(1, 40).Draw(t, "pieces")
		var best Buy
		found := false
		for n := 1; n <= 80; n++ {
			cost, sold := o.Cost(n)
			// The last pack may be an opened one, of which there are only so many pieces; no more packs than that are there.
			beyond := o.Most > 0 && (pieces > o.Most || n*o.Pack > o.Most && n > (pieces+o.Pack-1)/o.Pack)
			if !sold || n*o.Pack < pieces || beyond {
				continue
			}
			if !found || cost < best.Cost {
				best, found = Buy{n, cost}, true
			}
		}
		got, ok := o.Cover(pieces)
		require.Equal(t, found, ok)
		require.Equal(t, best, got)
	})
}

func TestCheckRefuses(t *testing.T) {
	good := Offer{Pack: 1, Breaks: []Break{{1, 5}}}
	for _, c := range []struct {
		name   string
		change func(o *Offer)
	}{
		{"no such supplier", func(o *Offer) { o.Supplier = 1 }},
		{"below the shelf", func(o *Offer) { o.Supplier = Shelf - 1 }},
		{"no pack", func(o *Offer) { o.Pack = 0 }},
		{"less than none left", func(o *Offer) { o.Most = -1 }},
		{"a day out of time", func(o *Offer) { o.Day = MaxDay + 1 }},
		{"no price", func(o *Offer) { o.Breaks = nil }},
		{"from no pack", func(o *Offer) { o.Breaks = []Break{{0, 5}} }},
		{"out of order", func(o *Offer) { o.Breaks = []Break{{2, 5}, {2, 4}} }},
		{"a price below nothing", func(o *Offer) { o.Breaks = []Break{{1, -1}} }},
		{"a price that cannot be summed", func(o *Offer) { o.Breaks = []Break{{1, MaxMoney + 1}} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NoError(t, good.Check(1))
			o := good
			c.change(&o)
			require.Error(t, o.Check(1))
		})
	}
}
