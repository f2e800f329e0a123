package solver

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// The suppliers of two tubes, and the offers of the tube.
const (
	near, far          = 0, 1
	shelf, soon, later = 0, 1, 2
)

// twoTubes is a job that needs two tubes, of which one is on the shelf. Nothing is asked of them.
func twoTubes() Problem {
	one := at(supply.Shelf, 0, 300)
	one.Most = 1
	return Problem{
		Needs:     []Need{{ID: "tubes", Family: "tube", Pieces: 2, Candidates: []int{0}}},
		Parts:     []Part{part("tube", "tube", nil, one, at(near, 2, 420), at(far, 6, 310))},
		Suppliers: []supply.Supplier{near: {Carriage: 200}, far: {Carriage: 150}},
	}
}

func TestOneOnTheShelfAndOneToOrder(t *testing.T) {
	p := twoTubes()
	a := solved(t, p)
	require.Equal(t, [][3]int64{{760, 6, 0}, {920, 2, 0}}, figures(a.Front))
	soonest := a.Front[a.Picks.Soonest]
	require.Equal(t, []Chosen{{Need: "tubes", Part: 0, Offer: soon, Pieces: 2, Shelf: Lot{shelf, 1}}}, soonest.Chosen)
	require.Equal(t, []Purchase{
		{Offer: shelf, Supplier: supply.Shelf, Pieces: 1, Packs: 1, Cost: 300},
		{Offer: soon, Supplier: near, Pieces: 1, Packs: 1, Cost: 420, Day: 2},
	}, soonest.Purchases)
	require.Equal(t, []Carriage{{Supplier: near, Goods: 420, Cost: 200}}, soonest.Carriage)
}

// Where it costs the same, what is on the shelf is not ordered.
func TestShelfBeforeTheSupplier(t *testing.T) {
	p := twoTubes()
	for k := range p.Parts[0].Offers {
		p.Parts[0].Offers[k].Breaks[0].Price = 300
	}
	for _, o := range solved(t, p).Front {
		require.Equal(t, Lot{shelf, 1}, o.Chosen[0].Shelf)
	}
	p = balls()
	p.Parts[0].Offers[1] = supply.Offer{Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 4}}, Day: 2}
	front := solved(t, p).Front
	require.Equal(t, [][3]int64{{38*4 + 400, 2, 0}}, figures(front))
	require.Equal(t, []int{30, 8}, []int{front[0].Purchases[0].Pieces, front[0].Purchases[1].Pieces})
}

func TestWishesOfANeedTakenApart(t *testing.T) {
	for _, c := range []struct {
		name   string
		wishes []Wish
		front  [][3]int64
	}{
		{"nothing off the shelf", []Wish{{Kind: NotSupplier, Supplier: supply.Shelf}}, [][3]int64{{770, 6, 0}, {1040, 2, 0}}},
		{"nothing off the shelf for this need", []Wish{{Kind: NotSupplier, Need: "tubes", Supplier: supply.Shelf}}, [][3]int64{{770, 6, 0}, {1040, 2, 0}}},
		{"not the supplier of the rest", []Wish{{Kind: NotSupplier, Supplier: far}}, [][3]int64{{920, 2, 0}}},
		{"all that is bought from one supplier", []Wish{{Kind: OnlySupplier, Supplier: near}}, [][3]int64{{920, 2, 0}}},
		{"all off the shelf", []Wish{{Kind: OnlySupplier, Supplier: supply.Shelf}}, [][3]int64{}},
		{"the need here by a day", []Wish{{Kind: ByDay, Need: "tubes", Day: 5}}, [][3]int64{{920, 2, 0}}},
		{"the need by a day before the rest", []Wish{{Kind: ByDay, Need: "tubes", Day: 1}}, [][3]int64{}},
		{"just enough money for the need", []Wish{{Kind: AtMost, Need: "tubes", Most: 610}}, [][3]int64{{760, 6, 0}}},
		{"too little money for the need", []Wish{{Kind: AtMost, Need: "tubes", Most: 609}}, [][3]int64{}},
		{"one supplier: the shelf is none", []Wish{{Kind: FewSuppliers, Count: 1}}, [][3]int64{{760, 6, 0}, {920, 2, 0}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := twoTubes()
			p.Wishes = c.wishes
			require.Equal(t, c.front, figures(solved(t, p).Front))
		})
	}
}

// The shelf has 30 balls. Whichever of the needs of 18 and of 20 it meets whole, the other takes what is left.
func TestNeedsShareWhatTheShelfHas(t *testing.T) {
	p := balls()
	p.Parts[0].Offers[1] = supply.Offer{Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 30}}, Day: 2}
	front := solved(t, p).Front
	require.Equal(t, [][3]int64{{30*4 + 8*30 + 400, 2, 0}}, figures(front))
	require.Equal(t, []int{30, 8}, []int{front[0].Purchases[0].Pieces, front[0].Purchases[1].Pieces})

	m, err := read(&p)
	require.NoError(t, err)
	require.Equal(t, []int{10}, m.tooFew(0, 0, 0), "rear balls: what 20 for the front leave")
	require.Equal(t, []int{12}, m.tooFew(1, 0, 0), "front balls: what 18 for the rear leave")
	p.Parts[0].Offers[0].Most = 19
	m, err = read(&p)
	require.NoError(t, err)
	require.Empty(t, m.tooFew(0, 0, 0), "19 are enough for 18, and leave nothing where they are too few for 20")
	require.Equal(t, []int{19, 1}, m.tooFew(1, 0, 0), "all, or what 18 leave")
}

