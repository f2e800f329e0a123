package pages

import (
	"slices"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing/ordering"
)

// ordersPage are the orders on their way, and the promises that they will not keep.
type ordersPage struct {
	desk.Orders
	Late desk.Late
	All  bool // closed ones too
}

func showOrders(v *visit) (string, any, error) {
	p := ordersPage{All: v.asked("all") != ""}
	var err error
	if p.Orders, err = desk.LoadOrders(v.ctx, v.db(), !p.All, v.now); err != nil {
		return "", nil, err
	}
	if p.All {
		slices.Reverse(p.Orders.Orders) // the newest first
	} else {
		slices.SortStableFunc(p.Orders.Orders, func(a, b inventory.Order) int { return desk.DueOf(a, p.Said).Compare(desk.DueOf(b, p.Said)) })
	}
	p.Late, err = desk.LoadLate(v.ctx, v.db(), v.now)
	if p.All {
		return "All orders", p, err
	}
	return "On the way", p, err
}

// Supplier is who an order is from.
func (p ordersPage) Supplier(o inventory.Order) string { return p.Suppliers[o.SupplierID].Name }

// When is when the last of an order is expected; nothing for what has come.
func (p ordersPage) When(o inventory.Order) string {
	due := desk.DueOf(o, p.Said)
	switch {
	case o.State != inventory.OrderPlaced && o.State != inventory.OrderPartIn:
		return ""
	case due.By == nil:
		return "no day can be given"
	case *due.By < p.Today():
		return "past its day, " + due.By.Short(p.Today())
	case due.Sooner() && due.Whole:
		return "the first by " + due.First.Short(p.Today()) + ", the last by " + due.By.Short(p.Today())
	case !due.Whole:
		return "some of it expected by " + due.By.Short(p.Today()) + ", for the rest no day can be given"
	}
	return "expected by " + due.By.Short(p.Today())
}

// NoneLate says that every promise is kept.
func (p ordersPage) NoneLate() string { return sentence(desk.NoneLate) }

// Sooner reports whether another source would be sooner than the order that is late.
func (p ordersPage) Sooner(l ordering.Late) bool { return len(l.Sooner) > 0 && l.OrderID != 0 }
