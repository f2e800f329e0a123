package pricing

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Late is a promise that will not be kept as things stand: a part on order for a job that is not expected by the day on
// which the job was promised.
type Late struct {
	JobID    int64        `json:"job"`
	Customer string       `json:"customer"`
	PartID   int64        `json:"part"`
	Part     string       `json:"name"`
	OrderID  int64        `json:"order"`
	LineID   int64        `json:"line"`
	Supplier string       `json:"supplier"`
	Promised calendar.Day `json:"promised"`
	// Expected is absent where too much time has gone by for any day to be given.
	Expected *calendar.Day `json:"expected,omitempty"`
	Sooner   []Sooner      `json:"sooner,omitempty"` // where else the same part could be had before that
}

// Sooner is another source of the same part.
type Sooner struct {
	Supplier string          `json:"supplier,omitempty"` // empty: the shelf
	HereOn   calendar.Day    `json:"here_on"`
	Costs    decimal.Decimal `json:"costs"` // goods and carriage of an order for it alone, before tax
}

// LatePromises looks through everything on order for jobs. A delivery that is short, or a parcel that is overdue without
// a word, re-opens the promise of its job just as a later day from the supplier does.
func LatePromises(ctx context.Context, db inventory.DB, now time.Time) ([]Late, error) {
	claims, err := inventory.OpenClaims(ctx, db)
	if err != nil {
		return nil, err
	}
	claims = slices.DeleteFunc(claims, func(c inventory.Claim) bool { return c.State != inventory.ClaimOrdered })
	if len(claims) == 0 {
		return nil, nil
	}
	orders, err := inventory.Orders(ctx, db, true)
	if err != nil {
		return nil, err
	}
	var lineIDs, partIDs []int64
	for _, c := range claims {
		lineIDs, partIDs = append(lineIDs, *c.OrderLineID), append(partIDs, c.PartID)
	}
	words, err := inventory.LastWords(ctx, db, lineIDs)
	if err != nil {
		return nil, err
	}
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return nil, err
	}
	parts, err := inventory.Parts(ctx, db, partIDs)
	if err != nil {
		return nil, err
	}
	jobs, err := Jobs(ctx, db, false)
	if err != nil {
		return nil, err
	}
	var late []Late
	for _, c := range claims {
		order, line, ok := orderOf(orders, *c.OrderLineID)
		if !ok {
			continue
		}
		l := Late{JobID: c.JobID, PartID: c.PartID, Part: parts[c.PartID].Name, OrderID: order.ID, LineID: line.ID,
			Supplier: deliveries.Supplier(order.SupplierID).Code, Promised: c.DueOn}
		expected, err := deliveries.Awaited(order.SupplierID, order.PlacedAt, line.Stock, words[line.ID])
		if err == nil && expected <= l.Promised {
			continue
		}
		if err == nil {
			l.Expected = &expected
		}
		if i := slices.IndexFunc(jobs, func(j JobSummary) bool { return j.ID == c.JobID }); i >= 0 {
			l.Customer = jobs[i].Customer
		}
		if l.Sooner, err = soonerThan(ctx, db, deliveries, c, order.SupplierID, l.Expected); err != nil {
			return nil, err
		}
		late = append(late, l)
	}
	return late, nil
}

func orderOf(orders []inventory.Order, lineID int64) (inventory.Order, inventory.OrderLine, bool) {
	for _, o := range orders {
		for _, l := range o.Lines {
			if l.ID == lineID {
				return o, l, true
			}
		}
	}
	return inventory.Order{}, inventory.OrderLine{}, false
}

// soonerThan lists where else the pieces could be had before the day, the soonest first.
func soonerThan(ctx context.Context, db inventory.DB, d *inventory.Deliveries, c inventory.Claim, not int64, expected *calendar.Day) ([]Sooner, error) {
	stock, err := inventory.StockOf(ctx, db, []int64{c.PartID})
	if err != nil {
		return nil, err
	}
	offers, err := inventory.OffersOf(ctx, db, []int64{c.PartID})
	if err != nil {
		return nil, err
	}
	var out []Sooner
	if stock[c.PartID].Free() >= c.Pieces {
		out = append(out, Sooner{HereOn: d.Today})
	}
	for _, o := range offers[c.PartID] {
		promise, err := d.OfferPromise(o)
		if err != nil || o.SupplierID == not || expected != nil && promise.Day >= *expected {
			continue // never surely here, or no sooner
		}
		s, goods := d.Supplier(o.SupplierID), o.Cost(o.PacksFor(c.Pieces))
		out = append(out, Sooner{Supplier: s.Code, HereOn: promise.Day, Costs: round(goods.Add(s.CarriageOn(goods)))})
	}
	slices.SortStableFunc(out, func(a, b Sooner) int { return int(a.HereOn - b.HereOn) })
	return out, nil
}

// Words tell of a late promise in a sentence or two.
func (l Late) Words(currency string, today calendar.Day) string {
	words := fmt.Sprintf("job %d (%s) was promised for %s; %s from %s, order %d, ", l.JobID, l.Customer, l.Promised.Words(today), l.Part, l.Supplier, l.OrderID)
	if l.Expected == nil {
		words += "is so long overdue that no day can be given"
	} else {
		words += "is expected by " + l.Expected.Words(today)
	}
	for _, s := range l.Sooner {
		if s.Supplier == "" {
			words += "; the shelf has it now"
			continue
		}
		words += fmt.Sprintf("; %s could have it here by %s for %s", s.Supplier, s.HereOn.Words(today), Amount(currency, s.Costs))
	}
	return words
}
