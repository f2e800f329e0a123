package shelf

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Ride is a part near its reorder level, which may ride along in a parcel that goes anyway.
type Ride struct {
	Part   inventory.Part
	Pieces int             // that bring it up
	Worth  decimal.Decimal // what ordering it now saves, in the shop's money
}

// what an order line costs where nothing is known of a supplier's parcels: its carriage shared by so many lines. The
// project's own guess, worth as much as so many lines seen.
const linesBefore = 3

// Riding are the parts above their reorder levels for which it is worth to ride along, from the suppliers that offer
// them for least. What was said to the week's list holds: nothing rides that is never wanted, put off or taken already.
func Riding(ctx context.Context, db inventory.DB, d *inventory.Deliveries, offers func(ids []int64) (map[int64][]inventory.Offer, error), now time.Time) (map[int64]Ride, error) {
	near, err := nearLevels(ctx, db, now)
	if err != nil || len(near) == 0 {
		return nil, err
	}
	demand, err := LoadDemand(ctx, db, now)
	if err != nil {
		return nil, err
	}
	used := demand.usedInAYear()
	shares, err := carriageOfALine(ctx, db, d, now)
	if err != nil {
		return nil, err
	}
	ids := make([]int64, len(near))
	for i, n := range near {
		ids[i] = n.part.ID
	}
	offered, err := offers(ids)
	if err != nil {
		return nil, err
	}
	sources := sourcing{d: d, leads: map[bought]*reorder.LeadTime{}}
	rides := map[int64]Ride{}
	for _, n := range near {
		source, found := sources.cheapest(offered[n.part.ID])
		if !found {
			continue
		}
		r := n.ride
		r.PerYear, r.Price, r.Saves = used[n.part.ID], source.Price, shares[int64(source.Supplier)]
		if worth := decimal.NewFromFloat(r.Worth()).Round(2); worth.IsPositive() {
			rides[n.part.ID] = Ride{Part: n.part, Pieces: r.UpTo - r.Position, Worth: worth}
		}
	}
	return rides, nil
}

// nearLevel is a part between its levels, and as much of its ride as is known from the shelf.
type nearLevel struct {
	part inventory.Part
	ride reorder.RideAlong
}

// nearLevels are the parts between their levels of which nobody has said that they are not to be ordered now.
func nearLevels(ctx context.Context, db inventory.DB, now time.Time) ([]nearLevel, error) {
	parts, err := inventory.PartsWatched(ctx, db, nil)
	if err != nil {
		return nil, err
	}
	said, err := LoadSaid(ctx, db)
	if err != nil {
		return nil, err
	}
	ids := make([]int64, len(parts))
	for i, p := range parts {
		ids[i] = p.ID
	}
	stock, err := inventory.StockOf(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	zone, err := inventory.LoadZone(ctx, db)
	if err != nil {
		return nil, err
	}
	policy, err := LoadPolicy(ctx, db)
	if err != nil {
		return nil, err
	}
	today := calendar.DayOf(now.In(zone))
	var near []nearLevel
	for _, p := range parts {
		s, word := stock[p.ID], said[p.ID]
		r := reorder.RideAlong{Position: s.Free() + s.OnOrder - s.ForJobs, Level: *p.ReorderLevel, UpTo: *p.ReorderTo, Holding: policy.Holding}
		if r.Position > r.Level && r.Position < r.UpTo && !word.Never() && !word.Snoozed(today) && word.Pending() == 0 && !word.settled(now) {
			near = append(near, nearLevel{p, r})
		}
	}
	return near, nil
}

// carriageOfALine is what each supplier's parcels of the last year cost for each line in them, in the shop's money.
func carriageOfALine(ctx context.Context, db inventory.DB, d *inventory.Deliveries, now time.Time) (map[int64]float64, error) {
	type sent struct {
		Supplier int64
		Carriage decimal.Decimal
		Lines    int
	}
	all, err := inventory.Collect(ctx, db, pgx.RowToStructByPos[sent], `
		SELECT o.supplier_id, sum(o.carriage), sum((SELECT count(*) FROM order_line l WHERE l.order_id = o.id))::int
		FROM purchase_order o WHERE o.state <> 'cancelled' AND o.placed_at <= $1 AND o.placed_at > $1 - interval '365 days'
		GROUP BY o.supplier_id`, now)
	if err != nil {
		return nil, fmt.Errorf("read what parcels cost: %w", err)
	}
	past := map[int64]sent{}
	for _, s := range all {
		past[s.Supplier] = s
	}
	shares := map[int64]float64{}
	for id, s := range d.Suppliers() {
		carriage, err := d.Home(id, past[id].Carriage.Add(s.Carriage))
		if err != nil {
			continue // no rate, and so no usable offer
		}
		shares[id] = carriage.InexactFloat64() / float64(past[id].Lines+linesBefore)
	}
	return shares, nil
}

// rides says from how many pieces on a part that is kept as advised rides along.
func (s *Advice) rides(k *Keeping) {
	item := s.weighed.Item(k.item)
	from := reorder.RideAlong{Level: *k.AdvisedLevel, UpTo: *k.AdvisedTo, PerYear: s.used[k.PartID], Price: item.Price, Holding: s.policy.Holding,
		Saves: s.carriage[int64(item.Supplier)]}.CanOrder()
	switch {
	case from == *k.AdvisedTo-1 && from > *k.AdvisedLevel:
		k.RidesFrom = &from
		k.Words += " Where a parcel goes anyway it is filled up."
	case from > *k.AdvisedLevel:
		k.RidesFrom = &from
		k.Words += fmt.Sprintf(" Where a parcel goes anyway it rides along from %d down.", from)
	}
}
