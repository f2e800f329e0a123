package reorder

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func money(text string) decimal.Decimal { return decimal.RequireFromString(text) }

func TestClasses(t *testing.T) {
	for _, test := range []struct {
		name   string
		counts []int
		want   Class
	}{
		{"nothing counted", nil, NeverSold},
		{"never sold", []int{0, 0, 0}, NeverSold},
		{"smooth", []int{2, 3, 2, 3, 2}, Smooth},
		{"erratic", []int{1, 1, 9, 1, 1}, Erratic},
		{"intermittent", []int{0, 1, 0, 1, 0}, Intermittent},
		{"lumpy", []int{0, 1, 0, 9, 0, 1, 0, 1}, Lumpy},
		// Sold in 25 of 33 periods is exactly the boundary, 1.32: now and then.
		{"on the boundary", slices.Concat(slices.Repeat([]int{1}, 25), make([]int, 8)), Intermittent},
	} {
		t.Run(test.name, func(t *testing.T) {
			require.Equal(t, test.want, describe(test.counts).Class)
		})
	}
}

func TestDispersion(t *testing.T) {
	require.Equal(t, 1.0, describe([]int{1, 1, 1, 1}).Dispersion) // steadier than chance
	// 0 0 6 0: mean 1.5, variance (3 x 1.5² + 4.5²)/3 = 9.
	require.InDelta(t, 6, describe([]int{0, 0, 6, 0}).Dispersion, 1e-12)
	require.Equal(t, 1.0, describe([]int{4}).Dispersion)
}

func TestMethods(t *testing.T) {
	require.Equal(t, forecast{Method: Croston}, forecastDemand(make([]int, 12)))
	require.Equal(t, forecast{PerPeriod: 2, Method: Croston}, forecastDemand([]int{2, 2, 2, 2}))

	// Even amounts at uneven intervals, two periods on average: relative variance 1/2.
	steady := forecastDemand(slices.Repeat([]int{0, 1}, 26))
	require.InDelta(t, 0.95/2, steady.PerPeriod, 1e-12)
	require.InDelta(t, 0.1/1.9*0.5*steady.PerPeriod*steady.PerPeriod, steady.Variance, 1e-12)

	// Once every other week for a year, then silence for half a year.
	silent := append(slices.Repeat([]int{0, 1}, 26), make([]int, 26)...)
	fading := forecastDemand(silent)
	require.Equal(t, FadingOut, fading.Method)
	amount, interval := croston(silent, smoothing)
	require.InDelta(t, 0.5, amount/interval, 0.05) // Croston's method never notices
	require.Less(t, fading.PerPeriod, 0.05)
}

func TestOrderQuantity(t *testing.T) {
	for _, test := range []struct {
		name              string
		perYear           float64
		pack, minimum     int
		mostYears         float64
		orderCost, weight float64
		want              int
	}{
		// sqrt(2 x 2 x 50 / 1) = 14.14
		{"single pieces", 50, 1, 0, 1, 2, 1, 14},
		{"packs of ten: one, for 10 costs 15.00 and 20 costs 15.00", 50, 10, 0, 1, 2, 1, 10},
		{"packs of twelve: 12 costs 14.33, 24 costs 16.17", 50, 12, 0, 1, 2, 1, 12},
		{"packs of eight: 16 costs 14.25, 8 costs 16.50", 50, 8, 0, 1, 2, 1, 16},
		{"a pack is more than the best", 50, 144, 0, 1, 2, 1, 144},
		{"minimum order in whole packs", 50, 8, 20, 1, 2, 1, 24},
		{"no more than sells in a year", 4, 1, 0, 1, 20, 0.1, 4},
		{"no more than sells in half a year", 50, 1, 0, 0.5, 2000, 1, 25},
		{"ordering is free", 50, 1, 0, 1, 0, 1, 1},
		{"two hundred at a quarter a year to hold", 1300, 1, 0, 1, 8, 0.225, 304},
	} {
		t.Run(test.name, func(t *testing.T) {
			require.Equal(t, test.want, orderQuantity(test.perYear, test.orderCost, test.weight, test.pack, test.minimum, test.mostYears))
		})
	}
}

// slowMover sells one in ten working days: in weeks of five, every other week.
func slowMover() part {
	return part{
		Name: "bottom bracket 68 x 110", Counts: slices.Repeat([]int{0, 1}, 26), PeriodDays: 5,
		Lead: lead{MeanDays: 14, VarianceDays: 49}, UnitPrice: money("12.50"), Pack: 1,
	}
}

