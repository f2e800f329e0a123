package shelf

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
	"stead/substitution"
)

// shelfBooks are what is weighed: what was asked for, what may be kept, and how it is bought.
type shelfBooks struct {
	shop       inventory.Shop
	said       map[int64]Said
	demand     Demand
	deliveries *inventory.Deliveries
	tastes     tastes
	limits     Limits
	parts      []keptPart // that may be kept
}

// keptPart is what is to be known of a part to keep it: far less than all that fits rules ask of one.
type keptPart struct {
	ID           int64
	Family       substitution.Family
	Name         string
	ReorderLevel *int
	ReorderTo    *int
}

// atOnce is of how many parts all that is offered and there is held at a time. What is told and weighed of each is far less.
const atOnce = 2000

// supplies are how some of the parts can be bought, and what is there of them.
type supplies struct {
	offers map[int64][]inventory.Offer
	stock  map[int64]inventory.Stock
}

func loadSupplies(ctx context.Context, db inventory.DB, of []keptPart) (p supplies, err error) {
	ids := make([]int64, len(of))
	for i := range of {
		ids[i] = of[i].ID
	}
	if p.offers, err = inventory.OffersOf(ctx, db, ids); err != nil {
		return p, err
	}
	p.stock, err = inventory.StockOf(ctx, db, ids)
	return p, err
}

func loadShelfBooks(ctx context.Context, db inventory.DB, now time.Time) (b shelfBooks, err error) {
	if b.shop, err = inventory.LoadShop(ctx, db); err != nil {
		return b, err
	}
	if b.said, err = LoadSaid(ctx, db); err != nil {
		return b, err
	}
	if b.demand, err = LoadDemand(ctx, db, now); err != nil {
		return b, err
	}
	if b.deliveries, err = inventory.LoadDeliveries(ctx, db, now); err != nil {
		return b, err
	}
	if b.tastes, err = loadTastes(ctx, db); err != nil {
		return b, err
	}
	if b.limits, err = LoadLimits(ctx, db); err != nil {
		return b, err
	}
	b.parts, err = keepable(ctx, db, slices.Concat(slices.Collect(maps.Keys(b.said)), slices.Collect(maps.Keys(b.demand.Sold))))
	return b, err
}

// comingOf is when each part that is on order should be here, the first first.
func comingOf(ctx context.Context, db inventory.DB, d *inventory.Deliveries) (map[int64][]calendar.Day, error) {
	open, err := inventory.Orders(ctx, db, true)
	if err != nil {
		return nil, err
	}
	var lines []int64
	for _, o := range open {
		for _, l := range o.Lines {
			lines = append(lines, l.ID)
		}
	}
	words, err := inventory.LastWords(ctx, db, lines)
	if err != nil {
		return nil, err
	}
	days := map[int64][]calendar.Day{}
	for _, o := range open {
		for _, l := range o.Lines {
			if l.Awaited() == 0 {
				continue
			}
			if day, _, err := d.Awaited(o.SupplierID, o.PlacedAt, l.Stock, words[l.ID]); err == nil {
				days[l.PartID] = append(days[l.PartID], day)
			}
		}
	}
	for _, list := range days {
		slices.Sort(list)
	}
	return days, nil
}

// keepable are the parts that were ever asked for, are on the shelf or are to be ordered for it, and those given.
func keepable(ctx context.Context, db inventory.DB, also []int64) ([]keptPart, error) {
	parts, err := inventory.Collect(ctx, db, pgx.RowToStructByPos[keptPart], `
		SELECT id, family, name, reorder_level, reorder_to FROM (
			SELECT unnest($1::bigint[]) AS id
			UNION SELECT id FROM part WHERE reorder_level IS NOT NULL
			UNION SELECT coalesce(moved.merged_into, moved.id) FROM shelf JOIN part AS moved ON moved.id = shelf.part_id
			      WHERE EXISTS (SELECT FROM movement WHERE movement.part_id = moved.id)
		) AS wanted JOIN part USING (id)
		WHERE merged_into IS NULL ORDER BY name, id`, also)
	if err != nil {
		return nil, fmt.Errorf("read the parts that may be kept: %w", err)
	}
	return parts, nil
}

// looksOf is how many working days lie between the shop's orders, in the middle, by those of the last year: once a week
// where it has hardly ordered yet.
func looksOf(ctx context.Context, db inventory.DB, now time.Time) (int, error) {
	placed, err := inventory.Collect(ctx, db, pgx.RowTo[time.Time], `
		SELECT DISTINCT date_trunc('day', placed_at) FROM purchase_order WHERE placed_at > $1 ORDER BY 1`, now.AddDate(-1, 0, 0))
	if err != nil {
		return 0, fmt.Errorf("read when orders were placed: %w", err)
	}
	const once, fewest, most = 5, 10, 10
	if len(placed) < fewest {
		return once, nil
	}
	var gaps []int
	for i := 1; i < len(placed); i++ {
		gaps = append(gaps, reorder.WorkingDay(placed[i])-reorder.WorkingDay(placed[i-1]))
	}
	slices.Sort(gaps)
	return min(most, max(1, gaps[len(gaps)/2])), nil
}
