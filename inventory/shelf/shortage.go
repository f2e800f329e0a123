package shelf

import (
	"context"
	"maps"
	"slices"
	"time"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Shortage is a part of which the shelf has too few.
type Shortage struct {
	Part  inventory.Part  `json:"part"`
	Stock inventory.Stock `json:"stock"`
	Order int             `json:"to_order"` // pieces to order for the shelf
}

// toReorder is how many pieces to order for the shelf: none, or up to a quantity once what is free and on its way for
// the shelf has fallen to the level. What approved jobs want is bought for itself and is left out on both sides.
func toReorder(s inventory.Stock, level, to int) int {
	if coming := s.Free() + s.OnOrder - s.ForJobs; coming <= level {
		return to - coming
	}
	return 0
}

// BelowReorderLevel are the parts to be ordered for the shelf: by their levels, by what was said of them to the week's list,
// and of what is open on the bench and low the next, where none stands sealed or is on its way.
func BelowReorderLevel(ctx context.Context, db inventory.DB, now time.Time) ([]Shortage, error) {
	zone, err := inventory.LoadZone(ctx, db)
	if err != nil {
		return nil, err
	}
	said, err := LoadSaid(ctx, db)
	if err != nil {
		return nil, err
	}
	low, err := inventory.LowTubs(ctx, db)
	if err != nil {
		return nil, err
	}
	watched, err := inventory.PartsWatched(ctx, db, slices.AppendSeq(slices.Clone(low), maps.Keys(said)))
	if err != nil {
		return nil, err
	}
	ids := make([]int64, len(watched))
	for i, p := range watched {
		ids[i] = p.ID
	}
	stock, err := inventory.StockOf(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	var short []Shortage
	for _, p := range watched {
		n := said[p.ID].ToOrder(p, stock[p.ID], now, calendar.DayOf(now.In(zone)))
		if s := stock[p.ID]; n <= 0 && p.ReorderLevel == nil && slices.Contains(low, p.ID) && s.Free()+s.OnOrder-s.ForJobs <= 0 {
			n = 1
		}
		if n > 0 {
			short = append(short, Shortage{Part: p, Stock: stock[p.ID], Order: n})
		}
	}
	return short, nil
}
