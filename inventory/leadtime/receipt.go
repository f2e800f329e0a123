package leadtime

import (
	"fmt"

	"stead/inventory/calendar"
)

// Signal is what the supplier said about its stock when the order was placed.
type Signal string

// The stock signals.
const (
	InStock Signal = "in-stock"
	Low     Signal = "low"
	ToOrder Signal = "to-order"
	Unknown Signal = "unknown"
)

// words names the signal as part of a sentence.
func (s Signal) words() string {
	switch s {
	case InStock:
		return "in stock"
	case Low:
		return "low in stock"
	case ToOrder:
		return "to order"
	}
	return "without a stock signal"
}

// Receipt is what happened to one shipment: when it was ordered, what was
// quoted, when it came. The lines of one parcel are one receipt.
type Receipt struct {
	Supplier string
	Ordered  calendar.Day // the day from which the supplier counted
	Arrived  calendar.Day
	// Quoted is the lead time given with the order in the supplier's working
	// days, absent if none was given.
	Quoted *int
	// Took is the number of the supplier's working days from Ordered to Arrived.
	Took   int
	Signal Signal
}

// NewReceipt records a shipment that came by the route. It refuses an arrival
// before the order and a negative quote.
func NewReceipt(supplier string, route calendar.Route, ordered, arrived calendar.Day, quoted *int, signal Signal) (Receipt, error) {
	if arrived < ordered {
		return Receipt{}, fmt.Errorf("receipt from %s: it arrived on %s, before its order of %s: correct one of the dates", supplier, arrived, ordered)
	}
	if quoted != nil && *quoted < 0 {
		return Receipt{}, fmt.Errorf("receipt from %s ordered on %s: a quote of %d working days is negative", supplier, ordered, *quoted)
	}
	switch signal {
	case InStock, Low, ToOrder, Unknown:
	default:
		return Receipt{}, fmt.Errorf("receipt from %s ordered on %s: stock signal %q is not one of in-stock, low, to-order, unknown", supplier, ordered, signal)
	}
	return Receipt{
		Supplier: supplier, Ordered: ordered, Arrived: arrived,
		Quoted: quoted, Took: route.WorkingDays(ordered, arrived), Signal: signal,
	}, nil
}

// DaysLate is how many working days after its quote the shipment came, negative
// if it came early. A shipment without a quote is measured against the days
// assumed for its stock signal.
func (r Receipt) DaysLate() int { return r.Took - quotedDays(r.Quoted, r.Signal) }

// Outstanding is an order that has not come yet. One that is overdue is news:
// the receipts alone would only ever tell of parcels that did come.
type Outstanding struct {
	Supplier string
	Ordered  calendar.Day
	Quoted   *int // working days, absent if none was given
	Waited   int  // the supplier's working days gone by since Ordered
	Signal   Signal
}

// DaysOverdue is how many working days past its quote the order is, negative or
// zero while it is not.
func (o Outstanding) DaysOverdue() int { return o.Waited - quotedDays(o.Quoted, o.Signal) }
