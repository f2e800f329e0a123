package desk

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/post"
	"stead/pricing"
)

// Order is an order line by line, with what its supplier said of the lines since.
type Order struct {
	inventory.Order
	Clock
	Words map[int64]inventory.Word `json:"supplier_said,omitempty"` // by line
	Post  []post.Message           `json:"post,omitempty"`          // what was sent, or is to be

	Supplier inventory.Supplier       `json:"-"`
	Parts    map[int64]inventory.Part `json:"-"`
	Rows     []OrderRow               `json:"-"`
}

// OrderRow is a line of an order in words.
type OrderRow struct {
	inventory.OrderLine
	Part        string
	PacksWords  string
	Expected    string   // a day, or that there is none
	Differences []string // where the supplier's papers, or its parcels, differ from what was ordered
	CanGoBack   bool     // some of it is here
}

// Added says which lines were added to the order after it was placed, and when.
func (v Order) Added() (out []string) {
	for _, l := range v.Rows {
		if l.JoinedAt != nil {
			out = append(out, fmt.Sprintf("%s, %s: added on %s", l.Part, l.PacksWords, v.Moment(*l.JoinedAt)))
		}
	}
	return out
}

// ToSend reports whether an order, as it stands since the last line was added to it, is still to be sent as far as anybody
// can tell: nothing of it has left or is about to, nobody has said that its supplier was told, who has said nothing of it
// either, nothing has come, and none of it is due.
func (v Order) ToSend() bool {
	if v.State != inventory.OrderPlaced || len(v.Words) > 0 {
		return false
	}
	last := v.PlacedAt
	for _, l := range v.Lines {
		if l.Received > 0 || l.ExpectedOn <= v.Today() {
			return false
		}
		if l.JoinedAt != nil && l.JoinedAt.After(last) {
			last = *l.JoinedAt
		}
	}
	if v.ToldAt != nil && !v.ToldAt.Before(last) {
		return false
	}
	return !slices.ContainsFunc(v.Post, func(m post.Message) bool {
		return !m.MadeAt.Before(last) && m.State != post.Refused && m.State != post.GivenUp && m.State != post.Cancelled
	})
}

// ToldWords say how and when its supplier was told of it other than by the post; empty: nobody said so.
func (v Order) ToldWords() string {
	if v.ToldAt == nil {
		return ""
	}
	return fmt.Sprintf("told %s, %s", v.ToldBy.Words(), v.DayOf(*v.ToldAt))
}

// LoadOrder gathers all that an order's screen tells.
func LoadOrder(ctx context.Context, db inventory.DB, id int64, now time.Time) (v Order, err error) {
	v.Clock = At(now)
	if v.Order, err = inventory.OrderByID(ctx, db, id); err != nil {
		return v, err
	}
	if v.Supplier, err = inventory.SupplierByID(ctx, db, v.SupplierID); err != nil {
		return v, err
	}
	var parts, lines []int64
	for _, l := range v.Lines {
		parts, lines = append(parts, l.PartID), append(lines, l.ID)
	}
	if v.Parts, err = inventory.Parts(ctx, db, parts); err != nil {
		return v, err
	}
	if v.Words, err = inventory.LastWords(ctx, db, lines); err != nil {
		return v, err
	}
	besides, err := inventory.Besides(ctx, db, lines...)
	if err != nil {
		return v, err
	}
	if v.Post, err = post.OfOrder(ctx, db, id); err != nil {
		return v, err
	}
	for _, l := range v.Lines {
		said := v.Words[l.ID]
		row := OrderRow{OrderLine: l, Part: v.Parts[l.PartID].Name, PacksWords: PacksWords(l.Packs, l.Pack),
			Expected: expectedWords(l, said), Differences: differences(l, said, v.Supplier.Currency), CanGoBack: l.Received > 0}
		for _, b := range besides {
			if b.LineID == l.ID {
				row.Differences = append(row.Differences, CameWords(b)...)
				row.CanGoBack = row.CanGoBack || b.Wrong+b.Damaged+b.Over > 0
			}
		}
		v.Rows = append(v.Rows, row)
	}
	return v, nil
}

// expectedWords is when a line is here, by the last that its supplier said.
func expectedWords(l inventory.OrderLine, said inventory.Word) string {
	if day := expectedOn(l, said); day != nil {
		return day.String()
	}
	return "no day"
}