// A shelf from which any number can be had, and one that has enough, take no need apart.
func TestShelfThatHasEnough(t *testing.T) {
	for _, most := range []int{0, 2, 3} {
		p := twoTubes()
		p.Parts[0].Offers[0].Most = most
		m, err := read(&p)
		require.NoError(t, err)
		require.Len(t, m.ways(0, 0), 3)
	}
	p := twoTubes()
	p.Parts[0].Offers[1].Most = 1
	m, err := read(&p)
	require.NoError(t, err)
	require.Len(t, m.ways(0, 0), 5, "a supplier that has too few is no shelf")
}

// Of many needs of one part only so many ways are gone into.
func TestFewWaysOfManyNeeds(t *testing.T) {
	p := balls()
	p.Needs[0].Pieces = 200
	p.Parts[0].Offers[0].Most = 250
	for i := range 10 {
		p.Needs = append(p.Needs, Need{ID: fmt.Sprint("more ", i), Family: "loose-balls", Pieces: 3 + 2*i, Candidates: []int{0}})
	}
	m, err := read(&p)
	require.NoError(t, err)
	few := m.tooFew(0, 0, 0)
	require.Len(t, few, mostLots)
	require.IsDecreasing(t, few)
}

func TestWhyOfANeedTakenApart(t *testing.T) {
	p := twoTubes()
	a := solved(t, p)
	why, err := Why(context.Background(), p, a.Front[a.Picks.Soonest], "tubes", 9)
	require.NoError(t, err)
	type row struct {
		offer   int
		shelf   Lot
		pence   int64
		days    int
		orders  bool
		cheaper int64
	}
	var rows []row
	for _, w := range why {
		r := row{offer: w.Offer, shelf: w.Shelf, pence: w.Cost, days: w.Days, orders: w.Orderable, cheaper: -1}
		if w.With != nil {
			require.NoError(t, Check(p, *w.With))
			require.Equal(t, w.Shelf, w.With.Chosen[0].Shelf)
		}
		if w.Falls != nil {
			r.cheaper = *w.Falls
		}
		rows = append(rows, r)
	}
	require.Equal(t, []row{
		{later, Lot{shelf, 1}, -160, 4, true, -1},
		{later, Lot{}, -150, 4, true, -1},
		{soon, Lot{}, 120, 0, true, 120},
		{shelf, Lot{}, 0, 0, false, -1},
	}, rows)
}

// What is on the shelf can be left there, and a need can be left whole: neither having a shelf nor taking needs apart makes
// a front worse.
func TestShelfNeverWorsensAFront(t *testing.T) {
	better := 0
	for seed := range uint64(100) {
		p := drivetrain(seed)
		several(rand.New(rand.NewPCG(seed, 8)), &p)
		front := figures(solved(t, p).Front)
		bare := p
		bare.Parts = slices.Clone(p.Parts)
		for i := range bare.Parts {
			bare.Parts[i].Offers = slices.DeleteFunc(slices.Clone(bare.Parts[i].Offers), func(o supply.Offer) bool { return o.Supplier == supply.Shelf })
		}
		a, err := Solve(context.Background(), bare)
		if err != nil {
			continue // nobody else has any
		}
		without := figures(a.Front)
		require.True(t, covered(without, front), "seed %d", seed)
		if !covered(front, without) {
			better++
		}
	}
	require.Greater(t, better, 20)
}

// The checker believes no need that is taken apart as it cannot be.
func TestCheckOfANeedTakenApart(t *testing.T) {
	p := twoTubes()
	p.Parts[0].Offers = append(p.Parts[0].Offers, supply.Offer{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 300}}, Most: 1})
	p.Parts = append(p.Parts, part("other tube", "tube", nil, supply.Offer{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 300}}, Most: 9}))
	good := solved(t, twoTubes()).Front[1]
	require.NoError(t, Check(p, good))
	for _, c := range []struct {
		name, words string
		change      func(c *Chosen)
	}{
		{"all off the shelf", "before the rest", func(c *Chosen) { c.Shelf.Pieces = 2 }},
		{"nothing off the shelf", "it comes to", func(c *Chosen) { c.Shelf.Pieces = 0 }},
		{"less than nothing", "before the rest", func(c *Chosen) { c.Shelf.Pieces = -1 }},
		{"off a supplier's shelf", "off the shelf, and the rest from a supplier", func(c *Chosen) { c.Shelf.Offer = later }},
		{"the rest off a shelf", "off the shelf, and the rest from a supplier", func(c *Chosen) { c.Offer = 3 }},
		{"of an offer that is none", "part 0 has no offer 4", func(c *Chosen) { c.Shelf.Offer = 4 }},
		{"of a part that is none", "there is no part 9", func(c *Chosen) { c.Part = 9 }},
		{"whole", "it comes to", func(c *Chosen) { c.Shelf = Lot{} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := good
			bad.Chosen = slices.Clone(good.Chosen)
			c.change(&bad.Chosen[0])
			require.ErrorContains(t, Check(p, bad), c.words)
		})
	}
	bad := good
	bad.Chosen = append(slices.Clone(good.Chosen), Chosen{Need: "more", Part: 0, Offer: soon, Pieces: 2, Shelf: Lot{shelf, 1}, Brought: true})
	require.ErrorContains(t, Check(p, bad), "before the rest", "what is brought comes from one source")
}
