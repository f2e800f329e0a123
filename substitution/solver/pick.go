package solver

import (
	"cmp"
	"math/bits"
)

// pick names the options of a front that a customer is shown first.
func pick(front []Option) Picks {
	if len(front) == 0 {
		return Picks{-1, -1, -1, -1}
	}
	best := func(compare func(a, b Option) int) int {
		at := 0
		for i := range front {
			if compare(front[i], front[at]) < 0 {
				at = i
			}
		}
		return at
	}
	return Picks{
		Soonest: best(func(a, b Option) int {
			return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Deviation, b.Deviation))
		}),
		Cheapest: best(func(a, b Option) int {
			return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Deviation, b.Deviation), cmp.Compare(a.Day, b.Day))
		}),
		Closest: best(func(a, b Option) int {
			return cmp.Or(cmp.Compare(a.Deviation, b.Deviation), cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Day, b.Day))
		}),
		Balanced: balanced(front),
	}
}

// balanced finds the option with the least greatest regret; see Picks.
func balanced(front []Option) int {
	figures := func(o Option) [3]int64 { return [3]int64{o.Cost, int64(o.Day), o.Deviation} }
	low, high := figures(front[0]), figures(front[0])
	for _, o := range front {
		for k, x := range figures(o) {
			low[k], high[k] = min(low[k], x), max(high[k], x)
		}
	}
	at, leastWorst, leastSum := 0, uint64(0), uint64(0)
	for i, o := range front {
		var worst, sum uint64
		for k, x := range figures(o) {
			r := share(uint64(x-low[k]), uint64(high[k]-low[k]))
			worst, sum = max(worst, r), sum+r
		}
		// The front goes from cheap to dear, so the first of equals is the cheapest.
		if i == 0 || worst < leastWorst || worst == leastWorst && sum < leastSum {
			at, leastWorst, leastSum = i, worst, sum
		}
	}
	return at
}

// share is part of whole in billionths, rounded down; nought of nothing is nought.
func share(part, whole uint64) uint64 {
	if whole == 0 {
		return 0
	}
	hi, lo := bits.Mul64(part, 1e9)
	q, _ := bits.Div64(hi, lo, whole)
	return q
}
