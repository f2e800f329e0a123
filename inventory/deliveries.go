package inventory

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"maps"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

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
	rates      Rates
	backOrders map[int64]BackOrder // by offer
	promises   sync.Map            // of promised by parcel: a catalogue has many offers and few of these, and a page asks about fewer
}

// parcel is what a delivery date depends on.
type parcel struct {
	supplierID int64
	signal     Signal
}

type promised struct {
	leadtime.Promise
	err error
}

// pastLine is an order line with its first good arrival, if any. One of which nothing came and nothing will, because the
// rest was cancelled, tells nothing and is none.
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
	rates, err := RatesOn(ctx, db, now)
	if err != nil {
		return nil, err
	}
	d := &Deliveries{
		Today: calendar.DayOf(now.In(zone)), now: now, confidence: shop.Confidence, rates: rates,
		suppliers: map[int64]Supplier{}, routes: map[int64]calendar.Route{},
	}
	for _, s := range all {
		d.suppliers[s.ID] = s
		if d.routes[s.ID], err = s.Route(shop); err != nil {
			return nil, fmt.Errorf("supplier %s: %w", s.Code, err)
		}
	}
	rows, err := db.Query(ctx, `
		SELECT o.supplier_id AS supplier, o.placed_at, l.quoted_days, l.stock,
		       (SELECT min(r.at) FROM receipt r JOIN receipt_line rl ON rl.receipt_id = r.id
		        WHERE rl.order_line_id = l.id AND rl.outcome IN ('good', 'over')) AS arrived_at
		FROM purchase_order o JOIN order_line l ON l.order_id = o.id
		WHERE o.state <> 'cancelled' AND o.placed_at <= $1 AND (l.received > 0 OR l.cancelled < l.packs * l.pack)
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
	if d.backOrders, err = backOrders(ctx, db, now); err != nil {
		return nil, err
	}
	d.experience = leadtime.Learn(receipts, out, d.Today)
	return d, nil
}

// promised is the promise of a parcel, worked out when it is first asked for.
func (d *Deliveries) promised(of parcel) promised {
	if known, ok := d.promises.Load(of); ok {
		return known.(promised)
	}
	p, err := d.Promise([]leadtime.Shipment{d.Shipment(of.supplierID, of.signal)})
	d.promises.Store(of, promised{p, err})
	return promised{p, err}
}

// InHomeMoney is an offer priced in the shop's currency at today's rate; without a rate a *[NoRateError].
func (d *Deliveries) InHomeMoney(o Offer) (Offer, error) {
	if d.suppliers[o.SupplierID].Currency == d.rates.home {
		return o, nil
	}
	breaks := make([]Break, len(o.Breaks))
	for i, b := range o.Breaks {
		price, err := d.rates.Home(d.suppliers[o.SupplierID], b.Price)
		if err != nil {
			return Offer{}, err
		}
		breaks[i] = Break{FromPacks: b.FromPacks, Price: price}
	}
	o.Breaks = breaks
	return o, nil
}

// Home is an amount of a supplier's currency in the shop's own.
func (d *Deliveries) Home(supplierID int64, amount decimal.Decimal) (decimal.Decimal, error) {
	return d.rates.Home(d.suppliers[supplierID], amount)
}

// HomeCurrency is the shop's own.
func (d *Deliveries) HomeCurrency() string { return d.rates.home }

// HomeTerms is a supplier with carriage, carriage-paid level and minimum order in the shop's currency.
func (d *Deliveries) HomeTerms(id int64) (Supplier, error) {
	s := d.suppliers[id]
	var err error
	for _, amount := range []*decimal.Decimal{&s.Carriage, &s.MinimumOrder, &s.CarriagePaidAt.Decimal} {
		if *amount, err = d.rates.Home(d.suppliers[id], *amount); err != nil {
			return Supplier{}, err
		}
	}
	s.Currency = d.rates.home
	return s, nil
}

// Supplier gives a supplier that Deliveries loaded.
func (d *Deliveries) Supplier(id int64) Supplier { return d.suppliers[id] }

// Suppliers are all that there are, by number.
func (d *Deliveries) Suppliers() iter.Seq2[int64, Supplier] { return maps.All(d.suppliers) }

// SupplierNumber is the number of a supplier by its code; 0 where there is none.
func (d *Deliveries) SupplierNumber(code string) int64 {
	for id, s := range d.suppliers {
		if s.Code == code {
			return id
		}
	}
	return 0
}

// Forecast is what to expect of a supplier for a line under a stock signal.
func (d *Deliveries) Forecast(supplierID int64, signal Signal) leadtime.Forecast {
	s := d.suppliers[supplierID]
	quoted := s.QuotedDays(signal)
	return d.experience.Forecast(leadtime.Order{Supplier: s.Code, Quoted: &quoted, Signal: signal})
}

// overdueToOrderAgain is by how many working days past its quote a parcel for the shelf is waited for, before the part is
// ordered again: the project's own judgement.
const overdueToOrderAgain = 10

// Restocking is how long a part for the shelf takes to come from a supplier, counting that what does not come is ordered
// again.
func (d *Deliveries) Restocking(supplierID int64, signal Signal) leadtime.Distribution {
	f := d.Forecast(supplierID, signal)
	return f.OrderedAgain(max(1, f.Assumption.QuotedDays+overdueToOrderAgain))
}

// Delay is why days are later than they used to be: all suppliers are late just now, or one has become slower.
type Delay struct {
	Supplier string `json:"supplier,omitempty"` // its code; empty: all of them
	From     string `json:"supplier_name,omitempty"`
	Days     int    `json:"working_days"` // by how many later
	Words    string `json:"words"`        // a sentence or two for the workshop, with what it was seen by
}

// Delays are those with which days count: that of all suppliers, then those of some in the order in which they are named.
func (d *Deliveries) Delays(supplierIDs ...int64) (delays []Delay) {
	if s := d.experience.Strain(); s != nil {
		delays = append(delays, Delay{Days: s.DaysLate, Words: s.Words()})
	}
	told := map[int64]bool{}
	for _, id := range supplierIDs {
		from := d.suppliers[id]
		c := d.experience.Slower(from.Code)
		if c == nil || told[id] {
			continue
		}
		told[id] = true
		delays = append(delays, Delay{Supplier: from.Code, From: from.Name, Days: c.DaysLate - max(0, c.DaysBefore),
			Words: fmt.Sprintf("%s has become slower: %s", from.Name, c.Words(d.Today))})
	}
	return delays
}

// DelaysOf are the delays with which the day counts by which offers that are ordered now are all here: of one supplier
// alone only where none of the others comes later.
func (d *Deliveries) DelaysOf(offers []Offer) []Delay {
	var last calendar.Day
	by := map[calendar.Day][]int64{}
	for _, o := range offers {
		if p, err := d.OfferPromise(o); err == nil {
			by[p.Day] = append(by[p.Day], o.SupplierID)
			last = max(last, p.Day)
		}
	}
	if last == 0 {
		return nil
	}
	return d.Delays(by[last]...)
}

// DaysLate are how many working days after their quotes a supplier's parcels came, the oldest order first.
func (d *Deliveries) DaysLate(supplierID int64) []int {
	return d.experience.DaysLate(d.suppliers[supplierID].Code)
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

// OfferPromise is the day by which an offer ordered now is here: never before a day that its supplier gave for it. It is an
// error where that is too unlikely ever to be, and a *[BackOrderError] where the supplier cannot say.
func (d *Deliveries) OfferPromise(o Offer) (leadtime.Promise, error) {
	p := d.promised(parcel{o.SupplierID, o.Stock})
	b, said := d.backOrders[o.ID]
	switch {
	case p.err != nil || !said:
		return p.Promise, p.err
	case b.Day == nil:
		return leadtime.Promise{}, &BackOrderError{Supplier: d.suppliers[o.SupplierID].Name, Code: o.Code, Said: calendar.DayOf(b.At)}
	}
	p.Day = max(p.Day, d.inBy(o.SupplierID, *b.Day))
	return p.Promise, nil
}

// PromiseAll is the day by which offers that are ordered now are all here, at the shop's confidence: those of one supplier
// under one stock signal come in one parcel.
func (d *Deliveries) PromiseAll(offers []Offer) (leadtime.Promise, error) {
	var shipments []leadtime.Shipment
	seen := map[parcel]bool{}
	var last calendar.Day
	for _, o := range offers {
		if p := (parcel{o.SupplierID, o.Stock}); !seen[p] {
			seen[p] = true
			shipments = append(shipments, d.Shipment(o.SupplierID, o.Stock))
		}
		alone, err := d.OfferPromise(o)
		if err != nil {
			return alone, err
		}
		last = max(last, alone.Day)
	}
	all, err := d.Promise(shipments)
	all.Day = max(all.Day, last)
	return all, err
}

// Awaited is the day by which a line that is on order should be here. Where the supplier gave a day that has not passed, it
// is that one, or the next on which the workshop is open to take the parcel in; else the promise that remains, at the
// shop's confidence, now that so many days have gone by without it. It is an error if so much time has passed that none
// can be given, or if the supplier says that it is on back order and cannot say until when. It is unseen where nothing that
// came tells of it, and the day is a guess: see [leadtime.Forecast.Unseen].
func (d *Deliveries) Awaited(supplierID int64, placedAt time.Time, signal Signal, word Word) (day calendar.Day, unseen bool, err error) {
	route := d.routes[supplierID]
	if word.BackOrdered {
		return 0, false, errNoDay
	}
	if word.ExpectedOn != nil {
		if in := d.inBy(supplierID, *word.ExpectedOn); in >= d.Today {
			return in, false, nil
		}
	}
	ordered, forecast := route.OrderDay(placedAt), d.Forecast(supplierID, signal)
	waited := route.WorkingDays(ordered, d.Today) - 1
	shipment := leadtime.Shipment{Supplier: d.suppliers[supplierID].Code, OrderDay: ordered, Route: route, Lead: forecast.StillWaiting(waited)}
	promise, err := d.Promise([]leadtime.Shipment{shipment})
	return promise.Day, err == nil && forecast.Unseen(waited), err
}

var errNoDay = errors.New("it is on back order, and no day is given")

// LastPaid is what a piece of each part cost when it was last ordered, in the shop's money.
func (d *Deliveries) LastPaid(ctx context.Context, db DB) (map[int64]decimal.Decimal, error) {
	rows, err := db.Query(ctx, `
		SELECT DISTINCT ON (of) coalesce(part.merged_into, part.id) AS of, supplier_id, price / pack
		FROM order_line JOIN purchase_order ON purchase_order.id = order_line.order_id JOIN part ON part.id = order_line.part_id
		ORDER BY of, placed_at DESC`)
	if err != nil {
		return nil, fmt.Errorf("read what was last paid: %w", err)
	}
	paid := map[int64]decimal.Decimal{}
	var id, supplier int64
	var each decimal.Decimal
	if _, err := pgx.ForEachRow(rows, []any{&id, &supplier, &each}, func() error {
		if home, err := d.Home(supplier, each); err == nil { // else nobody can tell what it is worth here
			paid[id] = home.Round(4)
		}
		return nil
	}); err != nil {
		return nil, fmt.Errorf("read what was last paid: %w", err)
	}
	return paid, nil
}
