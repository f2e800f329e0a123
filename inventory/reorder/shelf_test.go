package reorder

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// known is a rate without doubt.
func known(perDay float64) gamma { return gamma{1e7, 1e7 / perDay} }

// A gamma rate and Poisson sales are negative binomial sales: the sums over a few rates have the moments of the closed form.
func TestNodesHaveTheMomentsOfTheGamma(t *testing.T) {
	for _, g := range []gamma{{0.05, 1}, {0.7, 3}, {2, 10}, {30, 12}, {1e7, 1e8}} {
		raw := 1.0
		for k := range 8 { // the moments about nought of a gamma are products
			if k > 0 {
				raw *= (g.shape + float64(k-1)) / g.rate
			}
			sum := 0.0
			for _, n := range g.nodes() {
				sum += n.chance * math.Pow(n.rate, float64(k))
			}
			require.InEpsilon(t, raw, sum, 1e-6, "moment %d of %v", k, g)
		}
	}
	// With shape 2 and rate 10, five days: negative binomial with success 2/3.
	sales := 0.0
	for _, n := range (gamma{2, 10}).nodes() {
		sales += n.chance * salesDuring(nil, []span{{5, 1}}, n.rate)[1]
	}
	require.InDelta(t, math.Exp(logNegativeBinomial(1, gamma{2, 10}, 5)), sales, 2e-4)
	require.InDelta(t, 2*math.Pow(2.0/3, 2)/3, math.Exp(logNegativeBinomial(1, gamma{2, 10}, 5)), 1e-12)
}

// A Poisson number of sales of geometric size is the Polya-Aeppli distribution (Johnson, Kemp and Kotz, "Univariate Discrete
// Distributions", 3rd ed., section 9.7): its chance of none is e to the minus mean, and of one piece that times mean times
// the chance of a single.
func TestPiecesOfGeometricSales(t *testing.T) {
	const mean, single = 1.7, 0.6
	form := []float64{0}
	for x := 1; x < 60; x++ {
		form = append(form, single*math.Pow(1-single, float64(x-1)))
	}
	sums := powers(form, 25, 40, new(room))
	want := func(n int) float64 {
		if n == 0 {
			return math.Exp(-mean)
		}
		sum := 0.0
		for k := 1; k <= n; k++ {
			logChoose, _ := math.Lgamma(float64(n))
			a, _ := math.Lgamma(float64(k))
			b, _ := math.Lgamma(float64(n - k + 1))
			fact, _ := math.Lgamma(float64(k + 1))
			sum += math.Exp(-mean + float64(k)*math.Log(mean) - fact + logChoose - a - b + float64(k)*math.Log(single) + float64(n-k)*math.Log(1-single))
		}
		return sum
	}
	sales := salesDuring(nil, []span{{1, 1}}, mean)
	for pieces := range 20 {
		sum := 0.0
		for n, chance := range sales {
			if n < len(sums) {
				sum += chance * sums[n][pieces]
			}
		}
		require.InDelta(t, want(pieces), sum, 1e-6)
	}
}

// erlang is the share of customers lost by so many servers, by its recursion.
func erlang(servers int, load float64) float64 {
	lost := 1.0
	for n := 1; n <= servers; n++ {
		lost = load * lost / (float64(n) + load*lost)
	}
	return lost
}

// Where single sales that find the shelf empty are lost to it and each is ordered anew, Erlang's formula tells how many
// are met: with one server whatever the spread of the lead time (Karush, "A queuing model for an inventory problem",
// Operations Research 5, 1957).
func TestSingleSalesFollowErlang(t *testing.T) {
	lead := &LeadTime{OnDay: make([]float64, 31)}
	lead.OnDay[4], lead.OnDay[30] = 0.9, 0.1
	spans := protection(lead, 1)
	for _, perDay := range []float64{0.02, 0.1, 0.5} {
		o := look(known(perDay), []float64{0, 1}, spans, 1, rhythm{})
		l := o.lots(1)
		require.Equal(t, 1.0, l.order)
		require.InDelta(t, 1-erlang(1, perDay*6.1), o.keep(1, 1, l).fill, 1e-6)
	}
}

