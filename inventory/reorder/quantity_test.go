package reorder

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// Snyder and Shen, "Fundamentals of Supply Chain Theory", 2nd ed., Wiley 2019: quantities and costs as the documentation of
// its companion library gives them.
func TestEconomicQuantities(t *testing.T) {
	q := economicQuantity(1300, 8, 0.225) // example 3.1
	require.InDelta(t, 304.0467800264368, q, 1e-9)
	require.InDelta(t, 68.41052550594829, yearlyCost(q, 1300, 8, 0.225), 1e-9)

	q, cost := discountQuantity(1000, 200, 0.20, []Break{{0, 500}, {200, 475}, {500, 450}}) // all-units discounts
	require.InDelta(t, 500, q, 1e-9)
	require.InDelta(t, 472900.0, cost, 1e-6)
}

// No quantity is cheaper than the one found, tried one by one.
func TestDiscountQuantityAgainstAllQuantities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		perYear, order := rapid.Float64Range(1, 400).Draw(t, "a year"), rapid.Float64Range(0.5, 20).Draw(t, "order")
		item := Item{Price: 10, Breaks: []Break{{rapid.IntRange(2, 30).Draw(t, "from"), rapid.Float64Range(6, 9.9).Draw(t, "price")}}}
		_, cost := discountQuantity(perYear, order, 0.25, append([]Break{{0, item.Price}}, item.Breaks...))
		for q := 1; q < 300; q++ {
			price := item.PriceAt(q)
			require.GreaterOrEqual(t, perYear*price+yearlyCost(float64(q), perYear, order, 0.25*price), cost-1e-9, "%d pieces", q)
		}
	})
}

// A part that is cheaper by the dozen is ordered by the dozen where it sells, and not where a dozen would lie for years.
func TestBreaksInsideLots(t *testing.T) {
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	sales := func(every int) (out []Sale) {
		for day := 2; day < 500; day += every {
			out = append(out, Sale{Day: day, Pieces: 1})
		}
		return out
	}
	for _, test := range []struct {
		name   string
		every  int
		breaks []Break
		dozen  bool
	}{
		{"sells, and is cheaper", 8, []Break{{12, 14}}, true},
		{"sells, and is no cheaper", 8, nil, false},
		{"hardly sells", 120, []Break{{12, 14}}, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			item := Item{Name: "chain", Sales: sales(test.every), Price: 20, Breaks: test.breaks, Lead: lead}
			k := Weigh([]Item{item}, 0, 500, terms).For(0.95)[0]
			require.Equal(t, test.dozen, k.UpTo-k.At >= 12, "%+v", k)
		})
	}
}

// What is kept at least is kept, whatever it sells and however little money there is; where waiting costs more it is
// met sooner.
func TestFloorsAndWaiting(t *testing.T) {
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	r := rand.New(rand.NewPCG(3, 4))
	for range 6 {
		var items []Item
		for range 4 {
			item := Item{Name: "part", Price: 1 + 89*r.Float64(), Lead: lead}
			for day := r.IntN(60); day < 400; day += 4 + r.IntN(86) {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
			}
			items = append(items, item)
		}
		items[0].Least = 1 + r.IntN(6)
		shelf := Weigh(items, 0, 400, terms)
		for _, target := range []float64{0.01, 0.8, 0.95} {
			keeps := shelf.For(target)
			require.GreaterOrEqual(t, keeps[0].At, items[0].Least-1)
			require.GreaterOrEqual(t, shelf.Total(keeps).Share, min(target, 0.9), "the rest is met beside it")
		}
		keeps := shelf.Within(0)
		require.GreaterOrEqual(t, keeps[0].UpTo, items[0].Least)
	}

	var alike []Item
	for range 2 {
		item := Item{Name: "brake cable", Price: 30, Lead: lead}
		for day := 5; day < 400; day += 50 {
			item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
		}
		alike = append(alike, item)
	}
	first := Weigh(alike, 0, 400, terms).For(0.01)
	require.Positive(t, first[0].UpTo)
	require.Zero(t, first[1].UpTo, "so little is asked for that one of them is enough")
	alike[1].Waiting = 3
	first = Weigh(alike, 0, 400, terms).For(0.01)
	require.Zero(t, first[0].UpTo)
	require.Positive(t, first[1].UpTo)
	for i := range alike {
		alike[i].Waiting = 80
	}
	dear := Weigh(alike, 0, 400, terms).For(0.01)
	require.Greater(t, dear[0].Fill, 0.9, "whatever is asked for, a wait costs more than the shelf")
	require.Greater(t, dear[1].Fill, 0.9)
}

// Where an order is cut at the largest that is reckoned with, it stays whole packs.
func TestTheLargestOrderIsWholePacks(t *testing.T) {
	item := Item{Name: "part", Lead: &LeadTime{OnDay: []float64{0, 0, 0, 0.8, 0, 0, 0.2}}, Price: 0.25, Pack: 4}
	for day := 1; day < 300; day += 5 {
		item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1 + day%4})
	}
	s := Weigh([]Item{item}, 0, 300, Terms{LookEvery: 5, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	require.NotEmpty(t, s.Offered(0))
	for _, k := range s.Offered(0) {
		require.Zero(t, (k.UpTo-k.At)%4, "%+v", k)
	}
}

// Whatever a place holds and however long a part keeps, no order makes more of it, in whole packs from any position at
// or below the level.
func TestRoom(t *testing.T) {
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 0.8, 0, 0, 0.2}}
	terms := Terms{LookEvery: 5, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	rapid.Check(t, func(t *rapid.T) {
		item := Item{Name: "part", Lead: lead, Price: rapid.Float64Range(0.1, 90).Draw(t, "price"), Pack: rapid.IntRange(1, 12).Draw(t, "pack"),
			Most: rapid.IntRange(0, 40).Draw(t, "holds"), Life: rapid.SampledFrom([]float64{0, 0, 0.25, 1, 3}).Draw(t, "years")}
		if rapid.Bool().Draw(t, "by the dozen") {
			item.Breaks = []Break{{From: 12, Price: item.Price * 0.8}}
		}
		every := rapid.IntRange(1, 60).Draw(t, "every")
		for day := 1; day < 300; day += every {
			item.Sales = append(item.Sales, Sale{Day: day, Pieces: rapid.IntRange(1, 4).Draw(t, "pieces")})
		}
		s := Weigh([]Item{item}, 0, 300, terms)
		require.Equal(t, len(s.Offered(0)) == 0, s.Homeless(0))
		for _, k := range s.Offered(0) {
			if item.Life > 0 {
				require.LessOrEqual(t, float64(k.UpTo), s.PerYear(0, 0).Mean()*item.Life+1e-9)
			}
			require.Zero(t, (k.UpTo-k.At)%item.Pack, "%+v is whole packs", k)
			for position := 0; position <= k.At; position++ {
				then := position + item.ToOrder(position, k.UpTo)
				require.Greater(t, then, k.At, "from %d with %+v", position, k)
				require.LessOrEqual(t, then, k.UpTo, "from %d with %+v", position, k)
				if item.Most > 0 {
					require.LessOrEqual(t, then, item.Most)
				}
			}
		}
	})
}
