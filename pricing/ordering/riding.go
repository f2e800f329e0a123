package ordering

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"stead/inventory"
	"stead/inventory/shelf"
	"stead/pricing/money"
	"stead/pricing/orderplan"
	"stead/substitution/supply"
)

// later is the supplier of whom what might ride along is bought another time.
const later = "another time"

// withRiders adds what rides along to what is wanted: parts near their reorder levels, where a parcel goes anyway. The
// planner decides it exactly, and proves it: each may be bought now, or another time at what it costs then, which is
// its goods and what an order of its own adds. So nothing is bought to reach free carriage that costs more than is
// saved. A parcel that goes for nothing else is not begun.
func (b bench) withRiders(ctx context.Context) bench {
	if len(b.wanted) == 0 || b.policy.RefillIfCheaper {
		return b
	}
	all := b
	all.wanted = maps.Clone(b.wanted)
	for id, ride := range b.rides {
		if all.wanted[id] == nil && len(b.usable(id)) > 0 {
			all.wanted[id] = &Demand{Part: ride.Part, ForShelf: ride.Pieces, Rides: true}
		}
	}
	if len(all.wanted) == len(b.wanted) {
		return b
	}
	p := all.problem(&List{})
	at := len(p.Suppliers)
	all.orAnotherTime(&p)
	plan, err := orderplan.Solve(ctx, p.Problem)
	if err != nil {
		return b // what only rides along stops no order
	}
	rides := func(o orderplan.Offer) *Demand {
		if d := p.demands[o.Line]; d != nil && d.Rides {
			return d
		}
		return nil
	}
	goes := map[int]bool{} // suppliers from whom a parcel goes anyway
	for _, l := range plan.Lines {
		if o := p.Offers[l.Offer]; o.Supplier != at && rides(o) == nil {
			goes[o.Supplier] = true
		}
	}
	b.wanted = maps.Clone(b.wanted)
	for _, l := range plan.Lines {
		o := p.Offers[l.Offer]
		if d := rides(o); d != nil && goes[o.Supplier] {
			b.wanted[d.Part.ID] = d
		}
	}
	return b
}

// orAnotherTime offers what rides along another time too, as of one more supplier: at its goods by the lowest offer and
// what an order of its own adds.
func (b bench) orAnotherTime(p *posed) {
	at := len(p.Suppliers)
	p.Suppliers = append(p.Suppliers, orderplan.Supplier{ID: later})
	for line, d := range p.demands {
		if d == nil || !d.Rides {
			continue
		}
		goods := int64(math.MaxInt64)
		for _, o := range p.Offers {
			if o.Line == line {
				if cost, sold := o.Cost(max(o.Breaks[0].Packs, (d.ForShelf+o.Pack-1)/o.Pack)); sold {
					goods = min(goods, cost)
				}
			}
		}
		p.Offers = append(p.Offers, orderplan.Offer{Line: line, Offer: supply.Offer{Supplier: at, Pack: d.ForShelf,
			Breaks: []supply.Break{{Packs: 1, Price: goods + money.InFine(b.rides[d.Part.ID].Worth)}}}})
	}
}

// riding says what rides along in a supplier's parcel, and what that saves.
func (b bench) riding(d Draft) (words []string) {
	for _, l := range d.Lines {
		if l.Rides {
			words = append(words, fmt.Sprintf("%s rides along near its reorder level: that saves about %s later",
				l.Name, money.Amount(b.deliveries.HomeCurrency(), b.rides[l.PartID].Worth)))
		}
	}
	return words
}

// ridesFacts are what may ride along, as an order list rests on it.
func (b bench) ridesFacts(out basis) {
	for _, id := range slices.Sorted(maps.Keys(b.rides)) {
		ride := b.rides[id]
		out[fact{4, "what may ride along of " + ride.Part.Name}] = fmt.Sprintf("%d: %d, worth %s", id, ride.Pieces, ride.Worth)
	}
}

// loadRides reads what may ride along, where anything is ordered at all.
func (b *bench) loadRides(ctx context.Context, db inventory.DB) (err error) {
	if len(b.wanted) == 0 || b.policy.RefillIfCheaper {
		return nil
	}
	b.rides, err = shelf.Riding(ctx, db, b.deliveries, func(ids []int64) (map[int64][]inventory.Offer, error) {
		offers, err := inventory.OffersOf(ctx, db, ids)
		for id, of := range offers {
			if b.offers[id] == nil {
				b.offers[id] = of
			}
		}
		return offers, err
	}, b.now)
	if err != nil {
		return err
	}
	byHand, err := inventory.OrderedByHand(ctx, db, slices.Collect(maps.Keys(b.rides)))
	maps.DeleteFunc(b.rides, func(id int64, _ shelf.Ride) bool { _, decided := byHand[id]; return decided })
	return err
}
