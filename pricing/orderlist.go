package pricing

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/leadtime"
	"stead/pricing/orderplan"
)

// OrderList is what to order now, from whom and why, at the least landed cost that meets the dates.
type OrderList struct {
	Orders     []OrderDraft    `json:"orders"`
	Total      decimal.Decimal `json:"total"`      // goods and carriage, before tax
	EachAlone  decimal.Decimal `json:"each_alone"` // the same bought line by line at its lowest price
	LowerBound decimal.Decimal `json:"lower_bound"`
	Proven     bool            `json:"proven"` // no list that meets the dates costs less
	Late       []string        `json:"late,omitempty"`
	Missing    []string        `json:"missing,omitempty"` // what nobody offers
}

// OrderDraft is one supplier's list.
type OrderDraft struct {
	SupplierID int64           `json:"-"`
	Supplier   string          `json:"supplier"`
	Name       string          `json:"name"`
	Lines      []DraftLine     `json:"lines"`
	Goods      decimal.Decimal `json:"goods"`
	Carriage   decimal.Decimal `json:"carriage"`
	HereOn     calendar.Day    `json:"here_on"`
	Promise    string          `json:"promise"`
	Reasons    []string        `json:"reasons,omitempty"`
}

// DraftLine is a line of a supplier's list.
type DraftLine struct {
	Offer      inventory.Offer `json:"-"`
	Code       string          `json:"code"`
	PartID     int64           `json:"part"`
	Name       string          `json:"name"`
	Packs      int             `json:"packs"`
	Pack       int             `json:"pack"`
	Price      decimal.Decimal `json:"price"` // a pack
	Amount     decimal.Decimal `json:"amount"`
	HereOn     calendar.Day    `json:"here_on"`
	ForJobs    []int64         `json:"for_jobs,omitempty"`
	ForShelf   int             `json:"for_shelf"` // pieces beyond what jobs need
	Claims     []int64         `json:"-"`
	Substitute bool            `json:"substitute,omitempty"` // measure on arrival
}

// demand is what is wanted of one part.
type demand struct {
	part     inventory.Part
	forJobs  int
	forShelf int
	due      *calendar.Day
	claims   []inventory.Claim
}

// ShelfPolicy says what to do about stock below its reorder level.
type ShelfPolicy int

const (
	Refill     ShelfPolicy = iota // order what the shelf lacks
	RefillFree                    // order it only where that makes the whole cheaper
)

// PlanOrders makes the order list for everything that approved jobs still lack and for stock below its reorder level.
func PlanOrders(ctx context.Context, db inventory.DB, policy ShelfPolicy, now time.Time) (OrderList, error) {
	wanted, err := demands(ctx, db)
	if err != nil {
		return OrderList{}, err
	}
	ids := slices.Sorted(maps.Keys(wanted))
	offers, err := inventory.OffersOf(ctx, db, ids)
	if err != nil {
		return OrderList{}, err
	}
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return OrderList{}, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	if err != nil {
		return OrderList{}, err
	}
	b := bench{wanted: wanted, offers: offers, deliveries: deliveries, currency: shop.Currency, policy: policy}
	return b.plan(ctx, ids)
}

// demands sums up the wanted claims and the shortages by part.
func demands(ctx context.Context, db inventory.DB) (map[int64]*demand, error) {
	claims, err := inventory.OpenClaims(ctx, db)
	if err != nil {
		return nil, err
	}
	wanted := map[int64]*demand{}
	for _, c := range claims {
		if c.State != inventory.ClaimWanted {
			continue
		}
		d := wanted[c.PartID]
		if d == nil {
			d = &demand{}
			wanted[c.PartID] = d
		}
		d.forJobs += c.Pieces
		d.claims = append(d.claims, c)
		if due := calendar.DayOf(c.DueOn); d.due == nil || due < *d.due {
			d.due = &due
		}
	}
	short, err := inventory.BelowReorderLevel(ctx, db)
	if err != nil {
		return nil, err
	}
	for _, s := range short {
		d := wanted[s.Part.ID]
		if d == nil {
			d = &demand{}
			wanted[s.Part.ID] = d
		}
		d.forShelf = s.Order
	}
	parts, err := inventory.Parts(ctx, db, slices.Collect(maps.Keys(wanted)))
	if err != nil {
		return nil, err
	}
	for id, d := range wanted {
		d.part = parts[id]
	}
	return wanted, nil
}

