package desk

import (
	"context"
	"fmt"

	"stead/cmd/stead/internal/ical"
	"stead/inventory"
	"stead/pricing"
)

// LoadPromised is the calendar of promised days. It goes to telephones and to other people's servers, so it names bikes and
// jobs, and no customer. public is the address of the pages, to which its days lead; empty: nowhere.
func LoadPromised(ctx context.Context, db inventory.DB, public string) (ical.Calendar, error) {
	shop, err := inventory.LoadShop(ctx, db)
	if err != nil {
		return ical.Calendar{}, err
	}
	mark, err := inventory.Mark(ctx, db)
	if err != nil {
		return ical.Calendar{}, err
	}
	all, err := pricing.Promises(ctx, db)
	if err != nil {
		return ical.Calendar{}, err
	}
	c := ical.Calendar{Name: shop.Name + ": promised days"}
	for _, p := range all {
		e := ical.Event{UID: fmt.Sprintf("job-%d@%s", p.JobID, mark), Stamp: p.At, Day: p.Day, Summary: fmt.Sprintf("%d: %s", p.JobID, p.Bike)}
		if public != "" {
			e.URL = fmt.Sprintf("%s/jobs/%d", public, p.JobID)
		}
		c.Events = append(c.Events, e)
	}
	return c, nil
}
