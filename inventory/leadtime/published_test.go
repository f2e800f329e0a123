package leadtime

// Published formulas and worked examples against which the method is checked.
// The formulas that stand only here are cross-checks: the package does without.

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
)

// With nothing known beforehand, the chance that the next receipt is not later
// than the k-th earliest of n is k/(n+1), whatever the distribution (Hahn and
// Meeker, "Statistical Intervals", 1991, one-sided prediction bounds). The mix
// gives it exactly when the base is worth one vote for "later than all seen".
func TestOrderStatistics(t *testing.T) {
	const later = 200
	base := newDistribution()
	base.add(later, 1)
	for _, n := range []int{1, 2, 3, 9, 19, 39} {
		votes := newDistribution()
		for k := 1; k <= n; k++ {
			votes.add(k, 1)
		}
		mixed := mix(base, 1, votes)
		for k := 1; k <= n; k++ {
			require.InDelta(t, float64(k)/float64(n+1), mixed.By(k), 1e-12, "%d of %d", k, n)
		}
	}
	// 9, 19 and 39 receipts are the fewest whose latest covers 90, 95 and 97.5 in 100.
	for n, confidence := range map[int]float64{9: 0.9, 19: 0.95, 39: 0.975} {
		for receipts, enough := range map[int]bool{n: true, n - 1: false} {
			votes := newDistribution()
			for k := 1; k <= receipts; k++ {
				votes.add(k, 1)
			}
			days, ok := mix(base, 1, votes).Within(confidence)
			require.True(t, ok)
			require.Equal(t, enough, days < later, "%d receipts for %v", receipts, confidence)
		}
	}
}

// Sample sizes by which the latest of n lies above the day that content p keeps
// within, with confidence c: n = ln(1-c)/ln p (Wilks, Annals of Mathematical
// Statistics 12, 1941; table in Hahn and Meeker). It fails to if all n shipments
// are in by that day, which is a product of n chances.
func TestToleranceSizes(t *testing.T) {
	for _, test := range []struct {
		content, confidence float64
		n                   int
	}{{0.95, 0.95, 59}, {0.90, 0.90, 22}, {0.90, 0.95, 29}, {0.80, 0.90, 11}} {
		lead := newDistribution()
		lead.add(1, test.content)
		lead.add(2, 1-test.content)
		route := calendar.Route{Supplier: calendar.Weekdays(), Workshop: calendar.Weekdays()}
		monday := calendar.Date(2026, 11, 23)
		var shipments []Shipment
		for 1-ByDay(shipments, monday+1) < test.confidence {
			shipments = append(shipments, Shipment{OrderDay: monday, Route: route, Lead: lead})
		}
		require.Len(t, shipments, test.n)
	}
}

// Normal prediction bounds for the next of 4 6 5 9 7, mean + t s sqrt(1+1/n), plain
// and on the log scale (Hahn and Meeker). The forecast assumes no such shape, yet
// for a supplier that took these days it must not be bolder than the narrower
// bound by more than two days, for it knows the quote of 6 besides, nor lie beyond
// the wider by more than three, though it knows that suppliers can be worse.
func TestNormalPredictionBounds(t *testing.T) {
	took := []float64{4, 6, 5, 9, 7}
	quoted := 6
	receipts := make([]Receipt, len(took))
	for i, days := range took {
		receipts[i] = Receipt{Supplier: "Ashdown", Ordered: calendar.Day(20_700 + i), Arrived: calendar.Day(20_710 + i),
			Quoted: &quoted, Took: int(days), Signal: InStock}
	}
	forecast := Learn(receipts, nil, 20_720).Forecast(Order{Supplier: "Ashdown", Quoted: &quoted, Signal: InStock})
	for _, test := range []struct{ q, plain, onLogs float64 }{
		{0.5, 6.2, 5.9663}, {0.8, 8.1827, 8.2168}, {0.9, 9.4307, 10.0506}, {0.95, 10.6921, 12.3203},
	} {
		plain := predictionBound(took, test.q)
		require.InDelta(t, test.plain, plain, 5e-5)
		logs := make([]float64, len(took))
		for i, days := range took {
			logs[i] = math.Log(days)
		}
		onLogs := math.Exp(predictionBound(logs, test.q))
		require.InDelta(t, test.onLogs, onLogs, 5e-5)

		days, ok := forecast.Within(test.q)
		require.True(t, ok)
		t.Logf("%.0f in 100: normal %.1f, log-normal %.1f, forecast %d working days", 100*test.q, plain, onLogs, days)
		require.GreaterOrEqual(t, float64(days), math.Min(plain, onLogs)-2)
		require.LessOrEqual(t, float64(days), math.Max(plain, onLogs)+3)
	}
}

