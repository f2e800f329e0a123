package desk

import (
	"context"
	"time"

	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/inventory/leadtime"
)

// Outlook is when what is ordered now at a stock signal is here.
type Outlook struct {
	Stock  inventory.Signal `json:"stock"`
	Quoted int              `json:"quoted_days"`
	HereBy string           `json:"here_by"`
	Why    []string         `json:"why"`
}

// Supplier is what a supplier quotes beside what it does.
type Supplier struct {
	Supplier inventory.Supplier `json:"supplier"`
	Ordered  []Outlook          `json:"ordered_now"`
	DaysLate []int              `json:"days_late"` // of past parcels, working days after the quote

	Closed []string         `json:"-"` // every week, every year, and on the days that are still to come
	Lists  []catalogue.List `json:"-"` // that were loaded, the newest first
}

// LoadSupplier gathers all that a supplier's screen tells, as things stand at a moment.
func LoadSupplier(ctx context.Context, db inventory.DB, code string, now time.Time) (Supplier, error) {
	s, err := inventory.SupplierByCode(ctx, db, code)
	if err != nil {
		return Supplier{}, err
	}
	d, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return Supplier{}, err
	}
	v := Supplier{Supplier: s, DaysLate: d.DaysLate(s.ID)}
	for _, signal := range []inventory.Signal{inventory.InStock, inventory.Low, inventory.ToOrder, inventory.Unknown} {
		o := Outlook{Stock: signal, Quoted: s.QuotedDays(signal), HereBy: noPromise, Why: d.Forecast(s.ID, signal).Words(d.Today)}
		if promise, err := d.Promise([]leadtime.Shipment{d.Shipment(s.ID, signal)}); err == nil {
			o.HereBy = promise.Words(d.Today)
		}
		v.Ordered = append(v.Ordered, o)
	}
	v.Closed = append([]string{closedWords(s.ClosedOn, s.Country)}, closureWords(s.Closures, At(now))...)
	v.Lists, err = catalogue.Lists(ctx, db, s.ID)
	return v, err
}

// noPromise stands where a day would, for what is too likely never to come.
const noPromise = "can't be promised"
