package pages

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
)

// goodsInPage is an order whose parcel is opened: what should be in it, for whom, where it goes, and what of it is to be
// measured.
type goodsInPage struct {
	desk.GoodsIn
	Open bool // something is still to come
}

func showGoodsIn(v *visit) (string, any, error) {
	id, err := v.number("order")
	if err != nil {
		return "", nil, err
	}
	p := goodsInPage{}
	p.GoodsIn, err = desk.LoadGoodsIn(v.ctx, v.db(), id, v.now)
	p.Open = len(p.Awaits) > 0
	return "Goods in from " + p.Supplier.Name, p, err
}

// Where is the bin in which a line's part belongs; empty: nowhere that is known.
func (p goodsInPage) Where(l desk.OrderRow) string { return p.Homes[l.PartID] }

// For are the jobs that wait for pieces of a line.
func (p goodsInPage) For(l desk.OrderRow) []inventory.Holder {
	for _, a := range p.Awaits {
		if a.LineID == l.ID {
			return a.Jobs
		}
	}
	return nil
}

// MeasureWords head what to measure of a substitute.
func (p goodsInPage) MeasureWords(m inventory.ToMeasure) string {
	return sentence(desk.MeasureWords(m))
}

// Whole asks whether a line came as ordered.
func (p goodsInPage) Whole(f *Form, l desk.OrderRow) Field {
	label := fmt.Sprintf("All %d came, and are right", l.Awaited())
	if l.Awaited() == 1 {
		label = "It came, and is right"
	}
	return f.Tick(fmt.Sprint("whole-", l.ID), label)
}

// Good, Wrong and Damaged ask how many of a line came, where it is not as ordered.
func (p goodsInPage) Good(f *Form, l desk.OrderRow) Field {
	return f.Number(fmt.Sprint("good-", l.ID), "Right and whole")
}
func (p goodsInPage) Wrong(f *Form, l desk.OrderRow) Field {
	return f.Number(fmt.Sprint("wrong-", l.ID), "Another part, goes back")
}
func (p goodsInPage) Damaged(f *Form, l desk.OrderRow) Field {
	return f.Number(fmt.Sprint("damaged-", l.ID), "Damaged, goes back")
}

// Bin asks where what is right goes.
func (p goodsInPage) Bin(f *Form) Field {
	return f.Select("bin", "Into which bin?", "", append([]string{"", "each where it belongs"}, twice(p.Bins)...)...)
}

// receiveOrder books in what is ticked and counted.
func receiveOrder(v *visit, t *typed) (string, error) {
	id, err := v.number("order")
	if err != nil {
		return "", err
	}
	o, err := inventory.OrderByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	all, over, bin, reference := t.ticked("all"), t.ticked("over"), t.line("bin"), t.line("reference")
	arrivals := arrived(t, o, all)
	if !all && len(arrivals) == 0 {
		t.mark("all", "say what came: tick it, or say how many")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	receipt, err := change(v, "booked a delivery in", func(ctx context.Context, tx pgx.Tx, key string) (inventory.Receipt, error) {
		if all {
			return inventory.ReceiveAll(ctx, tx, key, id, reference, bin, v.now, arrivals, over)
		}
		return inventory.ReceiveOrder(ctx, tx, key, id, reference, bin, v.now, arrivals, over)
	})
	if err != nil {
		return "", err
	}
	told, err := desk.LoadReceipt(v.ctx, v.db(), receipt)
	if err != nil {
		return "", err
	}
	first, more := desk.ReceiptWords(told.Receipt)
	for _, g := range told.Wishes {
		more = append(more, "a wish can be met: "+desk.WhoseWish(g))
	}
	return v.done(fmt.Sprintf("/orders/%d", id), strings.Join(append([]string{first}, more...), "; "), nil)
}

// arrived reads what came of each line of an order; where all came, only what came beside it.
func arrived(t *typed, o inventory.Order, all bool) (out []inventory.Arrival) {
	for _, l := range o.Lines {
		whole := t.ticked(fmt.Sprint("whole-", l.ID))
		for _, part := range []struct {
			field   string
			outcome inventory.Outcome
		}{{"good", inventory.Good}, {"wrong", inventory.Wrong}, {"damaged", inventory.Damaged}} {
			field := fmt.Sprintf("%s-%d", part.field, l.ID)
			n, given := t.pieces(field)
			if part.outcome == inventory.Good {
				switch {
				case given && (all || whole && n != l.Awaited()):
					t.mark(field, fmt.Sprintf("you say that all came, and also that %d did: say one of the two", n))
				case whole && !all:
					n = l.Awaited()
				}
			}
			if n > 0 {
				out = append(out, inventory.Arrival{LineID: l.ID, Outcome: part.outcome, Pieces: n})
			}
		}
	}
	return out
}