// predictionBound is for five values: Student's t has a closed quantile for four
// degrees of freedom.
func predictionBound(x []float64, q float64) float64 {
	n := float64(len(x))
	mean, squares := 0.0, 0.0
	for _, v := range x {
		mean += v / n
	}
	for _, v := range x {
		squares += (v - mean) * (v - mean)
	}
	root := math.Sqrt(4 * q * (1 - q))
	student := 2 * math.Sqrt(math.Max(0, math.Cos(math.Acos(root)/3)/root-1))
	return mean + student*math.Sqrt(squares/(n-1)*(1+1/n))
}

// Days late as a Poisson count with a Gamma(2, 1) prior: after 0 0 1 3 0 the next is
// negative binomial (Gelman and others, "Bayesian Data Analysis", ch. 2). The
// forecast knows no such shape, but its 9 in 10 must be within a day.
func TestGammaPoisson(t *testing.T) {
	late := []int{0, 0, 1, 3, 0}
	shape, rate := 2.0, 1.0
	for _, days := range late {
		shape += float64(days)
		rate++
	}
	p := rate / (rate + 1)
	mass, cdf := math.Pow(p, shape), 0.0
	ninety := -1
	for day, want := range []float64{.396569, .736486, .906444, .971191, .992002} {
		cdf += mass
		require.InDelta(t, want, cdf, 5e-7)
		mass *= (shape + float64(day)) / float64(day+1) * (1 - p)
		if ninety < 0 && cdf >= 0.9 {
			ninety = day
		}
	}
	quoted := 2
	var receipts []Receipt
	for i, days := range late {
		receipts = append(receipts, Receipt{Supplier: "Ashdown", Ordered: calendar.Day(20_700 + i), Arrived: calendar.Day(20_710 + i),
			Quoted: &quoted, Took: quoted + days, Signal: InStock})
	}
	days, ok := Learn(receipts, nil, 20_720).Forecast(Order{Supplier: "Ashdown", Quoted: &quoted, Signal: InStock}).Within(0.9)
	require.True(t, ok)
	require.InDelta(t, ninety, days-quoted, 1)
}

// Efron and Morris, "Stein's paradox in statistics", Scientific American 236(5),
// 1977: batting averages of 18 players over 45 turns shrink by .212 towards their
// mean. Their estimate of the variance between players divides by k-3; the weight
// is ours.
func TestEfronMorris(t *testing.T) {
	averages := []float64{.400, .378, .356, .333, .311, .311, .289, .267, .244, .244,
		.222, .222, .222, .222, .222, .200, .178, .156}
	shrunk := []float64{.294, .289, .285, .280, .275, .275, .270, .266, .261, .261,
		.256, .256, .256, .256, .256, .252, .247, .242}
	const k = 18
	mean, squares := 0.0, 0.0
	for _, a := range averages {
		mean += a / k
	}
	for _, a := range averages {
		squares += (a - mean) * (a - mean)
	}
	sigma2 := mean * (1 - mean) / 45
	require.InDelta(t, .0043324, sigma2, 1e-6)
	tau2 := squares/(k-3) - sigma2

	const turns = 45
	weight := turns / (turns + sigma2*turns/tau2) // n/(n+a) with a = s²/τ²
	require.InDelta(t, .212, weight, 5e-4)
	for i, a := range averages {
		require.InDelta(t, shrunk[i], mean+weight*(a-mean), 6e-4)
	}
}

