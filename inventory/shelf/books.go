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
)

// shelfBooks are what is weighed: what was asked for, what may be kept, and how it is bought.
type shelfBooks struct {
	shop       inventory.Shop
	said       map[int64]Said
	demand     Demand
	deliveries *inventory.Deliveries
	tastes     tastes
	limits     Limits
	ids        []int64 // of the parts that may be kept
}

// atOnce is of how many parts all that is in the books is held at a time. What is told and weighed of each is far less.
const atOnce = 2000

// shelfParts are some of the parts that may be kept.
type shelfParts struct {
	parts  map[int64]inventory.Part
	offers map[int64][]inventory.Offer
	stock  map[int64]inventory.Stock
}

func loadShelfParts(ctx context.Context, db inventory.DB, ids []int64) (p shelfParts, err error) {
	if p.parts, err = inventory.Parts(ctx, db, ids); err != nil {
		return p, err
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
	b.ids, err = keepable(ctx, db, slices.Concat(slices.Collect(maps.Keys(b.said)), slices.Collect(maps.Keys(b.demand.Sold))))
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
			if day, err := d.Awaited(o.SupplierID, o.PlacedAt, l.Stock, words[l.ID]); err == nil {
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
func keepable(ctx context.Context, db inventory.DB, also []int64) ([]int64, error) {
	ids, err := inventory.Collect(ctx, db, pgx.RowTo[int64], `
		SELECT id FROM part
		WHERE merged_into IS NULL AND (reorder_level IS NOT NULL OR id = ANY($1)
			OR EXISTS (SELECT FROM movement JOIN part AS moved ON moved.id = movement.part_id WHERE coalesce(moved.merged_into, moved.id) = part.id))
		ORDER BY name, id`, also)
	if err != nil {
		return nil, fmt.Errorf("read the parts that may be kept: %w", err)
	}
	return ids, nil
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
