package desk

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Coming is pieces of a part that an order brings.
type Coming struct {
	OrderID int64
	Pieces  int
	On      *calendar.Day // by the last that its supplier said; nil: on back order without a day
}

// Words are how many come, and when.
func (c Coming) Words(today calendar.Day) string {
	if c.On == nil {
		return fmt.Sprintf("%d on back order, no day", c.Pieces)
	}
	return fmt.Sprintf("%d coming by %s", c.Pieces, c.On.Short(today))
}

// LoadComing is what is on its way by part, the soonest first.
func LoadComing(ctx context.Context, db inventory.DB) (map[int64][]Coming, error) {
	orders, err := inventory.Orders(ctx, db, true)
	if err != nil {
		return nil, err
	}
	var lines []int64
	for _, o := range orders {
		for _, l := range o.Lines {
			lines = append(lines, l.ID)
		}
	}
	words, err := inventory.LastWords(ctx, db, lines)
	if err != nil {
		return nil, err
	}
	out := map[int64][]Coming{}
	for _, o := range orders {
		for _, l := range o.Lines {
			if l.Awaited() == 0 {
				continue
			}
			out[l.PartID] = append(out[l.PartID], Coming{OrderID: o.ID, Pieces: l.Awaited(), On: expectedOn(l, words[l.ID])})
		}
	}
	for _, coming := range out {
		slices.SortStableFunc(coming, func(a, b Coming) int {
			switch {
			case a.On == nil || b.On == nil:
				return cmp.Compare(none(a.On), none(b.On))
			}
			return cmp.Compare(*a.On, *b.On)
		})
	}
	return out, nil
}

// none puts what has no day after what has one.
func none(d *calendar.Day) int {
	if d == nil {
		return 1
	}
	return 0
}
