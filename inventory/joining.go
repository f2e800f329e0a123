package inventory

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// JoinableOrders are, by supplier, the orders to which what is ordered now can still be added, so that it travels in
// the same parcel: the supplier counts both from the same day, because no cut-off lies between them; nothing of the
// order has come, was cancelled or was answered; and its carriage is what the supplier charges for such goods, so that
// what it charges for more is known. Of several orders to one supplier it is the newest.
func JoinableOrders(ctx context.Context, db DB, d *Deliveries) (map[int64]Order, error) {
	placed, err := orders(ctx, db, `
		WHERE state = 'placed' AND placed_at <= $1 AND NOT EXISTS (
			SELECT FROM order_line JOIN confirmation ON order_line_id = order_line.id
			WHERE order_id = purchase_order.id)`, d.now)
	if err != nil {
		return nil, err
	}
	open := map[int64]Order{}
	for _, o := range placed {
		route := d.routes[o.SupplierID]
		whole := !slices.ContainsFunc(o.Lines, func(l OrderLine) bool { return l.Awaited() < l.Packs*l.Pack })
		if whole && route.OrderDay(o.PlacedAt) == route.OrderDay(d.now) && o.Carriage.Equal(d.Supplier(o.SupplierID).CarriageOn(o.Goods())) {
			open[o.SupplierID] = o
		}
	}
	return open, nil
}

// LockOrders keeps orders as they are until the transaction ends. It comes before [Lock].
func LockOrders(ctx context.Context, tx pgx.Tx, ids []int64) error {
	if _, err := tx.Exec(ctx, `SELECT FROM purchase_order WHERE id = ANY($1) ORDER BY id FOR NO KEY UPDATE`, ids); err != nil {
		return fmt.Errorf("lock the orders %v: %w", ids, err)
	}
	return nil
}

// JoinOrder adds lines to an order that its supplier has not sent, and gives it with them; carriage is that of the
// whole. Lines serve their claims as in [PlaceOrder]. Whoever asks has seen under its lock that the order is joinable.
func JoinOrder(ctx context.Context, tx pgx.Tx, id int64, lines []OrderLine, carriage decimal.Decimal, at time.Time) (Order, error) {
	if len(lines) == 0 {
		return Order{}, errors.New("nothing is added to an order without lines")
	}
	o, err := lockOrder(ctx, tx, id)
	if err != nil {
		return Order{}, err
	}
	if o.State != OrderPlaced {
		return Order{}, fmt.Errorf("order %d is %s: nothing can be added to it", id, o.State)
	}
	for i := range lines {
		lines[i].JoinedAt = &at
	}
	if err := addLines(ctx, tx, o, lines); err != nil {
		return Order{}, err
	}
	if _, err := tx.Exec(ctx, `UPDATE purchase_order SET carriage = $2 WHERE id = $1`, id, carriage); err != nil {
		return Order{}, fmt.Errorf("set the carriage of order %d: %w", id, err)
	}
	return OrderByID(ctx, tx, id)
}

// JoinedLast are the lines that were the last to be added to the order after it was placed; none where nothing was.
func (o Order) JoinedLast() (last []OrderLine) {
	for _, l := range o.Lines {
		switch {
		case l.JoinedAt == nil:
		case len(last) == 0 || l.JoinedAt.After(*last[0].JoinedAt):
			last = []OrderLine{l}
		case l.JoinedAt.Equal(*last[0].JoinedAt):
			last = append(last, l)
		}
	}
	return last
}
