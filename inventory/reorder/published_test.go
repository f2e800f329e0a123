package reorder

// Published worked examples. FoSCT is L. V. Snyder and Z.-J. M. Shen, "Fundamentals
// of Supply Chain Theory", 2nd ed., Wiley 2019, with the example numbers as its
// companion library documents them.

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// FoSCT example 3.1.
func TestEconomicQuantity(t *testing.T) {
	quantity := economicQuantity(1300, 8, 0.225)
	require.InDelta(t, 304.0467800264368, quantity, 1e-10)
	require.InDelta(t, 68.41052550594829, yearlyCost(quantity, 1300, 8, 0.225), 1e-11)
}

// The newsvendor with Poisson demand orders the least S with P(D <= S) >= p/(p+h):
// mean 50 with h 0.18, p 0.70 (FoSCT example 4.3, demand taken as Poisson) and mean
// 6 with h 1, p 4. A base stock of S+1 meets single sales with P(D <= S), so the
// reorder level for that target, one piece at a time, is the newsvendor's S.
func TestNewsvendorPoisson(t *testing.T) {
	for _, test := range []struct {
		mean, holding, penalty float64
		want                   int
	}{{50, 0.18, 0.70, 56}, {6, 1, 4, 8}} {
		demand := leadDemand{Model: Poisson, Mean: test.mean, Variance: test.mean}
		level := reorderLevel(demand, []int{1}, 1, test.penalty/(test.penalty+test.holding))
		require.Equal(t, test.want, level.ReorderAt)
	}
}

// Safety stock with a random lead time (Silver, Pyke and Thomas, "Inventory and
// Production Management in Supply Chains"): 20 a day with deviation 4, 5 days with
// deviation 2, has mean 100 and deviation 40.9878.
func TestRandomLeadTime(t *testing.T) {
	demand := demandDuring(lead{MeanDays: 5, VarianceDays: 4}, 20, 16.0/20, NegativeBinomial)
	require.InDelta(t, 100, demand.Mean, 1e-12)
	// A deviation of 4 on 20 a day is less than chance alone gives (16 < 20), and
	// this package takes no less than chance: 5 x 20 in place of 5 x 16.
	require.InDelta(t, math.Sqrt(5*20+400*4), math.Sqrt(demand.Variance), 1e-12)
	demand = demandDuring(lead{MeanDays: 5, VarianceDays: 4}, 4, 16.0/4, NegativeBinomial)
	require.InDelta(t, 5*16+16*4, demand.Variance, 1e-12)
}

// One sale in ten days, lead time gamma with mean 14 and variance 49: Palm's theorem
// for Poisson, and the negative binomial with shape 4 and success 0.7407407 (Hadley
// and Whitin). Base-stock fill rates P(D <= S-1).
func TestSlowMoverFillRates(t *testing.T) {
	lead := lead{MeanDays: 14, VarianceDays: 49}
	poisson := demandDuring(lead, 0.1, 1, Poisson)
	negative := demandDuring(lead, 0.1, 1, NegativeBinomial)
	require.InDelta(t, 1.4, negative.Mean, 1e-12)
	require.InDelta(t, 1.89, negative.Variance, 1e-12)
	rows := []struct{ poisson, negative float64 }{
		{0.246597, 0.301068}, {0.591833, 0.613287}, {0.833498, 0.815651},
		{0.946275, 0.920581}, {0.985747, 0.968188}, {0.996799, 0.987936},
	}
	for i, want := range rows {
		require.InDelta(t, want.poisson, poisson.atMost(i)[i], 5e-7)
		require.InDelta(t, want.negative, negative.atMost(i)[i], 5e-7)
	}
	for _, test := range []struct {
		target      float64
		demand      leadDemand
		wantUpTo    int
		description string
	}{
		{0.95, poisson, 5, "95 %, orders may cross"},
		{0.95, negative, 5, "95 %, in order"},
		{0.94, poisson, 4, "94 %, orders may cross"},
		{0.94, negative, 5, "94 %, in order: the spread of the lead time costs a piece"},
	} {
		level := reorderLevel(test.demand, []int{1}, 1, test.target)
		require.Equal(t, test.wantUpTo, level.ReorderAt+1, test.description)
		require.InDelta(t, test.demand.atMost(level.ReorderAt)[level.ReorderAt], level.Fill, 1e-12)
	}
}

