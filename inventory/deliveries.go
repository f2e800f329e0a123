package inventory

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

// Deliveries knows when things come: every supplier's calendar and cut-off, and what past orders teach. It is loaded
// once for a question and answers it without the database.
type Deliveries struct {
	Today      calendar.Day
	now        time.Time
	confidence float64
	suppliers  map[int64]Supplier
	routes     map[int64]calendar.Route
	experience *leadtime.Experience
}

// pastLine is an order line with its first good arrival, if any.
type pastLine struct {
	Supplier   int64
	PlacedAt   time.Time
	QuotedDays int
	Stock      Signal
	ArrivedAt  *time.Time
}

// LoadDeliveries reads the suppliers' terms and all that has come from them or is still out.
func LoadDeliveries(ctx context.Context, db DB, now time.Time) (*Deliveries, error) {
	shop, err := LoadShop(ctx, db)
	if err != nil {
		return nil, err
	}
	zone, err := shop.Location()
	if err != nil {
		return nil, err
	}
	all, err := Suppliers(ctx, db)
	if err != nil {
		return nil, err
	}
	d := &Deliveries{
		Today: calendar.DayOf(now.In(zone)), now: now, confidence: shop.Confidence,
		suppliers: map[int64]Supplier{}, routes: map[int64]calendar.Route{},
	}
	for _, s := range all {
		d.suppliers[s.ID] = s
		if d.routes[s.ID], err = s.Route(shop); err != nil {
			return nil, err
		}
	}
	rows, err := db.Query(ctx, `
		SELECT o.supplier_id AS supplier, o.placed_at, l.quoted_days, l.stock,
		       (SELECT min(r.at) FROM receipt r JOIN receipt_line rl ON rl.receipt_id = r.id
		        WHERE rl.order_line_id = l.id AND rl.outcome IN ('good', 'over')) AS arrived_at
		FROM purchase_order o JOIN order_line l ON l.order_id = o.id
		WHERE o.state <> 'cancelled' AND o.placed_at <= $1
		ORDER BY l.id`, now)
	if err != nil {
		return nil, fmt.Errorf("read past deliveries: %w", err)
	}
	past, err := pgx.CollectRows(rows, pgx.RowToStructByName[pastLine])
	if err != nil {
		return nil, fmt.Errorf("read past deliveries: %w", err)
	}
	var receipts []leadtime.Receipt
	var out []leadtime.Outstanding
	for _, p := range past {
		s, route := d.suppliers[p.Supplier], d.routes[p.Supplier]
		ordered, quoted := route.OrderDay(p.PlacedAt), p.QuotedDays
		if p.ArrivedAt == nil {
			out = append(out, leadtime.Outstanding{Supplier: s.Code, Ordered: ordered, Quoted: &quoted,
				Waited: route.WorkingDays(ordered, d.Today), Signal: p.Stock})
			continue
		}
		r, err := leadtime.NewReceipt(s.Code, route, ordered, max(ordered, calendar.DayOf(p.ArrivedAt.In(zone))), &quoted, p.Stock)
		if err != nil {
			return nil, fmt.Errorf("a receipt from supplier %s: %w", s.Code, err)
		}
		receipts = append(receipts, r)
	}
	d.experience = leadtime.Learn(receipts, out, d.Today)
	return d, nil
}

// Supplier gives a supplier that Deliveries loaded.
func (d *Deliveries) Supplier(id int64) Supplier { return d.suppliers[id] }

// Forecast is what to expect of a supplier for a line under a stock signal.
func (d *Deliveries) Forecast(supplierID int64, signal Signal) leadtime.Forecast {
	s := d.suppliers[supplierID]
	quoted := s.QuotedDays(signal)
	return d.experience.Forecast(leadtime.Order{Supplier: s.Code, Quoted: &quoted, Signal: signal})
}

// Shipment is the parcel that would come if a line under that signal were ordered now.
func (d *Deliveries) Shipment(supplierID int64, signal Signal) leadtime.Shipment {
	route := d.routes[supplierID]
	return leadtime.Shipment{Supplier: d.suppliers[supplierID].Code, OrderDay: route.OrderDay(d.now), Route: route,
		Lead: d.Forecast(supplierID, signal).Distribution}
}

// Promise is the day by which all shipments are here at the shop's confidence.
func (d *Deliveries) Promise(shipments []leadtime.Shipment) (leadtime.Promise, error) {
	return leadtime.PromiseDay(shipments, d.confidence, d.Today)
}

// OfferPromise is the day by which an offer ordered now is here. It is an error where that is too unlikely ever to be.
func (d *Deliveries) OfferPromise(o Offer) (leadtime.Promise, error) {
	return d.Promise([]leadtime.Shipment{d.Shipment(o.SupplierID, o.Stock)})
}

// Awaited is the day by which a line that is on order should be here: the day that the supplier gave if it gave one and
// it has not passed, else the promise that remains, at the shop's confidence, now that so many days have gone by
// without it. It is an error if so much time has passed that none can be given.
func (d *Deliveries) Awaited(supplierID int64, placedAt time.Time, signal Signal, word Word) (calendar.Day, error) {
	if word.ExpectedOn != nil && *word.ExpectedOn >= d.Today {
		return *word.ExpectedOn, nil
	}
	route := d.routes[supplierID]
	ordered := route.OrderDay(placedAt)
	shipment := leadtime.Shipment{Supplier: d.suppliers[supplierID].Code, OrderDay: ordered, Route: route,
		Lead: d.Forecast(supplierID, signal).StillWaiting(route.WorkingDays(ordered, d.Today) - 1)}
	promise, err := d.Promise([]leadtime.Shipment{shipment})
	return promise.Day, err
}
