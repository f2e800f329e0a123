package ordering

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/shelf"
	"stead/pricing/orderplan"
)

// bench is what an order list is made from: what is wanted, what is offered and when it would be here.
type bench struct {
	wanted     map[int64]*Demand
	offers     map[int64][]inventory.Offer
	deliveries *inventory.Deliveries
	open       map[int64]inventory.Order  // by supplier, the order of today that what is ordered now joins
	byHand     map[int64]inventory.ByHand // by part, what a person decided of how it is ordered
	later      []PutOff                   // wanted, and put off
	instead    map[int64][]string         // by part, in place of what it is bought, and why
	rides      map[int64]shelf.Ride       // by part, what may ride along in a parcel that goes anyway
	now        time.Time
	policy     Policy
	overbuy    decimal.Decimal // how many times what is wanted may be bought where a price break makes more cheaper
	fillUp     bool            // buy up to a supplier's minimum order, as far as the shop does so unasked or was asked
}

// loadBench reads all that an order list is made from.
func loadBench(ctx context.Context, db inventory.DB, policy Policy, now time.Time) (bench, error) {
	b := bench{policy: policy, now: now}
	var err error
	if b.wanted, err = Demands(ctx, db, now); err != nil {
		return b, err
	}
	if b.byHand, err = inventory.OrderedByHand(ctx, db, slices.Sorted(maps.Keys(b.wanted))); err != nil {
		return b, err
	}
	if err := b.standIn(ctx, db); err != nil {
		return b, err
	}
	if b.offers, err = inventory.OffersOf(ctx, db, slices.Sorted(maps.Keys(b.wanted))); err != nil {
		return b, err
	}
	if b.deliveries, err = inventory.LoadDeliveries(ctx, db, now); err != nil {
		return b, err
	}
	b.putOff()
	b.withinLevels()
	if err := b.loadRides(ctx, db); err != nil {
		return b, err
	}
	if b.open, err = inventory.JoinableOrders(ctx, db, b.deliveries); err != nil {
		return b, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	b.overbuy = shop.Overbuy
	return b, err
}

// posed is a problem as the planner has it, with what its indices stand for.
type posed struct {
	orderplan.Problem
	demands []*Demand // by line; after those nil, for each open order that the list may join
	offers  []dated   // by offer
	paid    []int64   // by open order: what it costs by itself
}

// problem puts what is wanted as the order planner wants it. What nobody offers, and what can't be here when it was
// promised, goes to the list.
func (b bench) problem(list *List) posed {
	p := posed{Problem: orderplan.Problem{NoSplit: b.policy.NoSplit}}
	suppliers := map[int64]int{}
	for _, id := range b.suppliers() {
		terms, err := b.deliveries.HomeTerms(id)
		if err != nil {
			continue // none of its offers is usable
		}
		if _, joins := b.open[id]; joins {
			terms.MinimumOrder = decimal.Zero
		}
		suppliers[id] = len(p.Suppliers)
		p.Suppliers = append(p.Suppliers, planned(terms))
	}
	for _, id := range slices.Sorted(maps.Keys(b.wanted)) {
		d := b.wanted[id]
		usable := b.usable(id)
		if len(usable) == 0 {
			list.Missing = append(list.Missing, b.notOffered(d))
			continue
		}
		line := orderplan.Line{ID: strconv.FormatInt(id, 10), Need: d.ForJobs, Max: b.most(d, usable)}
		if !b.policy.RefillIfCheaper {
			line.Need += d.ForShelf
		}
		if d.Due != nil {
			due := *d.Due
			if earliest := slices.MinFunc(usable, soonestFirst).here; due < earliest {
				list.Late = append(list.Late, fmt.Sprintf("%s for job %d was promised for %s and cannot be here before %s",
					d.Part.Name, d.Claims[0].JobID, due.Words(b.deliveries.Today), earliest.Words(b.deliveries.Today)))
				due = earliest
			}
			day := int(due - b.deliveries.Today)
			line.DueDay = &day
		}
		for _, o := range usable {
			p.Offers = append(p.Offers, orderplan.Offer{Line: len(p.Lines), Offer: Supply(o.home, suppliers[o.SupplierID], int(o.here-b.deliveries.Today))})
			p.offers = append(p.offers, o)
		}
		p.Lines, p.demands = append(p.Lines, line), append(p.demands, d)
	}
	b.addStanding(&p, suppliers)
	return p
}

// withinLevels wants of what is sold in packs, for the shelf alone, no more whole packs than the upper level allows, if
// these are enough to be above the lower one: the next order comes the sooner.
func (b bench) withinLevels() {
	for id, d := range b.wanted {
		pack := 0
		for _, o := range b.usable(id) {
			if pack == 0 || o.Pack < pack {
				pack = o.Pack
			}
		}
		if level, to := d.Part.ReorderLevel, d.Part.ReorderTo; d.ForJobs == 0 && pack > 1 && level != nil {
			if over := d.ForShelf % pack; *to-over > *level && over < d.ForShelf {
				d.ForShelf -= over
			}
		}
	}
}

// suppliers are those with a usable offer of anything wanted.
func (b bench) suppliers() []int64 {
	sell := map[int64]bool{}
	for id := range b.wanted {
		for _, o := range b.usable(id) {
			sell[o.SupplierID] = true
		}
	}
	return slices.Sorted(maps.Keys(sell))
}

// planned is a supplier as the order planner has it. Below its minimum nothing is ordered, so that no lower level counts.
func planned(s inventory.Supplier) orderplan.Supplier {
	terms := Terms(s)
	if terms.PaidAt > 0 {
		terms.PaidAt = max(terms.PaidAt, terms.MinimumOrder)
	}
	if terms.PaidAt > orderplan.MaxPence {
		terms.PaidAt = 0
	}
	return orderplan.Supplier{ID: s.Code, Supplier: terms}
}

// dated is an offer with the day by which it is here, if ordered now, at the shop's confidence.
type dated struct {
	inventory.Offer
	home inventory.Offer // the same in the shop's currency
	here calendar.Day
}

func soonestFirst(a, b dated) int { return cmp.Compare(a.here, b.here) }

// usable are the offers of a part that can be compared with others and on which a promise can be built.
func (b bench) usable(partID int64) []dated {
	var out []dated
	for _, o := range b.offers[partID] {
		if !b.boughtHere(o) {
			continue
		}
		home, err := b.deliveries.InHomeMoney(o)
		if err != nil {
			continue // the list says that a rate is missing
		}
		if promise, err := b.deliveries.OfferPromise(o); err == nil {
			out = append(out, dated{o, home, promise.Day})
		}
	}
	return out
}

// backOrdered says of what is wanted which suppliers said that they wait for it themselves.
func (b bench) backOrdered() (out []string) {
	for id, offers := range b.offers {
		if b.wanted[id] == nil {
			continue // put off
		}
		for _, o := range offers {
			if said, waits := b.deliveries.BackOrder(o); waits {
				out = append(out, b.wanted[id].Part.Name+": "+said.Words(b.deliveries.Supplier(o.SupplierID).Name, b.deliveries.Today))
			}
		}
	}
	slices.Sort(out)
	return out
}

// withoutRate names the suppliers whose offers are left out for want of an exchange rate.
func (b bench) withoutRate() []string {
	said := map[string]bool{}
	for _, offers := range b.offers {
		for _, o := range offers {
			if _, err := b.deliveries.InHomeMoney(o); err != nil {
				said[err.Error()] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(said))
}

// most is how many pieces may be bought: what is wanted, in whole packs of whatever offer, or up to a price break that
// makes more cheaper. Where nothing else reaches a supplier's minimum order it is as much as the shop buys unasked; all that
// the minimum takes only where that was asked for.
func (b bench) most(d *Demand, usable []dated) int {
	wanted := d.ForJobs + d.ForShelf
	most := wanted
	overbuy := int(b.overbuy.Mul(decimal.NewFromInt(int64(wanted))).IntPart())
	for _, o := range usable {
		most = max(most, o.PacksFor(wanted)*o.Pack)
		for _, br := range o.Breaks {
			if pieces := br.FromPacks * o.Pack; pieces <= overbuy {
				most = max(most, pieces)
			}
		}
		s := b.deliveries.Supplier(o.SupplierID)
		if _, joins := b.open[s.ID]; joins || !b.fillUp || !s.MinimumOrder.IsPositive() {
			continue
		}
		most = max(most, overbuy/o.Pack*o.Pack)
		if packs := s.MinimumOrder.Div(o.Breaks[len(o.Breaks)-1].Price).Ceil().IntPart(); slices.Contains(b.policy.FillUp, s.Code) && packs <= int64(orderplan.MaxUnits/o.Pack) {
			most = max(most, int(packs)*o.Pack)
		}
	}
	return most
}
