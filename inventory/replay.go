package inventory

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"stead/inventory/reorder"
)

// BooksToPlay are the shop's own books as a world to be played, with the levels as they are set: its sales with their
// prices and what its suppliers' lead times are forecast to be. The first half is history, unless so many weeks of it
// are asked for.
func BooksToPlay(ctx context.Context, db DB, s Simulation, now time.Time) (*reorder.World, []reorder.Keep, error) {
	policy, err := LoadShelfPolicy(ctx, db)
	if err != nil {
		return nil, nil, err
	}
	policy.LookEvery = s.LookEvery
	shelf, err := LoadShelf(ctx, db, policy, nil, now)
	if err != nil {
		return nil, nil, err
	}
	start, end := shelf.booked.Start-mod(shelf.booked.Start, 5), shelf.booked.Today // from a Monday
	if s.HistoryWeeks == 0 {
		s.HistoryWeeks = (end - start) / 10
	}
	w := &reorder.World{Start: 5 * s.HistoryWeeks, End: end - start, LookEvery: s.LookEvery, AdviseEvery: 5 * s.AdviseWeeks,
		LineCost: s.LineCost, Holding: s.Holding, Missed: s.Missed, Carriage: s.Carriage, Seed: s.Seed}
	if w.Start < 5 || w.End-w.Start < 5 {
		return nil, nil, fmt.Errorf("the books are %d weeks old: there must be some history and a week or more to be played", (end-start)/5)
	}
	var leads []*reorder.LeadTime
	number := map[*reorder.LeadTime]int{}
	w.Takes = func(r *rand.Rand, supplier int) int { return leads[supplier].Draw(r) }
	var asSet []reorder.Keep
	for i := range shelf.Parts {
		k := &shelf.Parts[i]
		if !k.sourced {
			continue
		}
		item := shelf.weighed.Item(k.item)
		var sales []reorder.Sale
		for _, sale := range shelf.weighed.Sales(k.item) {
			if sale.Share == 0 { // what was lost was neither met nor missed
				sales = append(sales, reorder.Sale{Day: sale.Day - start, Pieces: sale.Pieces})
			}
		}
		if len(sales) == 0 {
			continue
		}
		if _, known := number[item.Lead]; !known {
			number[item.Lead] = len(leads)
			leads = append(leads, item.Lead)
		}
		item.Sales, item.Unseen, item.Supplier = sales, nil, number[item.Lead]
		w.Items = append(w.Items, item)
		set := reorder.Keep{}
		if k.ReorderLevel != nil {
			set = reorder.Keep{At: *k.ReorderLevel, UpTo: *k.ReorderTo}
		}
		asSet = append(asSet, set)
	}
	if len(w.Items) == 0 {
		return nil, nil, errors.New("nothing in the books was used or sold of what anybody offers: there is nothing to play")
	}
	return w, asSet, nil
}

func mod(a, b int) int { return (a%b + b) % b }