func TestAdvice(t *testing.T) {
	policy := defaultPolicy(money("1.00"))
	advice, err := policy.Advise(slowMover())
	require.NoError(t, err)
	require.True(t, advice.Keep)
	require.Equal(t, SyntetosBoylan, advice.Forecast.Method)
	require.InDelta(t, 0.095, advice.PerDay, 1e-12)
	require.Equal(t, advice.ReorderAt+advice.Quantity, advice.UpTo)
	require.GreaterOrEqual(t, advice.Fill, 0.95)
	require.Equal(t, "Sells 1 in 11 working days, takes 14, give or take 7, to come: keep 7. "+
		"Order 4 when shelf and orders are down to 3; that meets 97 sales in 100 from the shelf.", advice.Words())
}

func TestPoissonLeavesOutTheSpread(t *testing.T) {
	policy := defaultPolicy(money("1.00"))
	policy.Model = Poisson
	advice, err := policy.Advise(slowMover())
	require.NoError(t, err)
	require.InDelta(t, 14*0.095, advice.Demand.Mean, 1e-12)
	require.Equal(t, advice.Demand.Mean, advice.Demand.Variance)

	policy.Model = NegativeBinomial
	advice, err = policy.Advise(slowMover())
	require.NoError(t, err)
	// The lead time varies by 49, the forecast of 0.475 a week by its own variance over 14/5 weeks.
	require.InDelta(t, 14*0.095+0.095*0.095*49+2.8*2.8*advice.Forecast.Variance, advice.Demand.Variance, 1e-12)
}

func TestNotKept(t *testing.T) {
	policy := defaultPolicy(money("1.00"))
	part := slowMover()
	part.Counts = make([]int, 24)
	advice, err := policy.Advise(part)
	require.NoError(t, err)
	require.False(t, advice.Keep)
	require.Zero(t, advice.UpTo)
	require.Equal(t, "Never sold in 24 periods: keep none.", advice.Words())

	part.Counts[0] = 1
	advice, err = policy.Advise(part)
	require.NoError(t, err)
	require.True(t, advice.Keep) // one in the only period that shows: too soon to tell that it fades
	part.Counts = slices.Concat(slices.Repeat([]int{0, 1}, 10), make([]int, 40))
	advice, err = policy.Advise(part)
	require.NoError(t, err)
	require.False(t, advice.Keep)
	require.Equal(t, "Not sold for 40 periods, where it used to sell every 6.0; it sells less than 1 a year, "+
		"takes 14, give or take 7, to come: keep none, order it for the job.", advice.Words())
}

// Pads that are taken in pairs: one pad left on the shelf serves nobody.
func TestSalesOfSeveralPieces(t *testing.T) {
	policy := defaultPolicy(money("1.00"))
	single, pairs := slowMover(), slowMover()
	pairs.Counts = slices.Repeat([]int{0, 2}, 26)
	one, err := policy.Advise(single)
	require.NoError(t, err)
	two, err := policy.Advise(pairs)
	require.NoError(t, err)
	require.InDelta(t, 2*one.PerDay, two.PerDay, 1e-12)
	require.Greater(t, two.ReorderAt, one.ReorderAt+1)
}

func TestRefused(t *testing.T) {
	good := defaultPolicy(money("1.00"))
	for _, test := range []struct {
		name   string
		change func(*policy, *part)
		want   string
	}{
		{"target of 100 %", func(p *policy, _ *part) { p.FillTarget = 1 }, "fill target 1"},
		{"target of 0", func(p *policy, _ *part) { p.FillTarget = 0 }, "fill target 0"},
		{"negative order cost", func(p *policy, _ *part) { p.OrderCost = money("-1") }, "order cost -1"},
		{"holding for nothing", func(p *policy, _ *part) { p.HoldingPerYear = 0 }, "holding cost 0"},
		{"no years", func(p *policy, _ *part) { p.MostYears = 0 }, "0 years"},
		{"unknown model", func(p *policy, _ *part) { p.Model = "normal" }, `demand model "normal"`},
		{"negative count", func(_ *policy, part *part) { part.Counts = []int{1, -1} }, "-1 pieces in period 2"},
		{"no period", func(_ *policy, part *part) { part.PeriodDays = 0 }, "a period of 0 working days"},
		{"negative lead time", func(_ *policy, part *part) { part.Lead.MeanDays = -1 }, "lead time of -1"},
		{"no price", func(_ *policy, part *part) { part.UnitPrice = decimal.Zero }, "unit price 0"},
		{"pack of none", func(_ *policy, part *part) { part.Pack = 0 }, "a pack of 0"},
		{"negative minimum", func(_ *policy, part *part) { part.Minimum = -1 }, "minimum order of -1"},
	} {
		t.Run(test.name, func(t *testing.T) {
			policy, part := good, slowMover()
			test.change(&policy, &part)
			_, err := policy.Advise(part)
			require.ErrorContains(t, err, test.want)
		})
	}
}