// bench is the planner's value: what is wanted, what is offered and when it would be here.
type bench struct {
	wanted     map[int64]*demand
	offers     map[int64][]inventory.Offer
	deliveries *inventory.Deliveries
	currency   string
	policy     ShelfPolicy
}

// fine is how many parts the planner's whole numbers divide a penny into: the price of one ball out of a bag is not a
// whole penny, and a plan must not be decided by its rounding.
const fine = 10000

// overbuy is how many times what is needed may be bought where a price break makes more cheaper.
const overbuy = 2

func (b bench) plan(ctx context.Context, ids []int64) (OrderList, error) {
	var list OrderList
	problem := orderplan.Problem{}
	suppliers := map[int64]bool{}
	for _, id := range ids {
		d := b.wanted[id]
		line := orderplan.Line{ID: strconv.FormatInt(id, 10), Need: d.forJobs}
		if b.policy == Refill {
			line.Need += d.forShelf
		}
		line.Max = d.forJobs + d.forShelf
		earliest := calendar.Day(0)
		var usable []orderplan.Offer
		for _, o := range b.offers[id] {
			if b.deliveries.Supplier(o.SupplierID).Currency != b.currency {
				continue
			}
			here, ok := b.hereOn(o)
			if !ok {
				continue
			}
			if earliest == 0 || here < earliest {
				earliest = here
			}
			offer := b.offer(line.ID, o, here)
			if offer.ArrivalDay != nil {
				suppliers[o.SupplierID] = true
			}
			usable = append(usable, offer)
			packs := max(o.MinimumPacks, (line.Max+o.Pack-1)/o.Pack)
			line.Max = max(line.Max, packs*o.Pack, b.largestBreak(o, overbuy*line.Max))
		}
		if len(usable) == 0 {
			list.Missing = append(list.Missing, fmt.Sprintf("%s: no supplier offers it", d.part.Name))
			continue
		}
		if d.due != nil {
			due := *d.due
			if due < earliest {
				list.Late = append(list.Late, fmt.Sprintf("%s for job %d was promised for %s and cannot be here before %s",
					d.part.Name, d.claims[0].JobID, due.Words(b.deliveries.Today), earliest.Words(b.deliveries.Today)))
				due = earliest
			}
			day := int(due - b.deliveries.Today)
			line.DueDay = &day
		}
		problem.Lines = append(problem.Lines, line)
		problem.Offers = append(problem.Offers, usable...)
	}
	if len(problem.Lines) == 0 {
		list.Proven = true
		return list, nil
	}
	for _, id := range slices.Sorted(maps.Keys(suppliers)) {
		s := b.deliveries.Supplier(id)
		terms := orderplan.Supplier{ID: s.Code, Carriage: inFine(s.Carriage), MinimumOrder: inFine(s.MinimumOrder)}
		if s.CarriagePaidAt.Valid {
			at := inFine(s.CarriagePaidAt.Decimal)
			terms.CarriagePaidAt = &at
		}
		problem.Suppliers = append(problem.Suppliers, terms)
	}
	plan, err := orderplan.Solve(ctx, problem)
	if err != nil {
		return list, b.explain(err)
	}
	return list, b.write(&list, problem, plan)
}

// hereOn is the day by which an offer ordered now is here, at the shop's confidence.
func (b bench) hereOn(o inventory.Offer) (calendar.Day, bool) {
	promise, err := b.deliveries.Promise([]leadtime.Shipment{b.deliveries.Shipment(o.SupplierID, o.Stock)})
	return promise.Day, err == nil
}

