package pricing

import (
	"context"
	"fmt"

	"stead/inventory"
	"stead/inventory/calendar"
)

// A quote's prices stand for days or weeks; its days are those of parts ordered when it was made. Who approves it later is
// promised the day on which parts ordered now are here.

// readyOn is the day that the approval of an option promises: the quote's where it can still be kept, else the later one that
// the customer agreed to. It is an error, which says what day it would be, where neither can be kept.
func (d Decision) readyOn(ctx context.Context, db inventory.DB, q Quote, o Option, deliveries *inventory.Deliveries) (calendar.Day, error) {
	again := fmt.Sprintf("quote again with `stead job quote %d`", q.JobID)
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
			return 0, fmt.Errorf("%s no longer offers %s: %s", p.Supplier, p.Name, again)
		}
		chosen = append(chosen, offer)
	}
	promise, err := deliveries.PromiseAll(chosen)
	switch {
	case err != nil:
		return 0, fmt.Errorf("the parts of option %s cannot be promised any more: %w; %s", o.Name(), err, again)
	case promise.Day <= o.ReadyOn:
		return o.ReadyOn, nil
	case d.ReadyBy != nil && promise.Day <= *d.ReadyBy:
		return *d.ReadyBy, nil
	}
	return 0, fmt.Errorf("option %s cannot be here by %s any more: ordered now it is here by %s; if %s agrees to that day, add --ready-by %s, else %s",
		o.Name(), o.ReadyOn.Words(deliveries.Today), promise.Words(deliveries.Today), d.By, promise.Day, again)
}

func offerNumbered(offers []inventory.Offer, id int64) (inventory.Offer, bool) {
	for _, o := range offers {
		if o.ID == id {
			return o, true
		}
	}
	return inventory.Offer{}, false
}