// The negative binomial as it comes from a Gamma(2, 1) prior and the counts 0 0 1 3 0
// (Gelman and others, "Bayesian Data Analysis", ch. 2): shape 6, success 6/7.
func TestNegativeBinomialOfGammaPoisson(t *testing.T) {
	demand := leadDemand{Model: NegativeBinomial, Mean: 1, Variance: 7.0 / 6}
	require.InDeltaSlice(t, []float64{.396569, .736486, .906444, .971191, .992002}, demand.atMost(4), 5e-7)
}

// A Poisson number of sales in a gamma lead time, drawn: what the negative binomial
// claims to be.
func TestNegativeBinomialAgainstSimulation(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	const draws = 40_000
	counts := make([]float64, 60)
	for range draws {
		lead := 0.0 // gamma of shape 4 and mean 14: four waits of 3.5 days
		for range 4 {
			lead += 3.5 * r.ExpFloat64()
		}
		sold := 0
		for day := r.ExpFloat64() / 0.1; day < lead; day += r.ExpFloat64() / 0.1 {
			sold++
		}
		counts[sold] += 1.0 / draws
	}
	sum := 0.0
	for n, chance := range demandDuring(lead{14, 49}, 0.1, 1, NegativeBinomial).atMost(8) {
		sum += counts[n]
		require.InDelta(t, chance, sum, 0.01)
	}
}

func TestManySalesDoNotUnderflow(t *testing.T) {
	poisson := leadDemand{Model: Poisson, Mean: 5000, Variance: 5000}
	chances := poisson.atMost(6000)
	require.InDelta(t, 0.5, chances[5000], 0.01)
	require.InDelta(t, 1, chances[6000], 1e-9)
}

// Series of 24 periods with the forecasts of R's package forecast 8.20 (function
// croston: the first interval counts the periods up to and including the first sale;
// one smoothing constant for both), to ten digits; Syntetos and Boylan's correction
// is a factor 1-a/2; the method of Teunter, Syntetos and Babai starts from amount 3 and
// chance 1/3 and updates its chance with 0.1.
func TestIntermittentForecasts(t *testing.T) {
	series := []int{0, 0, 3, 0, 0, 0, 1, 2, 0, 0, 0, 0, 4, 0, 1, 0, 0, 2, 0, 0, 0, 0, 0, 3}
	for _, test := range []struct {
		alpha, amount, interval, croston, corrected, fading float64
	}{
		{0.1, 2.637192, 3.292629, 0.8009380954, 0.7608911906, 0.7806228233},
		{0.2, 2.473408, 3.578496, 0.6911864649, 0.6220678184, 0.7321418903},
	} {
		amount, interval := croston(series, test.alpha)
		require.InDelta(t, test.amount, amount, 5e-7)
		require.InDelta(t, test.interval, interval, 5e-7)
		require.InDelta(t, test.croston, amount/interval, 5e-11)
		require.InDelta(t, test.corrected, (1-test.alpha/2)*amount/interval, 5e-11)
		require.InDelta(t, test.fading, fadingOut(series, test.alpha, 0.1), 5e-11)
	}
	forecast := forecastDemand(series)
	require.Equal(t, SyntetosBoylan, forecast.Method)
	require.InDelta(t, 0.7608911906, forecast.PerPeriod, 5e-11)

	pattern := describe(series)
	require.InDelta(t, 3.428571, pattern.Interval, 5e-7)
	require.InDelta(t, 0.203125, pattern.Variation, 1e-12) // over n; over n-1 it is 0.236979
	require.Equal(t, Intermittent, pattern.Class)
	require.Equal(t, 0, pattern.SinceLast)
}