func (b bench) offer(line string, o inventory.Offer, here calendar.Day) orderplan.Offer {
	day := int(here - b.deliveries.Today)
	out := orderplan.Offer{Line: line, Supplier: b.deliveries.Supplier(o.SupplierID).Code, Pack: o.Pack, ArrivalDay: &day, Discount: orderplan.AllUnits}
	for _, br := range o.Breaks {
		from := max(br.FromPacks, o.MinimumPacks) * o.Pack
		each := inFine(o.PriceAt(max(br.FromPacks, o.MinimumPacks)).Div(decimal.NewFromInt(int64(o.Pack))))
		if n := len(out.Breaks); n > 0 && out.Breaks[n-1].Min == from {
			out.Breaks[n-1].UnitPrice = each
			continue
		}
		out.Breaks = append(out.Breaks, orderplan.Break{Min: from, UnitPrice: each})
	}
	return out
}

// largestBreak is the largest quantity, up to most pieces, at which one of the offer's price breaks begins.
func (b bench) largestBreak(o inventory.Offer, most int) int {
	largest := 0
	for _, br := range o.Breaks {
		if pieces := br.FromPacks * o.Pack; pieces <= most {
			largest = max(largest, pieces)
		}
	}
	return largest
}

// inFine is an amount in the planner's whole numbers, rounded up.
func inFine(x decimal.Decimal) int64 {
	return x.Mul(hundred).Mul(decimal.NewFromInt(fine)).Ceil().IntPart()
}

func fromFine(x int64) decimal.Decimal {
	return round(decimal.NewFromInt(x).Div(decimal.NewFromInt(100 * fine)))
}

// explain puts the part's name where the planner knows only its number.
func (b bench) explain(err error) error {
	var none *orderplan.InfeasibleError
	if errors.As(err, &none) && none.Line != "" {
		if id, bad := strconv.ParseInt(none.Line, 10, 64); bad == nil && b.wanted[id] != nil {
			return fmt.Errorf("no order list meets the dates because of %s: %w", b.wanted[id].part.Name, err)
		}
	}
	return fmt.Errorf("planning the orders: %w", err)
}

// write turns the plan into the suppliers' lists.
func (b bench) write(list *OrderList, problem orderplan.Problem, plan orderplan.Plan) error {
	list.Proven, list.LowerBound = plan.Proven, fromFine(plan.LowerBound)
	drafts := map[string]*OrderDraft{}
	given := map[int64]int{} // pieces of each part already told whom they are for
	for _, p := range plan.Lines {
		id, err := strconv.ParseInt(p.ID, 10, 64)
		if err != nil {
			return fmt.Errorf("the order plan names line %q, which is none of ours", p.ID)
		}
		offer, err := b.bought(id, p)
		if err != nil {
			return err
		}
		draft := drafts[p.Supplier]
		if draft == nil {
			s := b.deliveries.Supplier(offer.SupplierID)
			draft = &OrderDraft{SupplierID: s.ID, Supplier: s.Code, Name: s.Name}
			drafts[p.Supplier] = draft
		}
		line := b.line(offer, p.Units, given)
		draft.Lines = append(draft.Lines, line)
		draft.Goods = draft.Goods.Add(line.Amount)
		draft.HereOn = max(draft.HereOn, line.HereOn)
	}
	for _, code := range slices.Sorted(maps.Keys(drafts)) {
		draft := drafts[code]
		b.finish(draft)
		list.Total = list.Total.Add(draft.Goods).Add(draft.Carriage)
		list.Orders = append(list.Orders, *draft)
	}
	list.EachAlone = b.eachAlone(problem)
	return nil
}

// bought finds the offer that a purchase of the plan was made from: the supplier's offer of that part that costs as much.
func (b bench) bought(partID int64, p orderplan.Purchase) (inventory.Offer, error) {
	for _, o := range b.offers[partID] {
		if b.deliveries.Supplier(o.SupplierID).Code != p.Supplier {
			continue
		}
		if cost, ok := b.offer(p.ID, o, 0).Cost(p.Units); ok && cost == p.Cost {
			return o, nil
		}
	}
	return inventory.Offer{}, fmt.Errorf("the order plan buys %d of part %d from %s, which has no such offer", p.Units, partID, p.Supplier)
}