// The levels foretell what a shelf comes to that is run by the rules of the ledger: what is missing is bought for the job
// and the shelf's own order goes on.
func TestFillIsWhatThePlayMeets(t *testing.T) {
	lead := &LeadTime{OnDay: make([]float64, 30)}
	lead.OnDay[3], lead.OnDay[5], lead.OnDay[20] = 0.8, 0.15, 0.05
	for _, c := range []struct {
		name      string
		every     float64 // days from one sale to the next
		form      []float64
		at, upTo  int
		lookEvery int
		within    float64
	}{
		{"one at a time", 8, []float64{0, 1}, 0, 1, 1, 0.01},
		{"one at a time, looked at once a week", 8, []float64{0, 1}, 1, 2, 5, 0.012},
		{"five at a time", 2, []float64{0, 1}, 3, 8, 1, 0.01},
		{"five at a time, from an empty shelf", 4, []float64{0, 1}, 0, 5, 1, 0.012},
		{"in twos and fours", 6, []float64{0, 0.5, 0.3, 0, 0.2}, 3, 6, 1, 0.02},
		{"in twos and fours, looked at once a week", 6, []float64{0, 0.5, 0.3, 0, 0.2}, 5, 9, 5, 0.02},
		{"six a day, each of one piece", 1. / 6, []float64{0, 1}, 40, 120, 1, 0.015},
		{"six a day, sixty at a time from forty", 1. / 6, []float64{0, 1}, 40, 100, 1, 0.015},
		{"four a day, in ones and fours", 0.25, []float64{0, 0.7, 0, 0, 0.3}, 60, 140, 1, 0.015},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := look(known(1/c.every), c.form, protection(lead, c.lookEvery), c.lookEvery, rhythm{})
			gap := (c.upTo - c.at) / o.unit
			said := o.keep(c.at/o.unit+gap, gap, o.lots(gap))
			said.stock *= float64(o.unit)
			r := rand.New(rand.NewPCG(4, 4))
			const days = 200_000
			item := Item{Name: "ring", Price: 1, Lead: lead, Sales: []Sale{{Day: 0, Pieces: 1}}}
			for at := 1 + c.every*r.ExpFloat64(); at < days; at += c.every * r.ExpFloat64() {
				u, x := r.Float64(), 0
				for u >= 0 {
					x++
					u -= c.form[x]
				}
				item.Sales = append(item.Sales, Sale{Day: int(at), Pieces: x})
			}
			w := &World{Items: []Item{item}, Start: 1, End: days, LookEvery: c.lookEvery, AdviseEvery: days, Seed: 4,
				Takes: func(r *rand.Rand, _ *Item) int { return lead.Draw(r) }}
			met := w.Play(func(Books) []Keep { return []Keep{{At: c.at, UpTo: c.upTo}} })
			t.Logf("said %.4f, met %.4f; stock said %.3f, was %.3f; in %ds", said.fill, met.Share(), said.stock, met.Stock, o.unit)
			require.InDelta(t, said.fill, met.Share(), c.within)
			require.InEpsilon(t, said.stock, met.Stock, 0.08)
		})
	}
}

// With single choices for up to six parts every combination can be tried: none meets as many sales as the shelf for less.
func TestNoCombinationIsCheaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.IntRange(1, 6).Draw(t, "parts")
		s := &Shelf{choices: make([][]choice, parts), perDay: make([]float64, parts), asked: make([]float64, parts)}
		for i := range parts {
			var all []choice
			for k := range rapid.IntRange(1, 4).Draw(t, "choices") {
				all = append(all, choice{upTo: int32(k + 1), gap: 1,
					cost: rapid.Float64Range(0.1, 50).Draw(t, "cost"), fill: rapid.Float64Range(0.01, 1).Draw(t, "fill")})
			}
			s.items = append(s.items, Item{Waiting: rapid.SampledFrom([]float64{0, 0, 1, 4}).Draw(t, "waiting")})
			s.asked[i] = rapid.Float64Range(0.01, 1).Draw(t, "sales a day") / WorkingDaysPerYear * 20
			s.choices[i] = corners(all, s.asked[i], false)
		}
		s.sales = 1
		target := rapid.Float64Range(0, 60).Draw(t, "target")
		keeps := s.walk(target)
		total, spent := s.total(keeps), 0.0 // for stock, orders and waiting, over what it would be if all waited
		for i, k := range keeps {
			if k.choice > 0 {
				c := s.choices[i][k.choice-1]
				spent += c.cost - s.items[i].Waiting*c.met(s.asked[i])
			}
		}
		if total.met < target { // more than there is
			return
		}
		var try func(i int, cost, met float64)
		try = func(i int, cost, met float64) {
			if i == parts {
				// Whoever meets as many sales as the shelf pays no less: the choices are the corners of what can be had.
				if met >= total.met-1e-9 {
					require.GreaterOrEqual(t, cost, spent-1e-6)
				}
				return
			}
			try(i+1, cost, met)
			for _, c := range s.choices[i] {
				try(i+1, cost+c.cost-s.items[i].Waiting*c.met(s.asked[i]), met+c.met(s.asked[i]))
			}
		}
		try(0, 0, 0)
		// And by Lagrange's bound no shelf at all meets the target for less than the last step's price allows.
		require.GreaterOrEqual(t, spent+1e-9, bound(s, target))
	})
}

// bound is what meeting so many sales a year costs at least, waiting and all, by Lagrange's relaxation at the price of
// the last step that they need.
func bound(s *Shelf, sales float64) float64 {
	price, met := 0.0, 0.0
	for st := range s.steps() {
		if met >= sales && st.worth > 0 {
			break
		}
		price = max(0, st.worth)
		_, sold, _ := s.gain(st.item, st.choice)
		met += sold
	}
	least := price * sales
	for i, choices := range s.choices {
		best := 0.0
		for _, c := range choices {
			best = min(best, c.cost-(price+s.items[i].Waiting)*c.met(s.asked[i]))
		}
		least += best
	}
	return least
}

