package leadtime

import (
	"slices"

	"stead/inventory/calendar"
)

// Change is a lasting change in how late a supplier is: a new carrier, a
// warehouse that moved, one part in three that now waits for its maker.
type Change struct {
	Since      calendar.Day // order day of the first receipt after the change
	Receipts   int          // receipts since
	DaysLate   int          // median since, in working days after the quote; the upper quartile where the medians are alike
	DaysBefore int          // the same before
	// AsLate are those of the receipts since that were as late as DaysLate or
	// later (or that early or earlier, where the change is for the better).
	AsLate int
	// Before are the receipts before, and AsLateBefore those of them that were as late as that too.
	Before, AsLateBefore int
	OfSome               bool // the medians are alike: it is not what is usual that has changed
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
	at, n := likeliestSince(memories), len(receipts)
	if steady := memories[0]; steady.since == 0 && steady.weight > 1-changeSure || at < fewestBefore || n-at < fewestSince {
		return nil
	}
	late := make([]int, n)
	for i, r := range receipts {
		late[i] = r.DaysLate()
	}
	before, since := late[:at], late[at:]
	c := &Change{Since: receipts[at].Ordered, Receipts: n - at, Before: at, DaysLate: median(since), DaysBefore: median(before)}
	if c.DaysLate == c.DaysBefore {
		c.OfSome, c.DaysLate, c.DaysBefore = true, quartile(since), quartile(before)
	}
	if c.DaysLate == c.DaysBefore {
		return nil
	}
	c.AsLate, c.AsLateBefore = c.asLate(since), c.asLate(before)
	return c
}

// likeliestSince is the first receipt after the likeliest change. Answers are of the same receipts where orders between them
// are overdue.
func likeliestSince(memories []memory) (since int) {
	chances, most := map[int]float64{}, 0.0
	for _, m := range memories {
		if chances[m.since] += m.weight; chances[m.since] > most {
			since, most = m.since, chances[m.since]
		}
	}
	return since
}

// asLate counts those that were as late as is usual since, or as early.
func (c Change) asLate(late []int) (n int) {
	for _, days := range late {
		if c.DaysLate > c.DaysBefore && days >= c.DaysLate || c.DaysLate < c.DaysBefore && days <= c.DaysLate {
			n++
		}
	}
	return n
}

// newsOfChange is how many calendar days long a change is news, after which it is how the supplier is; the project's own
// judgement.
const newsOfChange = 26 * 7

// Slower is a change for the worse of late, by which a supplier comes later than it says; nil where there is none, and
// where all suppliers are late together, which is no change of each.
func (e *Experience) Slower(supplier string) *Change {
	c := e.changeOf(supplier)
	if c == nil || c.DaysLate <= max(0, c.DaysBefore) || c.Since < e.now-newsOfChange {
		return nil
	}
	return c
}

// changeOf is a supplier's own change, absent where there is none.
func (e *Experience) changeOf(supplier string) *Change {
	if e.strain != nil && e.strain.ordinary != e {
		return e.strain.ordinary.changeOf(supplier)
	}
	if r := e.suppliers[supplier]; r != nil {
		return r.change
	}
	return nil
}

// median is the lower middle of the values, 0 of none.
func median(values []int) int {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(values))
	return sorted[(len(sorted)-1)/2]
}

// quartile is the upper one of the values, of which there is at least one.
func quartile(values []int) int {
	sorted := slices.Sorted(slices.Values(values))
	return sorted[(len(sorted)-1)*3/4]
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
