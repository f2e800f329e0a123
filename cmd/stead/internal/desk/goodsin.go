package desk

import (
	"context"
	"fmt"
	"time"

	"stead/inventory"
)

// GoodsIn is an order whose parcel lies on the counter: what should be in it, for whom, where it can go, and what is to be
// measured before it is fitted.
type GoodsIn struct {
	Order
	Awaits  []inventory.Awaited
	Measure []inventory.ToMeasure
	Bins    []string
	Homes   map[int64]string // the bins in which parts belong, by part
	Codes   map[int64]string // the supplier's own, by line
}

// LoadGoodsIn gathers what is to be looked at when a parcel of an order comes.
func LoadGoodsIn(ctx context.Context, db inventory.DB, orderID int64, now time.Time) (v GoodsIn, err error) {
	if v.Order, err = LoadOrder(ctx, db, orderID, now); err != nil {
		return v, err
	}
	if v.Awaits, v.Measure, err = inventory.Expecting(ctx, db, v.Order.Order); err != nil {
		return v, err
	}
	if v.Bins, err = inventory.Bins(ctx, db); err != nil {
		return v, err
	}
	parts := []int64{}
	for _, l := range v.Lines {
		parts = append(parts, l.PartID)
	}
	if v.Homes, err = inventory.Homes(ctx, db, parts...); err != nil {
		return v, err
	}
	v.Codes = map[int64]string{}
	for _, l := range v.Lines {
		offer, err := inventory.OfferByID(ctx, db, l.OfferID)
		if err != nil {
			return v, err
		}
		v.Codes[l.ID] = offer.Code
	}
	return v, nil
}

// Title heads the list of what a parcel should hold.
func (v GoodsIn) Title() string {
	return fmt.Sprintf("Goods in: order %d from %s", v.Order.ID, v.Supplier.Name)
}

// Head is when it was ordered, and where it stands.
func (v GoodsIn) Head() string {
	return fmt.Sprintf("ordered on %s; %s", v.Written(v.PlacedAt), v.State.Words())
}

// Due are the lines of which something is still to come, each with how many.
func (v GoodsIn) Due() (out []GoodsInLine) {
	for _, a := range v.Awaits {
		l := GoodsInLine{Code: v.Codes[a.LineID], Part: a.Part, Pieces: a.Pieces, Bin: v.Homes[a.PartID]}
		for _, j := range a.Jobs {
			l.For = append(l.For, fmt.Sprintf("%d of %s for job %d", j.Pieces, a.Part, j.JobID))
		}
		out = append(out, l)
	}
	return out
}

// GoodsInLine is a part that is still to come.
type GoodsInLine struct {
	Code, Part, Bin string
	Pieces          int
	For             []string // whose the pieces are
}

// MeasureLines say what each dimension of a stand-in should be, and how it is measured.
func MeasureLines(m inventory.ToMeasure) (out []string) {
	for _, d := range m.Dimensions {
		words := d.Means + ": " + d.Value
		if d.Measure != "" {
			words += " (" + d.Measure + ")"
		}
		out = append(out, words)
	}
	return out
}

// ReceiptWords say what became of a delivery: where the order stands, whose the pieces are, and what is still to come.
func ReceiptWords(r inventory.Receipt) (first string, more []string) {
	for _, g := range r.Got {
		more = append(more, fmt.Sprintf("%d for job %d (%s), now held for it", g.Pieces, g.JobID, SiteWords(g.Place)))
	}
	for _, a := range r.Awaited {
		more = append(more, fmt.Sprintf("still to come: %d of %s", a.Pieces, a.Part))
	}
	return fmt.Sprintf("delivery of order %d booked in; the order is %s", r.OrderID, r.OrderState.Words()), more
}

// MeasureWords head the list of what to measure of a part that stands in for another.
func MeasureWords(m inventory.ToMeasure) string {
	return fmt.Sprintf("substitute for job %d, %s: measure before fitting", m.JobID, m.Part)
}
