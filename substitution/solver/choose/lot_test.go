package choose

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// What comes off the shelf is no goods of the supplier that sends the rest. Levels and minimum orders therefore lie between
// what an order comes to with and without it, and needs compete for the same few pieces.
func TestSolveWithLotsOffTheShelf(t *testing.T) {
	points, apart, missed := 0, 0, 0
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed+9000, 5))
		sh := smallShape(r)
		sh.lots, sh.needs = true, min(sh.needs, 3)
		p := generate(seed+9000, sh)
		for _, n := range p.Needs {
			o := n.Options[r.IntN(len(n.Options))]
			if o.First == nil || p.Offers[o.Offer].Supplier == supply.Shelf {
				continue
			}
			least, _ := p.Offers[o.Offer].Cover(n.Pieces - o.First.Pieces)
			whole, _ := p.Offers[o.Offer].Cover(n.Pieces)
			between := least.Cost + 1 + r.Int64N(max(1, whole.Cost-least.Cost))
			if s := &p.Suppliers[p.Offers[o.Offer].Supplier]; r.IntN(2) == 0 {
				s.PaidAt = between
			} else {
				s.MinimumOrder = between
			}
		}
		for k := range p.Offers {
			if o := &p.Offers[k]; o.Supplier == supply.Shelf && o.Most > 0 && r.IntN(3) == 0 {
				o.Most++ // an opened pack
			}
		}
		limitAtRandom(r, p)
		want := enumerate(p)
		got := verified(t, p)
		require.Equal(t, figures(want), figures(got.Front), "seed %d", seed)
		points += len(want)
		for _, pt := range got.Front {
			for i, o := range pt.Options {
				if p.Needs[i].Options[o].First != nil {
					apart++
					break
				}
			}
		}
		cheap, err := Cheapest(context.Background(), p)
		require.NoError(t, err)
		if len(want) > 0 {
			require.Equal(t, want[0].Cost, cheap.Front[0].Cost, "seed %d", seed)
		}
		p.eachWhole()
		if !slices.Equal(figures(enumerate(p)), figures(want)) {
			missed++
		}
	}
	require.Greater(t, apart, 500, "points that take a need apart")
	require.Greater(t, missed, 300, "problems whose front is another one where every need has one source")
	t.Logf("%d points, of which %d take a need apart", points, apart)
}

// eachWhole takes away the options that take a need apart.
func (p *Problem) eachWhole() {
	for i := range p.Needs {
		n := &p.Needs[i]
		kept := []int{}
		for o := range n.Options {
			if n.Options[o].First == nil {
				kept = append(kept, o)
			}
		}
		options := n.Options
		n.Options = nil
		for _, o := range kept {
			n.Options = append(n.Options, options[o])
		}
		for _, rule := range p.Rules {
			if k := slices.Index(rule.Needs, i); k >= 0 {
				marks := rule.Marks[k]
				rule.Marks[k] = nil
				for _, o := range kept {
					rule.Marks[k] = append(rule.Marks[k], marks[o])
				}
			}
		}
	}
}

// One tube of two is on the shelf at 250. The other costs 300 and carriage 400 from one supplier, and both cost 550 from
// another, carriage paid.
func TestOneOffTheShelfAndOneFromASupplier(t *testing.T) {
	p := Problem{
		Suppliers: []supply.Supplier{{Carriage: 400, PaidAt: 500}, {Carriage: 100, PaidAt: 600}},
		Offers: []supply.Offer{
			{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 250}}, Most: 1},
			{Supplier: 0, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 300}}, Day: 3},
			{Supplier: 1, Pack: 2, Breaks: []supply.Break{{Packs: 1, Price: 640}}, Day: 5},
		},
		Needs: []Need{{Name: "tubes", Pieces: 2, Options: []Option{{Offer: 1}, {Offer: 2}, {Offer: 1, First: &Lot{0, 1}}, {Offer: 2, First: &Lot{0, 1}}}}},
	}
	cost := func() int64 { return verified(t, &p).Front[0].Cost }
	require.Equal(t, int64(600), cost(), "two of the first supplier's are carriage paid, and one is not")
	p.Suppliers[0].PaidAt = 700
	require.Equal(t, int64(640), cost(), "a pack of two, of which none is wanted off the shelf")
	p.Suppliers[0].Carriage = 50
	require.Equal(t, int64(250+300+50), cost(), "one off the shelf and one from the first supplier")
	p.Suppliers[0].MinimumOrder = 301
	require.Equal(t, int64(640), cost(), "what comes off the shelf is not ordered")
	p.Offers[2].Breaks[0].Price, p.Offers[0].Day = 1000, 9
	p.Suppliers[0].MinimumOrder = 300
	front := verified(t, &p).Front
	require.Equal(t, [][3]int64{{600, 9, 0}, {650, 3, 0}}, figures(front), "both lots must be here")
}

func TestLotsThatCannotBeMeant(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(p *Problem)
	}{
		{"of no offer", func(p *Problem) { p.Needs[0].Options[0].First.Offer = 9 }},
		{"of an offer below the first", func(p *Problem) { p.Needs[0].Options[0].First.Offer = -1 }},
		{"of the offer that meets the rest", func(p *Problem) { p.Needs[0].Options[0].Offer = 0 }},
		{"of a supplier's offer", func(p *Problem) { p.Offers[0].Supplier = 0 }},
		{"of nothing", func(p *Problem) { p.Needs[0].Options[0].First.Pieces = 0 }},
		{"of all", func(p *Problem) { p.Needs[0].Options[0].First.Pieces = 2 }},
		{"of an extra", func(p *Problem) { p.Extras = []Need{{Name: "extra", Pieces: 9, Options: p.Needs[0].Options}} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Problem{
				Suppliers: []supply.Supplier{{}},
				Offers:    []supply.Offer{{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 5}}}, {Supplier: 0, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 5}}}},
				Needs:     []Need{{Name: "need", Pieces: 2, Options: []Option{{Offer: 1, First: &Lot{0, 1}}}}},
			}
			require.NoError(t, p.Check())
			c.change(&p)
			var fault *Error
			require.ErrorAs(t, p.Check(), &fault)
			require.NotEmpty(t, fault.Need)
		})
	}
}

// Prices and quantities that are each sensible can come to a sum beyond all counting, off a shelf as from a supplier.
func TestLotsTooLargeToSum(t *testing.T) {
	p := Problem{
		Suppliers: []supply.Supplier{{}},
		Offers:    []supply.Offer{{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: maxMoney}}}, {Supplier: 0, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 5}}}},
		Needs:     []Need{{Name: "need", Pieces: maxPieces, Options: []Option{{Offer: 1, First: &Lot{0, maxPieces - 1}}}}},
	}
	require.ErrorIs(t, p.Check(), ErrTooLarge)
}
