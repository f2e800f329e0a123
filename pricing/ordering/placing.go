package ordering

import (
	"context"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// ChangedError says that what an order list rests on is not any more what it was when the list was made.
type ChangedError struct {
	What string // the first thing that has changed, in words
}

func (e *ChangedError) Error() string {
	return e.What + " has changed since the orders were planned, and nothing was ordered: plan the order again"
}

// PlacePlanned plans as [Plan] does and places those orders, of the suppliers named or all. With the name of a list it is
// that very list or none: another is a *[ChangedError].
func PlacePlanned(ctx context.Context, tx pgx.Tx, policy Policy, asPlanned string, suppliers []string, now time.Time) ([]inventory.Order, error) {
	list, err := Plan(ctx, tx, policy, now)
	if err != nil {
		return nil, err
	}
	if asPlanned != "" && asPlanned != list.AsPlanned {
		return nil, &ChangedError{What: "something"}
	}
	return Place(ctx, tx, list, suppliers, now)
}

// Place places a list's orders, those of the suppliers named or all, and gives them back with their numbers: what joins
// an order of today is added to it. What the list rests on is read again once those orders, the jobs and the stock that
// it is for are locked: where any of it has changed since, nothing is placed, and the error is a *[ChangedError].
func Place(ctx context.Context, tx pgx.Tx, list List, suppliers []string, now time.Time) ([]inventory.Order, error) {
	var joined, jobs, parts []int64
	for _, draft := range list.Orders {
		if draft.Joins != 0 {
			joined = append(joined, draft.Joins)
		}
		for _, l := range draft.Lines {
			jobs, parts = append(jobs, l.ForJobs...), append(parts, l.PartID)
		}
	}
	if err := inventory.LockOrders(ctx, tx, joined); err != nil {
		return nil, err
	}
	if err := inventory.Lock(ctx, tx, jobs, parts); err != nil {
		return nil, err
	}
	b, err := loadBench(ctx, tx, list.policy, now)
	if err != nil {
		return nil, err
	}
	if what := b.basis().since(list.basis); what != "" {
		return nil, &ChangedError{What: what}
	}
	deliveries := b.deliveries
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
		if draft.Joins != 0 {
			order, err = inventory.JoinOrder(ctx, tx, draft.Joins, order.Lines, b.open[draft.SupplierID].Carriage.Add(draft.Carriage), now)
		} else {
			order, err = inventory.PlaceOrder(ctx, tx, order)
		}
		if err != nil {
			return nil, err
		}
		placed = append(placed, order)
	}
	return placed, nil
}