// differences are where the supplier's papers differ from what was ordered.
func differences(l inventory.OrderLine, said inventory.Word, currency string) []string {
	var out []string
	if said.BackOrdered {
		out = append(out, "on back order, and the supplier cannot say until when")
	}
	if said.Acknowledged.Valid && !said.Acknowledged.Decimal.Equal(l.Price) {
		out = append(out, fmt.Sprintf("acknowledged at %s a pack, ordered at %s", pricing.Amount(currency, said.Acknowledged.Decimal), pricing.Amount(currency, l.Price)))
	}
	if said.Invoiced.Valid && !said.Invoiced.Decimal.Equal(l.Price) {
		more := said.Invoiced.Decimal.Sub(l.Price).Mul(decimal.NewFromInt(int64(l.Packs)))
		out = append(out, fmt.Sprintf("invoiced at %s a pack, ordered at %s: %s on the line", pricing.Amount(currency, said.Invoiced.Decimal),
			pricing.Amount(currency, l.Price), MoreWords(currency, more)))
	}
	return out
}

// Orders are orders with whom they are from.
type Orders struct {
	Clock
	Orders    []inventory.Order
	Suppliers map[int64]inventory.Supplier
	Said      map[int64]inventory.Word // by their suppliers, by line
}

// LoadOrders lists the orders, or only those on their way.
func LoadOrders(ctx context.Context, db inventory.DB, open bool, now time.Time) (v Orders, err error) {
	v.Clock = At(now)
	if v.Orders, err = inventory.Orders(ctx, db, open); err != nil {
		return v, err
	}
	var lines []int64
	for _, o := range v.Orders {
		for _, l := range o.Lines {
			lines = append(lines, l.ID)
		}
	}
	if v.Said, err = inventory.LastWords(ctx, db, lines); err != nil {
		return v, err
	}
	v.Suppliers, err = suppliersByID(ctx, db)
	return v, err
}

// Total is what an order comes to with carriage, in its supplier's currency.
func (v Orders) Total(o inventory.Order) string {
	return pricing.Amount(v.Suppliers[o.SupplierID].Currency, o.Goods().Add(o.Carriage))
}

func suppliersByID(ctx context.Context, db inventory.DB) (map[int64]inventory.Supplier, error) {
	suppliers, err := inventory.Suppliers(ctx, db)
	out := map[int64]inventory.Supplier{}
	for _, s := range suppliers {
		out[s.ID] = s
	}
	return out, err
}

// Due is when what is still to come of an order is here.
type Due struct {
	By    *calendar.Day // the last day that is known; nil: none is, of any line
	First *calendar.Day // the first that is known
	Said  bool          // by the supplier, and not reckoned from its receipts
	Whole bool          // of every line one is
}

// DueOf is when what is still to come of an order is here, by the last that its supplier said of each line; where nothing
// is to come, when all of it was.
func DueOf(o inventory.Order, said map[int64]inventory.Word) Due {
	lines := StillToCome(o)
	if len(lines) == 0 {
		lines = o.Lines
	}
	due := Due{Whole: true}
	for _, l := range lines {
		day := expectedOn(l, said[l.ID])
		if day == nil {
			due.Whole = false
			continue
		}
		if due.By == nil || *day > *due.By {
			due.By, due.Said = day, said[l.ID].ExpectedOn != nil
		}
		if due.First == nil || *day < *due.First {
			due.First = day
		}
	}
	return due
}

// Sooner reports whether some of it is here before the last of it.
func (d Due) Sooner() bool { return d.First != nil && *d.First < *d.By }

// Compare puts the sooner first, and last what no day is known of.
func (d Due) Compare(e Due) int {
	if d.By == nil || e.By == nil {
		return cmp.Compare(none(d.By), none(e.By))
	}
	return cmp.Compare(*d.By, *e.By)
}

// Words are the day as it stands in a table.
func (d Due) Words() string {
	switch {
	case d.By == nil:
		return "no day"
	case !d.Whole:
		return d.By.String() + ", some no day"
	}
	return d.By.String()
}

// expectedOn is when a line is here, by the last that its supplier said; nil where it cannot say.
func expectedOn(l inventory.OrderLine, said inventory.Word) *calendar.Day {
	if said.BackOrdered || said.ExpectedOn != nil {
		return said.ExpectedOn
	}
	return &l.ExpectedOn
}

// StillToCome are the lines of an order of which something has not come yet.
func StillToCome(o inventory.Order) (out []inventory.OrderLine) {
	for _, l := range o.Lines {
		if l.Awaited() > 0 {
			out = append(out, l)
		}
	}
	return out
}
