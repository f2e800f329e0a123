package inventory

import (
	"context"
	"fmt"
)

// Shortage is a part of which the shelf has too few.
type Shortage struct {
	Part  Part  `json:"part"`
	Stock Stock `json:"stock"`
	Order int   `json:"order"` // pieces to order for the shelf
}

// ToReorder is how many pieces to order for the shelf: none, or up to a quantity once what is free and on its way for
// the shelf has fallen to the level. What approved jobs want is bought for itself and is left out on both sides.
func (s Stock) ToReorder(level, to int) int {
	if coming := s.Free() + s.OnOrder - s.ForJobs; coming <= level {
		return to - coming
	}
	return 0
}

// BelowReorderLevel are the parts to be ordered for the shelf.
func BelowReorderLevel(ctx context.Context, db DB) ([]Shortage, error) {
	watched, err := collect(ctx, db, partReader(), `SELECT `+partColumns+` FROM part WHERE reorder_level IS NOT NULL ORDER BY name, id`)
	if err != nil {
		return nil, fmt.Errorf("read the parts with a reorder level: %w", err)
	}
	ids := make([]int64, len(watched))
	for i, p := range watched {
		ids[i] = p.ID
	}
	stock, err := StockOf(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	var short []Shortage
	for _, p := range watched {
		if n := stock[p.ID].ToReorder(*p.ReorderLevel, *p.ReorderTo); n > 0 {
			short = append(short, Shortage{Part: p, Stock: stock[p.ID], Order: n})
		}
	}
	return short, nil
}
