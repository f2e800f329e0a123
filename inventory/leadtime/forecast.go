package leadtime

import (
	"maps"
	"slices"
)

// Forecast is the distribution of one order's lead time with what it rests on.
type Forecast struct {
	Distribution
	Order      Order
	Assumption Assumption
	// The shares of the forecast that rest on the supplier's own receipts, on
	// other suppliers' and on the assumption. They add up to 1.
	OwnShare, OthersShare, AssumedShare float64
	OwnReceipts, OtherSuppliers         int
	OwnOnTime                           int           // of OwnReceipts, those that came by the quote
	Change                              *Change       // absent if the supplier keeps to its habits
	Freaks                              []Receipt     // receipts far later than the supplier's others
	Overdue                             []Outstanding // orders that should have come by now
}

// Forecast answers for an order, whether or not anything has ever come from its
// supplier.
func (e *Experience) Forecast(order Order) Forecast {
	f := Forecast{Order: order, Assumption: Assume(order.Quoted, order.Signal)}

	// The base: every other supplier, and the assumption as one more. A supplier
	// with few receipts is less than one, by the same weight as below.
	others := newDistribution()
	for _, supplier := range slices.Sorted(maps.Keys(e.suppliers)) {
		other := e.suppliers[supplier]
		if n := other.count(order); n > 0 && supplier != order.Supplier {
			other.cast(&others, order, 1/(n+e.worthOfBase))
			f.OtherSuppliers++
		}
	}
	const asOneSupplier = 1
	base := mix(f.Assumption.distribution(), asOneSupplier, others)

	own := e.suppliers[order.Supplier]
	votes := newDistribution()
	own.cast(&votes, order, 1)
	own.castOverdue(&votes, order, base)
	f.Distribution = mix(base, e.worthOfBase, votes)

	n, m := votes.total(), others.total()
	f.OwnShare = n / (n + e.worthOfBase)
	f.OthersShare = (1 - f.OwnShare) * m / (m + asOneSupplier)
	f.AssumedShare = 1 - f.OwnShare - f.OthersShare
	f.OwnReceipts = len(own.receipts)
	for _, r := range own.receipts {
		if r.DaysLate() <= 0 {
			f.OwnOnTime++
		}
	}
	f.Change = own.change
	f.Overdue = own.overdue
	f.Freaks = freaks(own.receipts)
	return f
}
