package leadtime

import (
	"math"
	"slices"
)

// group is one supplier's lateness in figures.
type group struct {
	mean     float64 // working days
	variance float64 // of the mean, not of a single receipt
}

// between estimates how much suppliers truly differ: the variance of their true
// means, after taking away what chance alone would make them differ by. It is
// the moment estimate of DerSimonian and Laird (Controlled Clinical Trials 7,
// 1986); zero means that they cannot be told apart.
func between(groups []group) (variance float64) {
	var weights, squares, weighted float64
	for _, g := range groups {
		w := 1 / g.variance
		weights += w
		squares += w * w
		weighted += w * g.mean
	}
	if len(groups) < 2 {
		return 0
	}
	pooled := weighted / weights
	q := 0.0
	for _, g := range groups {
		q += (g.mean - pooled) * (g.mean - pooled) / g.variance
	}
	return math.Max(0, (q-float64(len(groups)-1))/(weights-squares/weights))
}

// How many receipts of its own the base is worth. Three suppliers are the fewest
// whose differences say anything; before that, four receipts weigh as much as
// all else. The bounds keep one lucky or unlucky pool from silencing a
// supplier's own receipts, or from trusting two of them blindly.
const (
	usualWorth    = 4.0
	leastWorth    = 1.5
	mostWorth     = 10.0
	fewestToJudge = 3
)

// worthOfBase is a = s²/τ² (see the package comment), from the days late of each
// supplier's receipts. Lateness is first cut to what 19 in 20 receipts keep
// within, or one freak would make every supplier look unlike itself.
func worthOfBase(late [][]int) float64 {
	var all []int
	for _, days := range late {
		all = append(all, days...)
	}
	if len(all) == 0 {
		return usualWorth
	}
	slices.Sort(all)
	most, least := all[len(all)*19/20], all[(len(all)-1)/20]

	var groups []group
	var sizes []float64
	var squares, freedom float64
	for _, days := range late {
		if len(days) < 2 {
			continue
		}
		n := float64(len(days))
		mean := 0.0
		for _, d := range days {
			mean += float64(min(max(d, least), most)) / n
		}
		for _, d := range days {
			away := float64(min(max(d, least), most)) - mean
			squares += away * away
		}
		freedom += n - 1
		groups = append(groups, group{mean: mean})
		sizes = append(sizes, n)
	}
	if len(groups) < fewestToJudge {
		return usualWorth
	}
	within := squares / freedom
	if within == 0 { // every supplier keeps to its own habit to the day
		return leastWorth
	}
	for i := range groups {
		groups[i].variance = within / sizes[i]
	}
	tau2 := between(groups)
	if tau2 == 0 {
		return mostWorth
	}
	return min(max(within/tau2, leastWorth), mostWorth)
}