func TestLevelIsTheLowest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lead := lead{MeanDays: rapid.Float64Range(0, 60).Draw(t, "mean"), VarianceDays: rapid.Float64Range(0, 200).Draw(t, "variance")}
		perDay := rapid.Float64Range(0.001, 5).Draw(t, "per day")
		dispersion := rapid.Float64Range(1, 6).Draw(t, "dispersion")
		amounts := rapid.SliceOfN(rapid.IntRange(1, 5), 1, 4).Draw(t, "amounts")
		quantity := rapid.IntRange(1, 30).Draw(t, "quantity")
		target := rapid.Float64Range(0.5, highestTarget).Draw(t, "target")
		demand := demandDuring(lead, perDay, dispersion, rapid.SampledFrom([]Model{Poisson, NegativeBinomial}).Draw(t, "model"))

		level := reorderLevel(demand, amounts, quantity, target)
		require.GreaterOrEqual(t, level.Fill, target)
		require.InDelta(t, averageFill(demand, amounts, quantity, level.ReorderAt), level.Fill, 1e-9)
		if level.ReorderAt > 0 {
			require.Less(t, averageFill(demand, amounts, quantity, level.ReorderAt-1), target+1e-9)
		}
		// A higher target or a larger sale never keeps less; a larger order never needs a higher level.
		require.GreaterOrEqual(t, reorderLevel(demand, amounts, quantity, (target+highestTarget)/2).ReorderAt, level.ReorderAt)
		require.LessOrEqual(t, reorderLevel(demand, amounts, quantity+1, target).ReorderAt, level.ReorderAt)
		amounts[0]++
		require.GreaterOrEqual(t, reorderLevel(demand, amounts, quantity, target).ReorderAt, level.ReorderAt)
	})
}

// averageFill adds up the definition, without any search.
func averageFill(demand leadDemand, amounts []int, quantity, level int) float64 {
	sum := 0.0
	for _, amount := range amounts {
		for pieces := level + 1; pieces <= level+quantity; pieces++ {
			if pieces >= amount {
				chances := demand.atMost(pieces - amount)
				sum += chances[len(chances)-1]
			}
		}
	}
	return sum / float64(quantity*len(amounts))
}

// What is asked for by chance in the three days until an order of this evening is here follows Poisson's distribution, whose
// tables have for a mean of 6 that 1, 2, 9 and 10 suffice 17, 62, 916 and 957 times in a thousand (common statistical
// tables; by hand from its formula). The band is the one that is nearest to nine in ten, but holds no less than rounds to it.
func TestBandUntilAnOrderIsHere(t *testing.T) {
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	for _, c := range []struct {
		name        string
		perDay      float64
		days        int
		least, most int
		within      float64
	}{
		{"two a day, 9 is nearer than 10", 2, 0, 2, 9, 0.9161 - 0.0174},
		{"one a day, an order in three days", 1, 3, 2, 9, 0.9161 - 0.0174},
		{"one in ten days, none holds too little", 0.1, 0, 0, 1, 0.9631},
		{"one in sixteen days, none is nearer, and below the mean", 0.0625, 0, 0, 1, 0.9845},
	} {
		t.Run(c.name, func(t *testing.T) {
			spans := untilHere(lead, c.days)
			a := look(known(c.perDay), []float64{0, 1}, spans, 1, rhythm{}).ahead(spans)
			require.InDelta(t, c.perDay*float64(3+c.days), a.Mean, 1e-6)
			require.Equal(t, []int{c.least, c.most}, []int{a.Least, a.Most})
			require.InDelta(t, c.within, a.Within, 1e-3)
		})
	}
}
