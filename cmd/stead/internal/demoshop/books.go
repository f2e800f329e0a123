package demoshop

import (
	"context"
	"strconv"
	"time"

	"stead/inventory"
)

// booksFrom is how many days ago the demo's books begin: two seasons.
const booksFrom = 728

// shelf puts in what was there when the books began: what is there now, and all that was sold since.
func (l loader) shelf(ctx context.Context, file string) error {
	sold := map[string]int{}
	if err := l.rows("sales.csv", func(field map[string]string) error {
		pieces, err := strconv.Atoi(field["pieces"])
		sold[field["part"]] += pieces
		return err
	}); err != nil {
		return err
	}
	if err := l.clock(ctx, booksFrom); err != nil {
		return err
	}
	if err := l.rows(file, func(field map[string]string) error {
		part, err := l.part(field["part"])
		if err != nil {
			return err
		}
		pieces, err := strconv.Atoi(field["pieces"])
		if err != nil {
			return err
		}
		return inventory.PutIn(ctx, l.tx, l.request, part.ID, field["bin"], pieces+sold[field["part"]], inventory.Opening, "opening stock")
	}); err != nil {
		return err
	}
	return l.clock(ctx, 0)
}

// sales are two seasons over the counter.
func (l loader) sales(ctx context.Context, file string) error {
	if err := l.rows(file, func(field map[string]string) error {
		part, err := l.part(field["part"])
		if err != nil {
			return err
		}
		ago, err := strconv.Atoi(field["days_ago"])
		if err != nil {
			return err
		}
		pieces, err := strconv.Atoi(field["pieces"])
		if err != nil {
			return err
		}
		if err := l.clock(ctx, ago); err != nil {
			return err
		}
		return inventory.Sell(ctx, l.tx, l.request, part.ID, pieces, "")
	}); err != nil {
		return err
	}
	return l.clock(ctx, 0)
}

// clock has what follows happen so many days ago.
func (l loader) clock(ctx context.Context, daysAgo int) error {
	_, err := l.tx.Exec(ctx, `SELECT set_config('stead.clock', $1, true)`, l.now.AddDate(0, 0, -daysAgo).Format(time.RFC3339Nano))
	return err
}
