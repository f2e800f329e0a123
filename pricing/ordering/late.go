package ordering

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing/money"
)

// Late is a promise that will not be kept as things stand: a part that an approved job waits for, and that is not
// expected by the day on which the job was promised. A part that nobody has ordered yet is among them whatever its day:
// what keeps the promise is still to be done.
type Late struct {
	JobID      int64        `json:"job"`
	Customer   string       `json:"customer"`        // as whoever asks knows it: see pricing.LatePromises
	Reach      string       `json:"reach,omitempty"` // and how to reach them
	PartID     int64        `json:"part_id"`
	Part       string       `json:"name"`
	Pieces     int          `json:"pieces"`
	NotOrdered bool         `json:"not_ordered,omitempty"`
	OrderID    int64        `json:"order,omitempty"`
	LineID     int64        `json:"line,omitempty"`
	Supplier   string       `json:"supplier,omitempty"` // its code; of what is not ordered, that of the one that would be soonest
	From       string       `json:"supplier_name,omitempty"`
	Promised   calendar.Day `json:"promised"`
	// Expected is when it is here, or would be if it were ordered now; absent where too much time has gone by for any
	// day to be given, where the supplier cannot say, or where nobody offers it any more.
	Expected    *calendar.Day `json:"expected,omitempty"`
	Unseen      bool          `json:"unseen,omitempty"`       // Expected is a guess: nothing like it was this late and came
	BackOrdered bool          `json:"back_ordered,omitempty"` // and its supplier cannot say until when
	Sooner      []Sooner      `json:"sooner,omitempty"`       // where else the same part could be had before that
}

// Sooner is another source of the same part.
type Sooner struct {
	Supplier string          `json:"supplier,omitempty"` // its code; empty: the shelf
	From     string          `json:"supplier_name,omitempty"`
	HereOn   calendar.Day    `json:"here_on"`
	Costs    decimal.Decimal `json:"costs"` // goods and carriage of an order for it alone, before tax
}

// LatePromises looks through everything that approved jobs wait for. A delivery that is short, or a parcel that is overdue
// without a word, re-opens the promise of its job just as a later day from the supplier does.
func LatePromises(ctx context.Context, db inventory.DB, deliveries *inventory.Deliveries) ([]Late, error) {
	claims, err := inventory.OpenClaims(ctx, db)
	if err != nil || len(claims) == 0 {
		return nil, err
	}
	coming, err := expect(ctx, db, deliveries, claims)
	if err != nil {
		return nil, err
	}
	var late []Late
	for i, l := range coming {
		if !l.NotOrdered && !l.missed() {
			continue
		}
		if !l.NotOrdered {
			if l.Sooner, err = soonerThan(ctx, db, deliveries, claims[i], deliveries.SupplierNumber(l.Supplier), l.Expected); err != nil {
				return nil, err
			}
		}
		late = append(late, l)
	}
	return late, nil
}

// missed reports whether the promise is not kept by what is expected.
func (l Late) missed() bool { return l.Expected == nil || *l.Expected > l.Promised }

// LastOf is the day by which all that is expected is here: absent where there is no day for some of it.
func LastOf(expected []Late) *calendar.Day {
	var last calendar.Day
	for _, l := range expected {
		if l.Expected == nil {
			return nil
		}
		last = max(last, *l.Expected)
	}
	return &last
}

// Expected says of each part that a job still waits for when it is expected; one that has come is left out.
func Expected(ctx context.Context, db inventory.DB, jobID int64, now time.Time) ([]Late, error) {
	claims, err := inventory.ClaimsOfJob(ctx, db, jobID)
	if err != nil {
		return nil, err
	}
	claims = slices.DeleteFunc(claims, func(c inventory.Claim) bool {
		return c.State != inventory.ClaimWanted && c.State != inventory.ClaimOrdered
	})
	if len(claims) == 0 {
		return nil, nil
	}
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return nil, err
	}
	return expect(ctx, db, deliveries, claims)
}

