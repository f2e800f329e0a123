package leadtime

import (
	"math"
	"slices"

	"stead/inventory/calendar"
)

// Change is a lasting change in how late a supplier is: a new carrier, a
// warehouse that moved.
type Change struct {
	Since      calendar.Day // order day of the first receipt after the change
	Receipts   int          // receipts since
	DaysLate   int          // median since, in working days after the quote
	DaysBefore int          // median before
	// AsLate are those of the receipts since that were as late as DaysLate or
	// later (or that early or earlier, where the change is for the better).
	AsLate int
}

const (
	fewestBefore   = 2
	fewestSince    = 3
	receiptsLooked = 40 // the latest, for a change years ago explains nothing
	// changeGain is how clear a change must be: twice the logarithm of a
	// likelihood ratio. Of simulated suppliers that never changed it accuses fewer
	// than 1 in 20 (TestSteadySuppliersAreNotAccused).
	changeGain = 9.0
	// halfADay is added to every deviation, being less than a date can show, or
	// perfectly regular receipts would make the least difference infinitely clear.
	halfADay = 0.5
)

// findChange looks for the one moment that best splits the days late, in order
// of time, in two runs around their own medians. Runs are judged by absolute
// deviations, which a single freak cannot sway.
func findChange(receipts []Receipt) *Change {
	receipts = receipts[max(0, len(receipts)-receiptsLooked):]
	n := len(receipts)
	if n < fewestBefore+fewestSince {
		return nil
	}
	late := make([]int, n)
	for i, r := range receipts {
		late[i] = r.DaysLate()
	}
	backwards := slices.Clone(late)
	slices.Reverse(backwards)
	upTo, downTo := spreads(late), spreads(backwards)

	floor := halfADay * float64(n)
	best, bestGain := 0, 0.0
	for split := fewestBefore; split <= n-fewestSince; split++ {
		apart := upTo[split-1] + downTo[n-split-1]
		gain := 2 * float64(n) * math.Log((float64(upTo[n-1])+floor)/(float64(apart)+floor))
		if gain > bestGain {
			best, bestGain = split, gain
		}
	}
	before, since := median(late[:best]), median(late[best:])
	if bestGain < changeGain || before == since {
		return nil
	}
	c := &Change{Since: receipts[best].Ordered, Receipts: n - best, DaysLate: since, DaysBefore: before}
	for _, days := range late[best:] {
		if since > before && days >= since || since < before && days <= since {
			c.AsLate++
		}
	}
	return c
}

// spreads gives, for each beginning of the values, the sum of its distances from
// its own median.
func spreads(values []int) []int {
	sums := make([]int, len(values))
	sorted := make([]int, 0, len(values))
	for i, v := range values {
		at, _ := slices.BinarySearch(sorted, v)
		sorted = slices.Insert(sorted, at, v)
		middle := sorted[i/2]
		for _, w := range sorted {
			sums[i] += max(w-middle, middle-w)
		}
	}
	return sums
}

// median is the lower middle of the values, 0 of none.
func median(values []int) int {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(values))
	return sorted[(len(sorted)-1)/2]
}

// freaks are the receipts far later than the supplier's others: beyond the upper
// quartile by three times the distance between the quartiles (Tukey's "far out",
// Exploratory Data Analysis, 1977), and by no fewer than five days. With fewer
// than five receipts nothing can be called unusual.
func freaks(receipts []Receipt) []Receipt {
	if len(receipts) < 5 {
		return nil
	}
	late := make([]int, len(receipts))
	for i, r := range receipts {
		late[i] = r.DaysLate()
	}
	slices.Sort(late)
	lower, upper := late[len(late)/4], late[len(late)*3/4]
	limit := upper + max(3*(upper-lower), 5)
	var found []Receipt
	for _, r := range receipts {
		if r.DaysLate() > limit {
			found = append(found, r)
		}
	}
	return found
}
