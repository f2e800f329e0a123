package shelf

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"stead/inventory"
	"stead/inventory/reorder"
)

// Books are the shop's own past as a world to be played.
type Books struct {
	World  *reorder.World
	AsSet  []reorder.Keep // the levels as they are set, of each item of the world
	Doubts []string       // what is strange about the books, and what is left out for it
}

// BooksToPlay are the shop's own books as a world to be played, with the levels as they are set: its sales with their
// prices, what its suppliers' lead times are forecast to be, and all else that the advice reckons with. The first half is
// history, unless so many weeks of it are asked for. The shelf is looked at as the shop does, unless the simulation says
// how often.
func BooksToPlay(ctx context.Context, db inventory.DB, s Simulation, now time.Time) (Books, error) {
	policy, err := LoadPolicy(ctx, db)
	if err != nil {
		return Books{}, err
	}
	if s.LookEvery > 0 {
		policy.LookEvery = s.LookEvery
	}
	shelf, err := Load(ctx, db, policy, nil, now)
	if err != nil {
		return Books{}, err
	}
	out := Books{World: s.overBooks(shelf), Doubts: shelf.Doubts}
	if w := out.World; w.Start-w.Begin < 5 || w.End-w.Start < 5 {
		return out, fmt.Errorf("the books are %d weeks old: there must be some history and a week or more to be played", (w.End-w.Begin)/5)
	}
	out.stock(shelf)
	if err := s.charge(out.World, shelf.deliveries); err != nil {
		return out, err
	}
	if len(out.World.Items) == 0 {
		return out, errors.New("nothing in the books was used or sold of what anybody offers: there is nothing to play")
	}
	return out, nil
}

// overBooks is the world of the books from their first Monday on, without parts yet.
func (s Simulation) overBooks(shelf *Advice) *reorder.World {
	begin, end := shelf.booked.Start-mod(shelf.booked.Start, 5), shelf.booked.Today
	if s.HistoryWeeks == 0 {
		s.HistoryWeeks = (end - begin) / 10
	}
	season, given := shelf.policy.season(shelf.country)
	return &reorder.World{Begin: begin, Start: begin + 5*s.HistoryWeeks, End: end, LookEvery: shelf.LookEvery, AdviseEvery: 5 * s.AdviseWeeks,
		LineCost: s.LineCost, Holding: s.Holding, Missed: s.Missed, Carriage: map[int]reorder.Carriage{}, Seed: s.Seed,
		Takes:  func(r *rand.Rand, item *reorder.Item) int { return item.Lead.Draw(r) },
		Season: &season, Given: given, MostYears: float64(shelf.policy.Months) / 12}
}

// stock puts the parts that sold and that somebody offers into the world.
func (b *Books) stock(shelf *Advice) {
	w := b.World
	picked := map[int]int{}
	for i := range shelf.Parts {
		k := &shelf.Parts[i]
		if !k.sourced {
			continue
		}
		item := shelf.weighed.Item(k.item)
		item.Sales = slices.DeleteFunc(shelf.weighed.Sales(k.item), func(s reorder.Sale) bool { return s.Share > 0 }) // what was lost was neither met nor missed
		if len(item.Sales) == 0 {
			continue
		}
		picked[k.item] = len(w.Items)
		w.Items = append(w.Items, item)
		set := reorder.Keep{}
		if k.ReorderLevel != nil {
			set = reorder.Keep{At: *k.ReorderLevel, UpTo: *k.ReorderTo}
		}
		b.AsSet = append(b.AsSet, set)
	}
	reorder.Renumber(w.Items, picked)
}

// charge tells what the parcels of each supplier in the world cost, in the shop's money.
func (s Simulation) charge(w *reorder.World, d *inventory.Deliveries) error {
	for _, item := range w.Items {
		c := reorder.Carriage{Each: s.Carriage}
		if s.OwnCarriage {
			terms, err := d.HomeTerms(int64(item.Supplier))
			if err != nil {
				return fmt.Errorf("the carriage of %s: %w", d.Supplier(int64(item.Supplier)).Code, err)
			}
			c = reorder.Carriage{Each: terms.Carriage.InexactFloat64(), PaidAt: terms.CarriagePaidAt.Decimal.InexactFloat64()}
		}
		w.Carriage[item.Supplier] = c
	}
	return nil
}

func mod(a, b int) int { return (a%b + b) % b }