// The advice of two neighbouring days differs only by what happened between them, whatever the day of the week: for a part
// bought for a job and sold once, long ago, as for one that sells now and then.
func TestAdviceOfNeighbouringDays(t *testing.T) {
	lead := LeadTimeOf([]float64{0, 0, 0, 0.8, 0.1, 0.1})
	items := Make(60, 110, 7)
	for i := range items {
		items[i].Lead = lead
	}
	items[0].Sales = []Sale{{Day: 2, Pieces: 1}} // once, in its first week
	terms := Terms{LookEvery: 5, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	l := learn(stockBook(items), 0, 100*daysPerPeriod, terms)
	was := math.NaN()
	for day := 10; day < 100*daysPerPeriod; day++ {
		r := record{sizes: items[0].Sales}
		require.True(t, r.count(0, day))
		g, _ := l.outlook(&r, day)
		rate := g.shape / g.rate / l.pace(&r, day) // what all parts did between is another matter
		if day > 10 {
			require.InEpsilon(t, was, rate, 0.08, "day %d", day)
		}
		was = rate
	}
	require.Less(t, 5*was, 0.1, "a part sold once, two years ago, is not taken to sell every week")
}

// Nothing is known of a shop without books, and nothing is kept; a target beyond reach keeps all that is worth anything.
func TestShelfWithoutBooks(t *testing.T) {
	lead := LeadTimeOf([]float64{0, 0, 0, 1})
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	require.Empty(t, Weigh(nil, 0, 0, terms).For(0.95))
	require.Equal(t, []Keep{{}}, Weigh([]Item{{Name: "ring", Price: 8, Lead: lead}}, 0, 100, terms).For(0.95))
	one := Weigh([]Item{{Name: "ring", Price: 8, Lead: lead, Sales: []Sale{{Day: 98, Pieces: 1}}}}, 0, 100, terms).For(0.999)
	require.Positive(t, one[0].UpTo)
	require.Less(t, one[0].UpTo, 10, "one sale two days ago is no reason for a heap")
}

// Dear parts are left to be ordered for the job before cheap ones that sell as often.
func TestThePoundGoesWhereItSavesMost(t *testing.T) {
	lead := LeadTimeOf([]float64{0, 0, 0, 0.9, 0, 0, 0, 0, 0, 0, 0.1})
	items := Make(80, 60, 3)
	for i := range items {
		items[i].Lead = lead
		items[i].Price = 10
	}
	items[0] = Item{Name: "cheap", Price: 2, Lead: lead, Sales: []Sale{{Day: 10, Pieces: 1}, {Day: 130, Pieces: 1}, {Day: 250, Pieces: 1}}}
	items[1] = Item{Name: "dear", Price: 90, Lead: lead, Sales: []Sale{{Day: 10, Pieces: 1}, {Day: 130, Pieces: 1}, {Day: 250, Pieces: 1}}}
	s := Weigh(items, 0, 300, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	keeps := s.For(0.9)
	require.Positive(t, keeps[0].UpTo, "a part of £2 that sells twice a year is kept")
	require.Zero(t, keeps[1].UpTo, "one of £90 is not")
	before := 0.0
	for _, target := range []float64{0.5, 0.7, 0.9, 0.97} {
		keeps := s.For(target)
		less, more := s.Beside(keeps)
		total := s.total(keeps)
		require.Less(t, s.total(less).Share, total.Share)
		require.Less(t, s.total(less).cost, total.cost)
		require.Greater(t, s.total(more).Share, total.Share)
		require.Greater(t, s.total(more).cost, total.cost)
		_, again := s.Beside(less)
		require.Equal(t, keeps, again, "the step that was left out is the next one")
		require.Greater(t, total.cost, before)
		before = total.cost
	}
	none, _ := s.Beside(s.Within(0))
	require.Nil(t, none, "less than nothing there is not")
}

// Money that does not suffice for one part still buys another, and the next step says what the first would add.
func TestTooDearIsPassedOver(t *testing.T) {
	sold := func(every int) (sales []Sale) {
		for day := 3; day < 500; day += every {
			sales = append(sales, Sale{Day: day, Pieces: 1})
		}
		return sales
	}
	lead := LeadTimeOf([]float64{0, 0, 0, 1})
	items := []Item{{Name: "often", Price: 40, Lead: lead, Sales: sold(3)}, {Name: "now and then", Price: 2, Lead: lead, Sales: sold(100)}}
	s := Weigh(items, 0, 500, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	require.Less(t, s.worth(0, 0), s.worth(1, 0), "the dear one would be bought first")
	keeps := s.Within(10)
	_, next := s.Beside(keeps)
	require.Zero(t, keeps[0].UpTo)
	require.Positive(t, keeps[1].UpTo)
	require.LessOrEqual(t, s.Total(keeps).Stock, 10.0)
	require.Positive(t, next[0].UpTo)
	require.Equal(t, keeps[1], next[1])
}

func TestWeekOfDay(t *testing.T) {
	for day, want := range map[int]int{-6: -2, -5: -1, -1: -1, 0: 0, 4: 0, 5: 1} {
		require.Equal(t, want, weekOf(day), fmt.Sprint(day))
	}
}
