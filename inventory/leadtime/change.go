package leadtime

import (
	"cmp"
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

// A change is spoken of when it is likelier than not and has lasted for a few
// receipts. The forecast follows a change sooner and by degrees (see memories).
const (
	fewestBefore = 2
	fewestSince  = 3
	changeSure   = 0.5
)

// findChange is the likeliest change of the memories, if it is one to speak of.
func findChange(receipts []Receipt, memories []memory) *Change {
	likeliest := slices.MaxFunc(memories, func(a, b memory) int { return cmp.Compare(a.weight, b.weight) })
	at, n := likeliest.since, len(receipts)
	if steady := memories[0]; steady.since == 0 && steady.weight > 1-changeSure || at < fewestBefore || n-at < fewestSince {
		return nil
	}
	late := make([]int, n)
	for i, r := range receipts {
		late[i] = r.DaysLate()
	}
	before, since := median(late[:at]), median(late[at:])
	if before == since {
		return nil
	}
	c := &Change{Since: receipts[at].Ordered, Receipts: n - at, DaysLate: since, DaysBefore: before}
	for _, days := range late[at:] {
		if since > before && days >= since || since < before && days <= since {
			c.AsLate++
		}
	}
	return c
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
