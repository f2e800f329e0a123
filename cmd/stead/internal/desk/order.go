package desk

import (
	"context"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Order is an order line by line, with what its supplier said of the lines since.
type Order struct {
	inventory.Order
	Words map[int64]inventory.Word `json:"supplier_said,omitempty"` // by line

	Supplier inventory.Supplier       `json:"-"`
	Parts    map[int64]inventory.Part `json:"-"`
}

// LoadOrder gathers all that an order's screen tells.
func LoadOrder(ctx context.Context, db inventory.DB, id int64) (v Order, err error) {
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
	v.Words, err = inventory.LastWords(ctx, db, lines)
	return v, err
}

// Orders are orders with whom they are from.
type Orders struct {
	Orders    []inventory.Order
	Suppliers map[int64]inventory.Supplier
}

// LoadOrders lists the orders, or only those on their way.
func LoadOrders(ctx context.Context, db inventory.DB, open bool) (v Orders, err error) {
	if v.Orders, err = inventory.Orders(ctx, db, open); err != nil {
		return v, err
	}
	suppliers, err := inventory.Suppliers(ctx, db)
	v.Suppliers = map[int64]inventory.Supplier{}
	for _, s := range suppliers {
		v.Suppliers[s.ID] = s
	}
	return v, err
}

// Due is the last day on which a line of an order is expected.
func Due(o inventory.Order) (due calendar.Day) {
	for _, l := range o.Lines {
		due = max(due, l.ExpectedOn)
	}
	return due
}

// OrderPaper is an order with all that its paper names.
type OrderPaper struct {
	Shop     inventory.Shop
	Supplier inventory.Supplier
	Order    inventory.Order
	Parts    map[int64]inventory.Part
	Codes    map[int64]string // the supplier's own, by offer
}

// LoadOrderPaper gathers what is sent to a supplier.
func LoadOrderPaper(ctx context.Context, db inventory.DB, id int64) (p OrderPaper, err error) {
	order, err := LoadOrder(ctx, db, id)
	if err != nil {
		return p, err
	}
	p = OrderPaper{Supplier: order.Supplier, Order: order.Order, Parts: order.Parts, Codes: map[int64]string{}}
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
