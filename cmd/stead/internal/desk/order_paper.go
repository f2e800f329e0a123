package desk

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
)

// OrderPaper is an order with all that its paper names.
type OrderPaper struct {
	Clock
	Shop     inventory.Shop
	Supplier inventory.Supplier
	Order    inventory.Order
	Parts    map[int64]inventory.Part
	Codes    map[int64]string // the supplier's own, by offer
	Added    []string         // after the order was placed
}

// InPlace is said over what was added to an order, so that its supplier does not take it for a second one.
const InPlace = "This is one order, in place of the paper sent before:"

// LoadOrderPaper gathers what is sent to a supplier.
func LoadOrderPaper(ctx context.Context, db inventory.DB, id int64, now time.Time) (p OrderPaper, err error) {
	order, err := LoadOrder(ctx, db, id, now)
	if err != nil {
		return p, err
	}
	p = OrderPaper{Clock: order.Clock, Supplier: order.Supplier, Order: order.Order, Parts: order.Parts, Codes: map[int64]string{}, Added: order.Added()}
	if p.Shop, err = inventory.LoadShop(ctx, db); err != nil {
		return p, err
	}
	for _, l := range p.Order.Lines {
		offer, err := inventory.OfferByID(ctx, db, l.OfferID)
		if err != nil {
			return p, err
		}
		p.Codes[l.OfferID] = offer.Code
	}
	return p, nil
}

// Lines are the order's lines as its supplier reads them: a code once, with all its packs, where they cost the same. What
// was added to the order later is a line of its own here, for its day and whose it is, and none there.
func (p OrderPaper) Lines() (out []inventory.OrderLine) {
	for _, l := range p.Order.Lines {
		i := slices.IndexFunc(out, func(o inventory.OrderLine) bool {
			return o.OfferID == l.OfferID && o.Pack == l.Pack && o.Price.Equal(l.Price)
		})
		if i < 0 {
			out = append(out, l)
			continue
		}
		out[i].Packs += l.Packs
	}
	return out
}

// Heading names whose order it is, of whom and when, and by which number it is known here.
func (p OrderPaper) Heading() string {
	return fmt.Sprintf("Order %d to %s, %s", p.Order.ID, p.Supplier.Name, p.Written(p.Order.PlacedAt))
}

// TotalWords are what the goods come to, and their carriage.
func (p OrderPaper) TotalWords() string {
	return fmt.Sprintf("goods %s, carriage %s", pricing.Amount(p.Supplier.Currency, p.Order.Goods()), pricing.Amount(p.Supplier.Currency, p.Order.Carriage))
}

// WriteCSV writes the order as a table that a supplier's program reads.
func (p OrderPaper) WriteCSV(out io.Writer) error {
	w, err := terminal.NewCSV(out)
	if err != nil {
		return err
	}
	if err := w.Write("our order", "your code", "description", "packs", "pieces in a pack", "price of a pack", "amount", "currency"); err != nil {
		return err
	}
	for _, l := range p.Lines() {
		if err := w.Write(strconv.FormatInt(p.Order.ID, 10), p.Codes[l.OfferID], p.Parts[l.PartID].Name, strconv.Itoa(l.Packs), strconv.Itoa(l.Pack),
			l.Price.StringFixed(2), l.Cost().StringFixed(2), p.Supplier.Currency); err != nil {
			return err
		}
	}
	return w.Close()
}

// Letter is the order as it is written into an e-mail, a line of text a line.
func (p OrderPaper) Letter() string {
	var out strings.Builder
	fmt.Fprintf(&out, "%s\n%s\n\n", p.Shop.Name, p.Heading())
	for _, l := range p.Lines() {
		fmt.Fprintf(&out, "%s  %s  %s at %s\n", PacksWords(l.Packs, l.Pack), p.Codes[l.OfferID], p.Parts[l.PartID].Name, pricing.Amount(p.Supplier.Currency, l.Price))
	}
	fmt.Fprintf(&out, "\n%s\n", p.TotalWords())
	if len(p.Added) > 0 {
		fmt.Fprintf(&out, "\n%s\n%s\n", InPlace, strings.Join(p.Added, "\n"))
	}
	return out.String()
}