// Eight schools (Rubin, Journal of Educational Statistics 6, 1981): schools that
// differ less than chance alone would make them. The variance between them is
// estimated as 0 and no weight divides by it.
func TestEightSchools(t *testing.T) {
	effects := []float64{28, 8, -3, 7, -1, 1, 18, 12}
	errors := []float64{15, 10, 16, 11, 9, 11, 10, 18}
	var groups []group
	for i := range effects {
		groups = append(groups, group{mean: effects[i], variance: errors[i] * errors[i]})
	}
	require.Zero(t, between(groups))

	// Twice as far apart from 7.6856, the published pooled mean, Q is four times 4.7071.
	for i := range groups {
		groups[i].mean = 7.6856 + 2*(groups[i].mean-7.6856)
	}
	var w, w2 float64
	for _, g := range groups {
		w += 1 / g.variance
		w2 += 1 / (g.variance * g.variance)
	}
	require.InDelta(t, 4.0719, 1/math.Sqrt(w), 5e-5) // published pooled standard error
	require.InDelta(t, (4*4.7071-7)/(w-w2/w), between(groups), 1e-2)

	require.Zero(t, between(nil))
	require.Zero(t, between(groups[:1]))
}

// Three suppliers that differ by days and keep to themselves within one. That one of
// them once took three months must not make own receipts look worthless.
func TestOneFreakDoesNotHideTheHabits(t *testing.T) {
	steady := [][]int{{0, 1, 0, 1, 0, 1, 0}, {4, 5, 4, 5, 4, 5, 4}, {8, 9, 8, 9, 8, 9, 8}}
	require.Equal(t, leastWorth, worthOfBase(steady))
	steady[0][3] = 60
	require.Less(t, worthOfBase(steady), usualWorth)
}

// What is assumed widens with every signal that promises less.
func TestAssumptions(t *testing.T) {
	quoted := 10
	late := 0.0
	for _, signal := range []Signal{InStock, Low, Unknown, ToOrder} {
		a := assume(&quoted, signal)
		require.Greater(t, a.LateChance, late)
		late = a.LateChance
		require.Equal(t, 5.0, a.MeanDaysLate)
		require.InDelta(t, 1, a.distribution().total(), 1e-12)
		require.InDelta(t, 1-late, a.distribution().By(10), 1e-12)
	}
}

func TestWorthOfBase(t *testing.T) {
	for _, test := range []struct {
		name string
		late [][]int
		want float64
	}{
		{"nothing known", nil, usualWorth},
		{"two suppliers", [][]int{{0, 1}, {0, 2}}, usualWorth},
		{"single receipts only", [][]int{{0}, {1}, {4}}, usualWorth},
		{"cannot be told apart", [][]int{{0, 1, 2}, {2, 1, 0}, {1, 0, 2}}, mostWorth},
		{"never vary and never differ", [][]int{{1, 1}, {1, 1}, {1, 1}}, leastWorth},
		{"each keeps to its own habit", [][]int{{0, 0, 0, 1}, {5, 5, 5, 6}, {9, 9, 9, 10}}, leastWorth},
		// Means 0.5, 2.5, 4.5; within 3 = 9/3 (spread of {-1,2}, {1,4}, {3,6} is 4.5 each, one
		// degree of freedom); variance of a mean 2.25; the means' variance 4 less 2.25 is 1.75.
		{"by hand", [][]int{{-1, 2}, {1, 4}, {3, 6}}, 4.5 / 1.75},
	} {
		t.Run(test.name, func(t *testing.T) {
			require.InDelta(t, test.want, worthOfBase(test.late), 1e-12)
		})
	}
}