func (b bench) line(o inventory.Offer, units int, given map[int64]int) DraftLine {
	d := b.wanted[o.PartID]
	packs := units / o.Pack
	here, _ := b.hereOn(o)
	line := DraftLine{Offer: o, Code: o.Code, PartID: o.PartID, Name: d.part.Name, Packs: packs, Pack: o.Pack,
		Price: o.PriceAt(packs), Amount: round(o.Cost(packs)), HereOn: here}
	left := units
	for len(d.claims) > given[o.PartID] && left >= d.claims[given[o.PartID]].Pieces {
		c := d.claims[given[o.PartID]]
		given[o.PartID]++
		left -= c.Pieces
		line.Claims = append(line.Claims, c.ID)
		line.Substitute = line.Substitute || c.Substitute
		if !slices.Contains(line.ForJobs, c.JobID) {
			line.ForJobs = append(line.ForJobs, c.JobID)
		}
	}
	line.ForShelf = left
	return line
}

// finish adds what holds for a supplier's whole list: carriage, date, and why it is as it is.
func (b bench) finish(d *OrderDraft) {
	s := b.deliveries.Supplier(d.SupplierID)
	d.Carriage = s.CarriageOn(d.Goods)
	shipments := map[inventory.Signal]leadtime.Shipment{}
	for _, l := range d.Lines {
		shipments[l.Offer.Stock] = b.deliveries.Shipment(s.ID, l.Offer.Stock)
	}
	if promise, err := b.deliveries.Promise(slices.Collect(maps.Values(shipments))); err == nil {
		d.HereOn, d.Promise = promise.Day, promise.Words(b.deliveries.Today)
	}
	switch {
	case d.Carriage.IsZero() && s.Carriage.IsPositive():
		d.Reasons = append(d.Reasons, fmt.Sprintf("goods reach the %s at which carriage is paid", Amount(s.Currency, s.CarriagePaidAt.Decimal)))
	case s.CarriagePaidAt.Valid:
		d.Reasons = append(d.Reasons, fmt.Sprintf("carriage %s; it is free from %s more of goods",
			Amount(s.Currency, d.Carriage), Amount(s.Currency, s.CarriagePaidAt.Decimal.Sub(d.Goods))))
	}
	if s.MinimumOrder.IsPositive() {
		d.Reasons = append(d.Reasons, fmt.Sprintf("minimum order %s is met", Amount(s.Currency, s.MinimumOrder)))
	}
}

// eachAlone is what a person pays who buys each line where it is cheapest and pays carriage wherever that leads: the
// price of not planning. It leaves minimum orders out, which only makes it look better than it is.
func (b bench) eachAlone(p orderplan.Problem) decimal.Decimal {
	goods := map[string]int64{}
	for _, line := range p.Lines {
		var bestSupplier string
		bestCost := int64(-1)
		for _, o := range p.Offers {
			if o.Line != line.ID || line.Need == 0 || line.DueDay != nil && *o.ArrivalDay > *line.DueDay {
				continue
			}
			least := max(line.Need, o.Breaks[0].Min)
			units := (least + o.Pack - 1) / o.Pack * o.Pack
			if cost, ok := o.Cost(units); ok && (bestCost < 0 || cost < bestCost) {
				bestSupplier, bestCost = o.Supplier, cost
			}
		}
		if bestCost >= 0 {
			goods[bestSupplier] += bestCost
		}
	}
	total := int64(0)
	for _, s := range p.Suppliers {
		if g, used := goods[s.ID]; used {
			total += g
			if s.CarriagePaidAt == nil || g < *s.CarriagePaidAt {
				total += s.Carriage
			}
		}
	}
	return fromFine(total)
}
