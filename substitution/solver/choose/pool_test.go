package choose

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// Each of these would lose its best choice if a dearer offer went that a cheaper one seems to better.
func TestOffersThatSeemBettered(t *testing.T) {
	price := func(pence ...int64) []supply.Break {
		breaks := []supply.Break{{Packs: 1, Price: pence[0]}}
		for i := 1; i+1 < len(pence); i += 2 {
			breaks = append(breaks, supply.Break{Packs: int(pence[i]), Price: pence[i+1]})
		}
		return breaks
	}
	offer := func(breaks []supply.Break) supply.Offer { return supply.Offer{Supplier: 0, Pack: 1, Breaks: breaks} }
	need := func(pieces int, options ...Option) Need { return Need{Name: "need", Pieces: pieces, Options: options} }
	const cheap, dear, dearest = 0, 1, 2
	few := offer(price(10))
	few.Most = 2
	for _, c := range []struct {
		name string
		p    Problem
		best int64 // the least cost at no deviation
	}{
		{"it deviates in one of the needs", Problem{
			Offers: []supply.Offer{offer(price(10, 2, 6)), offer(price(12, 2, 6))},
			Needs: []Need{
				need(1, Option{Offer: cheap}, Option{Offer: dear}),
				need(1, Option{Offer: cheap, Deviation: 5}, Option{Offer: dear}),
			}}, 12},
		{"it runs out where another need takes it too", Problem{
			Offers: []supply.Offer{few, offer(price(12)), offer(price(90))},
			Needs: []Need{
				need(1, Option{Offer: cheap}, Option{Offer: dear}),
				need(1, Option{Offer: cheap}, Option{Offer: dear}),
				need(1, Option{Offer: cheap}, Option{Offer: dearest}),
			}}, 32},
		{"its price rises with its quantity", Problem{
			Offers: []supply.Offer{offer(price(10, 3, 20)), offer(price(12)), offer(price(90))},
			Needs: []Need{
				need(2, Option{Offer: cheap}, Option{Offer: dear}),
				need(1, Option{Offer: cheap}, Option{Offer: dearest}),
			}}, 34},
		{"it is cheaper for the pieces of whole needs only", Problem{
			Offers: []supply.Offer{{Supplier: 0, Pack: 4, Breaks: price(100)}, offer(price(40)), {Supplier: supply.Shelf, Pack: 1, Breaks: price(10)}},
			Needs: []Need{
				need(4, Option{Offer: cheap, First: &Lot{2, 3}}, Option{Offer: dear, First: &Lot{2, 3}}),
				need(4, Option{Offer: cheap}, Option{Offer: dear}),
			}}, 170},
		{"its pack is opened for a piece of another need", Problem{
			Offers: []supply.Offer{offer(price(24)), {Supplier: supply.Shelf, Pack: 4, Breaks: price(100)}, offer(price(10))},
			Needs: []Need{
				need(2, Option{Offer: 2, First: &Lot{dear, 1}}),
				need(3, Option{Offer: cheap}, Option{Offer: dear}),
			}}, 110},
		{"an extra takes the dearer one", Problem{
			Offers: []supply.Offer{offer(price(10)), offer(price(12, 3, 10))},
			Extras: []Need{{Name: "extra", Options: []Option{{Offer: dear}}}},
			Needs: []Need{
				need(1, Option{Offer: cheap}, Option{Offer: dear}),
				need(1, Option{Offer: cheap, Brings: []Bring{{0, 1}}}, Option{Offer: dear, Brings: []Bring{{0, 1}}}),
			}}, 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.p.Suppliers = []supply.Supplier{{}}
			got := verified(t, &c.p).Front
			require.Equal(t, figuresOf(enumerate(&c.p)), figuresOf(got))
			require.Equal(t, c.best, got[len(got)-1].Cost)
			require.Zero(t, got[len(got)-1].Deviation)
		})
	}
}

// With what it brings, an order reaches the level from which carriage is free: 60 and 40 against 80 and carriage 25
// elsewhere. What is brought must not be charged in full where its carriage is shared out against a discount.
func TestWhatIsBroughtMayPayTheCarriage(t *testing.T) {
	p := Problem{
		Suppliers: []supply.Supplier{{Carriage: 50, PaidAt: 100}, {Carriage: 25}},
		Offers: []supply.Offer{
			{Supplier: 0, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 60}}}, {Supplier: 0, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 40}}},
			{Supplier: 1, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 80}}},
		},
		Extras: []Need{{Name: "extra", Options: []Option{{Offer: 1}}}},
		Needs:  []Need{{Name: "need", Pieces: 1, Options: []Option{{Offer: 0, Brings: []Bring{{0, 1}}}, {Offer: 2}}}},
	}
	require.Equal(t, int64(100), verified(t, &p).Front[0].Cost)
}

func figuresOf(f Front) (out [][3]int64) {
	for _, p := range f {
		out = append(out, [3]int64{p.Cost, int64(p.Day), p.Deviation})
	}
	return out
}
