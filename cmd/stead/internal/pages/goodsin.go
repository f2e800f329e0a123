package pages

import (
	"context"
	"fmt"
	"slices"
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
	return f.Number(fmt.Sprint("good-", l.ID), "Right and whole").Counted(l.Pack)
}
func (p goodsInPage) Wrong(f *Form, l desk.OrderRow) Field {
	return f.Number(fmt.Sprint("wrong-", l.ID), "Another part, goes back")
}
func (p goodsInPage) Damaged(f *Form, l desk.OrderRow) Field {
	return f.Number(fmt.Sprint("damaged-", l.ID), "Damaged, goes back")
}

// Bin asks where what is right of a line goes.
func (p goodsInPage) Bin(f *Form, l desk.OrderRow) Field {
	nowhere := "not said yet"
	if home := p.Where(l); home != "" {
		nowhere = "where it belongs, " + home
	}
	return f.Select(fmt.Sprint("bin-", l.ID), "Where does it go?", "", append([]string{"", nowhere}, twice(p.Bins)...)...)
}

// Rest asks where what belongs nowhere goes.
func (p goodsInPage) Rest(f *Form) Field {
	return f.Select("bin", "What has no place of its own goes into", "", append([]string{"", "not said yet"}, twice(p.Bins)...)...)
}

// Homeless reports whether some of what is to come belongs nowhere.
func (p goodsInPage) Homeless() bool {
	return slices.ContainsFunc(p.Rows, func(l desk.OrderRow) bool { return p.Where(l) == "" })
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
	all, over, reference := t.ticked("all"), t.ticked("over"), t.line("reference")
	arrivals := arrived(t, o, all)
	into, err := stowed(v, t, o, all, arrivals)
	if err != nil {
		return "", err
	}
	if !all && len(arrivals) == 0 {
		t.mark("all", "say what came: tick it, or say how many")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	receipt, err := change(v, "booked a delivery in", func(ctx context.Context, tx pgx.Tx, key string) (inventory.Receipt, error) {
		if all {
			return inventory.ReceiveAll(ctx, tx, key, id, reference, into, v.now, arrivals, over)
		}
		return inventory.ReceiveOrder(ctx, tx, key, id, reference, into, v.now, arrivals, over)
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

// stowed reads where what came goes: each line into its own bin, what belongs nowhere else into the one for the rest.
func stowed(v *visit, t *typed, o inventory.Order, all bool, arrivals []inventory.Arrival) (inventory.Into, error) {
	into := inventory.Into{Lines: map[int64]string{}}
	var parts []int64
	for _, l := range o.Lines {
		parts = append(parts, l.PartID)
	}
	homes, err := inventory.Homes(v.ctx, v.db(), parts...)
	if err != nil {
		return into, err
	}
	rest := t.line("bin")
	for _, l := range o.Lines {
		field := fmt.Sprint("bin-", l.ID)
		bin := t.line(field)
		if bin == "" && homes[l.PartID] == "" {
			bin = rest
		}
		comes := all && l.Awaited() > 0 || slices.ContainsFunc(arrivals, func(a inventory.Arrival) bool { return a.LineID == l.ID && a.Outcome == inventory.Good })
		switch {
		case bin != "":
			into.Lines[l.ID] = bin
		case comes && homes[l.PartID] == "":
			t.mark(field, "say into which bin: it has no place of its own yet")
		}
	}
	return into, nil
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