// expect works out when what open claims wait for is here, claim by claim: what is on order by what its supplier last
// said of it, and what is not as if it were ordered now.
func expect(ctx context.Context, db inventory.DB, d *inventory.Deliveries, claims []inventory.Claim) ([]Late, error) {
	var lineIDs, partIDs []int64
	for _, c := range claims {
		partIDs = append(partIDs, c.PartID)
		if c.OrderLineID != nil {
			lineIDs = append(lineIDs, *c.OrderLineID)
		}
	}
	orders, err := inventory.Orders(ctx, db, true)
	if err != nil {
		return nil, err
	}
	words, err := inventory.LastWords(ctx, db, lineIDs)
	if err != nil {
		return nil, err
	}
	parts, err := inventory.Parts(ctx, db, partIDs)
	if err != nil {
		return nil, err
	}
	offers, err := inventory.OffersOf(ctx, db, partIDs)
	if err != nil {
		return nil, err
	}
	out := make([]Late, len(claims))
	for i, c := range claims {
		l := Late{JobID: c.JobID, PartID: c.PartID, Part: parts[c.PartID].Name, Pieces: c.Pieces, Promised: c.DueOn, NotOrdered: c.State == inventory.ClaimWanted}
		if l.NotOrdered {
			var from inventory.Supplier
			from, l.Expected = soonest(d, offers[c.PartID])
			l.Supplier, l.From = from.Code, from.Name
		} else if order, line, ok := orderOf(orders, *c.OrderLineID); ok {
			from := d.Supplier(order.SupplierID)
			l.OrderID, l.LineID, l.Supplier, l.From, l.BackOrdered = order.ID, line.ID, from.Code, from.Name, words[line.ID].BackOrdered
			if day, unseen, err := d.Awaited(order.SupplierID, order.PlacedAt, line.Stock, words[line.ID]); err == nil {
				l.Expected, l.Unseen = &day, unseen
			}
		}
		out[i] = l
	}
	return out, nil
}

// soonest is who would have a part here first if it were ordered now, and when.
func soonest(d *inventory.Deliveries, offers []inventory.Offer) (supplier inventory.Supplier, day *calendar.Day) {
	for _, o := range offers {
		if promise, err := d.OfferPromise(o); err == nil && (day == nil || promise.Day < *day) {
			supplier, day = d.Supplier(o.SupplierID), &promise.Day
		}
	}
	return supplier, day
}

func orderOf(orders []inventory.Order, lineID int64) (inventory.Order, inventory.OrderLine, bool) {
	for _, o := range orders {
		for _, l := range o.Lines {
			if l.ID == lineID {
				return o, l, true
			}
		}
	}
	return inventory.Order{}, inventory.OrderLine{}, false
}

// soonerThan lists where else the pieces could be had before the day, the soonest first.
func soonerThan(ctx context.Context, db inventory.DB, d *inventory.Deliveries, c inventory.Claim, not int64, expected *calendar.Day) ([]Sooner, error) {
	stock, err := inventory.StockOf(ctx, db, []int64{c.PartID})
	if err != nil {
		return nil, err
	}
	offers, err := inventory.OffersOf(ctx, db, []int64{c.PartID})
	if err != nil {
		return nil, err
	}
	var out []Sooner
	if stock[c.PartID].Free() >= c.Pieces {
		out = append(out, Sooner{HereOn: d.Today})
	}
	for _, o := range offers[c.PartID] {
		promise, err := d.OfferPromise(o)
		if err != nil || o.SupplierID == not || expected != nil && promise.Day >= *expected {
			continue // never surely here, or no sooner
		}
		s, goods := d.Supplier(o.SupplierID), o.Cost(o.PacksFor(c.Pieces))
		out = append(out, Sooner{Supplier: s.Code, From: s.Name, HereOn: promise.Day, Costs: money.Round(goods.Add(s.CarriageOn(goods)))})
	}
	slices.SortStableFunc(out, func(a, b Sooner) int { return int(a.HereOn - b.HereOn) })
	return out, nil
}

// When says when the part is expected, and whether that depends on its being ordered at all.
func (l Late) When(today calendar.Day) string {
	switch {
	case l.NotOrdered && l.Expected == nil:
		return "is not ordered yet, and nobody offers it by any day"
	case l.NotOrdered:
		return fmt.Sprintf("is not ordered yet: ordered now it would be here by %s", l.Expected.Words(today))
	case l.BackOrdered:
		return "is on back order, and its supplier cannot say until when"
	case l.Expected == nil:
		return "is so long overdue that no day can be given: ask its supplier"
	}
	return "is expected by " + l.Expected.Words(today) + l.GuessWords()
}

// GuessWords follow the day where it is a guess; empty where it is more.
func (l Late) GuessWords() string {
	if !l.Unseen {
		return ""
	}
	return ", a guess (nothing like it has been this late and come in the last year: ask its supplier)"
}

// InTime reports whether the promise is kept if the part is ordered now.
func (l Late) InTime() bool {
	return l.NotOrdered && l.Expected != nil && *l.Expected <= l.Promised
}

// Words tell of a late promise in a sentence or two.
func (l Late) Words(currency string, today calendar.Day) string {
	words := fmt.Sprintf("job %d (%s) was promised for %s; %s ", l.JobID, l.Customer, l.Promised.Words(today), l.Part)
	if !l.NotOrdered {
		words += fmt.Sprintf("from %s, order %d, ", l.From, l.OrderID)
	}
	words += l.When(today)
	for _, s := range l.Sooner {
		if s.Supplier == "" {
			words += "; the shelf has it now"
			continue
		}
		words += fmt.Sprintf("; %s could have it here by %s for %s", s.From, s.HereOn.Words(today), money.Amount(currency, s.Costs))
	}
	return words
}
