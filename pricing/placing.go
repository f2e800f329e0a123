package pricing

import (
	"context"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// PlaceOrders places a list's orders, those of the suppliers named or all, and gives them back with their numbers. A list
// made before something else was ordered is refused.
func PlaceOrders(ctx context.Context, tx pgx.Tx, list OrderList, suppliers []string, now time.Time) ([]inventory.Order, error) {
	deliveries, err := inventory.LoadDeliveries(ctx, tx, now)
	if err != nil {
		return nil, err
	}
	var jobs []int64
	for _, draft := range list.Orders {
		for _, l := range draft.Lines {
			jobs = append(jobs, l.ForJobs...)
		}
	}
	if err := inventory.Lock(ctx, tx, jobs, nil); err != nil {
		return nil, err
	}
	placed := []inventory.Order{}
	for _, draft := range list.Orders {
		if len(suppliers) > 0 && !slices.Contains(suppliers, draft.Supplier) {
			continue
		}
		terms := deliveries.Supplier(draft.SupplierID)
		order := inventory.Order{SupplierID: draft.SupplierID, Carriage: draft.Carriage, PlacedAt: now}
		for _, l := range draft.Lines {
			order.Lines = append(order.Lines, inventory.OrderLine{OfferID: l.Offer.ID, PartID: l.PartID, Packs: l.Packs, Pack: l.Pack, Price: l.Price,
				QuotedDays: terms.QuotedDays(l.Offer.Stock), Stock: l.Offer.Stock, ExpectedOn: l.HereOn, Claims: l.Claims})
		}
		if order, err = inventory.PlaceOrder(ctx, tx, order); err != nil {
			return nil, err
		}
		placed = append(placed, order)
	}
	return placed, nil
}
