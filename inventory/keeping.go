package inventory

import (
	"context"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Keeping is what is kept of a part on the shelf: as it is set, and as its sales and its suppliers advise.
type Keeping struct {
	PartID       int64  `json:"part"`
	Name         string `json:"name"`
	ReorderLevel *int   `json:"reorder_level,omitempty"` // order again when so many are left; absent: never by itself
	ReorderTo    *int   `json:"reorder_to,omitempty"`    // and up to so many
	// The advice; absent where too little is known, as Words then says, or where none should be kept.
	AdvisedLevel *int   `json:"advised_level,omitempty"`
	AdvisedTo    *int   `json:"advised_to,omitempty"`
	Words        string `json:"advice"`
}

// mostWeeks is how far back sales count: two years show a season twice, and what sold before says little of today.
const mostWeeks = 104

// KeepingOf advises what to keep of a part, where one more order line costs so much in handling and carriage.
func KeepingOf(ctx context.Context, db DB, p Part, orderCost decimal.Decimal, now time.Time) (Keeping, error) {
	k := Keeping{PartID: p.ID, Name: p.Name, ReorderLevel: p.ReorderLevel, ReorderTo: p.ReorderTo}
	history, err := History(ctx, db, p.ID)
	if err != nil {
		return k, err
	}
	offers, err := OffersOf(ctx, db, []int64{p.ID})
	if err != nil {
		return k, err
	}
	deliveries, err := LoadDeliveries(ctx, db, now)
	if err != nil {
		return k, err
	}
	counts := usedByWeek(history, deliveries.Today)
	if len(counts) == 0 {
		k.Words = "Not a week in the books yet: nothing can be said of how it sells."
		return k, nil
	}
	part, found := deliveries.cheapestSource(offers[p.ID])
	if !found {
		k.Words = "Nobody offers it at a price that can be compared: how long it takes to come is not known."
		return k, nil
	}
	part.Name, part.Counts, part.PeriodDays = p.Name, counts, 5
	advice, err := reorder.DefaultPolicy(orderCost).Advise(part)
	if err != nil {
		return k, err
	}
	if k.Words = advice.Words(); advice.Keep {
		k.AdvisedLevel, k.AdvisedTo = &advice.ReorderAt, &advice.UpTo
	}
	return k, nil
}

// usedByWeek counts the pieces that went into bikes in each whole week up to yesterday, the oldest first, from the part's
// first movement on.
func usedByWeek(history []Movement, today calendar.Day) []int {
	if len(history) == 0 {
		return nil
	}
	weeks := min(int(today-calendar.DayOf(history[0].At))/7, mostWeeks)
	counts := make([]int, max(weeks, 0))
	for _, m := range history {
		ago := int(today-1-calendar.DayOf(m.At)) / 7 // whole weeks ended since
		if m.Reason == Used && calendar.DayOf(m.At) < today && ago < len(counts) {
			counts[len(counts)-1-ago] -= m.Pieces
		}
	}
	return counts
}

// cheapestSource is how a part is bought from whoever asks least for a piece, of those from whom a day can be promised.
func (d *Deliveries) cheapestSource(offers []Offer) (p reorder.Part, found bool) {
	for _, o := range offers {
		home, err := d.InHomeMoney(o)
		if err != nil {
			continue // no rate for its currency
		}
		if _, err := d.OfferPromise(o); err != nil {
			continue
		}
		pieces := o.MinimumPacks * o.Pack
		each := home.Cost(o.MinimumPacks).Div(decimal.NewFromInt(int64(pieces)))
		if !found || each.LessThan(p.UnitPrice) {
			mean, variance := d.Restocking(o.SupplierID, o.Stock).MeanAndVariance()
			p, found = reorder.Part{UnitPrice: each, Pack: o.Pack, Minimum: pieces, Lead: reorder.Lead{MeanDays: mean, VarianceDays: variance}}, true
		}
	}
	return p, found
}
