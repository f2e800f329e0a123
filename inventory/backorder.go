package inventory

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory/calendar"
)

// BackOrder is what a supplier last said of an offer, in its list or when some of it was on order: that it comes on a day, or
// that it is on back order and nobody can say until when. Whoever is asked again would say the same: until its list or somebody
// says otherwise after that, or some of it comes, an order placed now is not here before that day either.
type BackOrder struct {
	SupplierID int64
	Day        *calendar.Day // absent: nobody can say
	At         time.Time
}

// backOrderedFor is how long it counts that something is on back order without a day. Two weeks are common practice, no
// source.
const backOrderedFor = 14 * 24 * time.Hour

// backOrders are the words that still count, by offer.
func backOrders(ctx context.Context, db DB, now time.Time) (map[int64]BackOrder, error) {
	rows, err := db.Query(ctx, `
		WITH said AS (
			SELECT id AS offer_id, supplier_id, due_on AS day, as_of AS at
			FROM offer WHERE due_on > $3 AND gone_at IS NULL AND as_of <= $1
			UNION ALL
			(SELECT DISTINCT ON (line.offer_id) line.offer_id, offer.supplier_id, said.expected_on, said.at
			FROM confirmation AS said
			JOIN order_line AS line ON line.id = said.order_line_id
			JOIN offer ON offer.id = line.offer_id
			WHERE (said.expected_on IS NOT NULL OR said.back_ordered) AND said.at <= $1 AND said.at > offer.as_of
			  AND (said.expected_on IS NOT NULL OR said.at > $2)
			ORDER BY line.offer_id, said.id DESC)
		)
		SELECT offer_id, supplier_id, day, at FROM said
		WHERE NOT EXISTS (
			SELECT FROM receipt
			JOIN receipt_line ON receipt_line.receipt_id = receipt.id
			JOIN order_line AS came ON came.id = receipt_line.order_line_id
			WHERE came.offer_id = said.offer_id AND receipt_line.outcome IN ('good', 'over') AND receipt.at > said.at)
		ORDER BY at`, now, now.Add(-backOrderedFor), calendar.DayOf(now))
	if err != nil {
		return nil, fmt.Errorf("read what is on back order: %w", err)
	}
	out := map[int64]BackOrder{}
	var offer int64
	var b BackOrder
	if _, err := pgx.ForEachRow(rows, []any{&offer, &b.SupplierID, &b.Day, &b.At}, func() error { out[offer] = b; return nil }); err != nil {
		return nil, fmt.Errorf("read what is on back order: %w", err)
	}
	return out, nil
}

// BackOrder is what an offer's supplier said of it, where an order placed now would wait for it.
func (d *Deliveries) BackOrder(o Offer) (BackOrder, bool) {
	b, said := d.backOrders[o.ID]
	if !said {
		return b, false
	}
	p := d.promised(parcel{o.SupplierID, o.Stock})
	return b, b.Day == nil || p.err == nil && d.inBy(o.SupplierID, *b.Day) > p.Day
}

// inBy is a day that a supplier said, or the next on which the workshop is open to take a parcel in.
func (d *Deliveries) inBy(supplierID int64, day calendar.Day) calendar.Day {
	return d.routes[supplierID].Workshop.NextOpen(day)
}

// BackOrderError says that nobody knows when an offer can be had.
type BackOrderError struct {
	Supplier string
	Code     string
	Said     calendar.Day
}

func (e *BackOrderError) Error() string {
	return fmt.Sprintf("%s said on %s that %s is on back order, and no day", e.Supplier, e.Said, e.Code)
}

// Words tell of a back order.
func (b BackOrder) Words(supplier string, today calendar.Day) string {
	words := fmt.Sprintf("%s said on %s that it is on back order", supplier, calendar.DayOf(b.At).Words(today))
	if b.Day != nil {
		words += " until " + b.Day.Words(today)
	}
	return words
}
