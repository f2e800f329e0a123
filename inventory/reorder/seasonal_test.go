package reorder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// airPassengers are the passengers of international airlines by month, in thousands, 1949 to 1960: series G of Box and
// Jenkins, "Time Series Analysis", 1976, as R has it (data set AirPassengers).
var airPassengers = []float64{
	112, 118, 132, 129, 121, 135, 148, 148, 136, 119, 104, 118, 115, 126, 141, 135, 125, 149, 170, 170, 158, 133, 114, 140,
	145, 150, 178, 163, 172, 178, 199, 199, 184, 162, 146, 166, 171, 180, 193, 181, 183, 218, 230, 242, 209, 191, 172, 194,
	196, 196, 236, 235, 229, 243, 264, 272, 237, 211, 180, 201, 204, 188, 235, 227, 234, 264, 302, 293, 259, 229, 203, 229,
	242, 233, 267, 269, 270, 315, 364, 347, 312, 274, 237, 278, 284, 277, 317, 313, 318, 374, 413, 405, 355, 306, 271, 306,
	315, 301, 356, 348, 355, 422, 465, 467, 404, 347, 305, 336, 340, 318, 362, 348, 363, 435, 491, 505, 404, 359, 310, 337,
	360, 342, 406, 396, 420, 472, 548, 559, 463, 407, 362, 405, 417, 391, 419, 461, 472, 535, 622, 606, 508, 461, 390, 432,
}

// aYear numbers periods by their place in a year of so many.
func aYear(periods, ofYear int) []int {
	of := make([]int, periods)
	for t := range of {
		of[t] = t % ofYear
	}
	return of
}

// flatly is a series of ones.
func flatly(n int) []float64 {
	ones := make([]float64, n)
	for i := range ones {
		ones[i] = 1
	}
	return ones
}

// overMean puts the mean of the year to 1.
func overMean(index []float64) []float64 {
	out := make([]float64, len(index))
	for i := range index {
		out[i] = index[i] / sum(index) * float64(len(index))
	}
	return out
}

// The indices, without doubt, are those of the Poisson regression on month and time of R 4.2.2:
// glm(x ~ 0 + factor(cycle(x)) + seq_along(x), family = poisson, epsilon = 1e-15), over their mean.
func TestIndicesAreRs(t *testing.T) {
	want := []float64{0.9106199404, 0.8765579507, 0.9978991052, 0.9768857045, 0.9845590643, 1.1178190794,
		1.2477932034, 1.2347401502, 1.0532056426, 0.9193535275, 0.7951275588, 0.8854390731}
	n := len(airPassengers)
	index, growth := indices(airPassengers, flatly(n), aYear(n, 12), flatly(12), 0, true)
	require.InDelta(t, 0.009804182338, growth, 1e-10)
	require.InDeltaSlice(t, want, overMean(index), 1e-9)
}

// The seasonal indices of the same series as courses of R print them: decompose(AirPassengers, "multiplicative")$figure,
// rounded to three places. They are the mean ratio of each month to a centred average of twelve, every year weighing
// alike: so the ratios are what was sold here, and 1 is expected of each.
func TestIndicesArePublished(t *testing.T) {
	want := []float64{0.910, 0.884, 1.007, 0.976, 0.981, 1.113, 1.227, 1.220, 1.060, 0.922, 0.801, 0.899}
	var ratios []float64
	for t := 6; t+6 < len(airPassengers); t++ {
		level := (sum(airPassengers[t-6:t+6]) + sum(airPassengers[t-5:t+7])) / 24
		ratios = append(ratios, airPassengers[t]/level)
	}
	n := len(ratios)
	index, _ := indices(ratios, flatly(n), aYear(n+6, 12)[6:], flatly(12), 0, false)
	require.InDeltaSlice(t, want, overMean(index), 0.0006)
}

// Without growth and doubt they are the method of simple averages: each quarter's average over that of all. The figures are
// worked by hand.
func TestIndicesWithoutGrowthAreSimpleAverages(t *testing.T) {
	sold := []float64{30, 40, 36, 34, 34, 52, 50, 44, 40, 58, 54, 48}
	index, growth := indices(sold, flatly(12), aYear(12, 4), flatly(4), 0, false)
	require.Zero(t, growth)
	all := (104 + 150 + 140 + 126) / 12.0
	require.InDeltaSlice(t, []float64{104 / 3.0 / all, 50 / all, 140 / 3.0 / all, 42 / all}, overMean(index), 1e-12)
}

// Doubt draws them to what was believed before, the more the less was sold.
func TestIndicesAreShrunk(t *testing.T) {
	before := []float64{0.5, 1.5}
	sold := []float64{10, 10, 10, 10}
	few, _ := indices(sold, []float64{10, 10, 10, 10}, aYear(4, 2), before, 20, false)
	require.InDeltaSlice(t, []float64{0.75, 1.25}, few, 1e-12)
	many, _ := indices([]float64{1000, 1000}, []float64{1000, 1000}, aYear(2, 2), before, 20, false)
	require.InDeltaSlice(t, []float64{1, 1}, many, 0.02)
}

// What the weeks in which nothing unusual happens vary by is by chance alone 1, whatever a few others do.
func TestUnevennessIsThatOfUsualWeeks(t *testing.T) {
	sold, expected := make([]float64, 52), make([]float64, 52)
	for week := range sold {
		expected[week] = 100
		sold[week] = 100 + []float64{-13, 5, 13, -5}[week%4]
	}
	usual := unevenness(sold, expected)
	require.Less(t, usual, 4.0)
	sold[20], sold[21] = 400, 500
	require.Equal(t, usual, unevenness(sold, expected))
	require.Equal(t, 1.0, unevenness(nil, nil))
}
