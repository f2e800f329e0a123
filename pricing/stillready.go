package pricing

import (
	"context"

	"stead/inventory"
	"stead/inventory/calendar"
)

// A quote's prices stand for days or weeks; its days are those of parts ordered when it was made. Who approves it later is
// promised the day on which parts ordered now are here.

// readyOn is the day that the approval of an option promises: the quote's where it can still be kept, else the later
// one that the customer agreed to. It is an error, which says what day it would be, where neither can be kept.
func (d Decision) readyOn(ctx context.Context, db inventory.DB, q Quote, o Option, deliveries *inventory.Deliveries) (calendar.Day, error) {
	var partIDs []int64
	for _, p := range o.Parts {
		if !p.Shelf {
			partIDs = append(partIDs, p.PartID)
		}
	}
	if len(partIDs) == 0 {
		return o.ReadyOn, nil
	}
	offers, err := inventory.OffersOf(ctx, db, partIDs)
	if err != nil {
		return 0, err
	}
	var chosen []inventory.Offer
	for _, p := range o.Parts {
		if p.Shelf {
			continue
		}
		offer, stands := offerNumbered(offers[p.PartID], p.OfferID)
		if !stands {
			return 0, stuck(q.JobID, QuoteAgain, "%s no longer offers %s", p.Source(), p.Name)
		}
		chosen = append(chosen, offer)
	}
	promise, err := deliveries.PromiseAll(chosen)
	switch {
	case err != nil:
		return 0, stuck(q.JobID, QuoteAgain, "the parts of option %s cannot be promised any more: %w", o.Name(), err)
	case promise.Day <= o.ReadyOn:
		return o.ReadyOn, nil
	case d.ReadyBy != nil && promise.Day <= *d.ReadyBy:
		return *d.ReadyBy, nil
	}
	return 0, &LaterDayError{JobID: q.JobID, Option: o.Name(), By: d.By, Day: promise.Day,
		was: o.ReadyOn.Words(deliveries.Today), is: promise.Words(deliveries.Today)}
}

func offerNumbered(offers []inventory.Offer, id int64) (inventory.Offer, bool) {
	for _, o := range offers {
		if o.ID == id {
			return o, true
		}
	}
	return inventory.Offer{}, false
}
