package ordering

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing/money"
	"stead/pricing/orderplan"
)

// List is what to order now, from whom and why, at the least landed cost that meets the dates.
type List struct {
	Orders     []Draft         `json:"orders"`
	Total      decimal.Decimal `json:"total"`      // goods and carriage, before tax
	EachAlone  decimal.Decimal `json:"each_alone"` // the same with each line bought where it alone is cheapest: the price of not planning
	LowerBound decimal.Decimal `json:"lower_bound"`
	Proven     bool            `json:"proven"` // no list that meets the dates costs less
	Late       []string        `json:"late,omitempty"`
	Missing    []string        `json:"missing,omitempty"` // what nobody offers, or not in money that can be compared
	// BackOrdered are the suppliers that are not asked again, or for a later day, because of what they last said.
	BackOrdered []string  `json:"back_ordered,omitempty"`
	Waiting     []Waiting `json:"waiting,omitempty"` // what is not ordered yet, because its supplier's minimum order is not reached

	// Left is how many parts for the shelf are left for another list, because all are more than one can plan.
	Left int `json:"left,omitempty"`

	PutOff []PutOff `json:"put_off,omitempty"` // what is not ordered yet, because somebody said so

	// AsPlanned names what the list rests on: another list with the same name rests on the same.
	AsPlanned string `json:"as_planned"`

	policy  Policy
	basis   basis
	problem posed
	plan    orderplan.Plan
}

// Draft is one supplier's list.
type Draft struct {
	SupplierID int64           `json:"-"`
	Supplier   string          `json:"supplier"`
	Name       string          `json:"name"`
	Currency   string          `json:"currency"` // of the amounts of this order; the list's total is in the shop's
	Lines      []Line          `json:"lines"`
	Goods      decimal.Decimal `json:"goods"`
	Carriage   decimal.Decimal `json:"carriage"`        // of a list that joins an order what it adds to its carriage: below zero where that falls away
	Joins      int64           `json:"joins,omitempty"` // the number of the supplier's order of today that the list joins
	HereOn     calendar.Day    `json:"here_on"`
	Promise    string          `json:"promise"`
	Reasons    []string        `json:"reasons,omitempty"`
}

// Line is a line of a supplier's list.
type Line struct {
	Offer      inventory.Offer `json:"-"`
	Code       string          `json:"code"`
	PartID     int64           `json:"part_id"`
	Name       string          `json:"name"`
	Packs      int             `json:"packs"`
	Pack       int             `json:"pack"`
	Price      decimal.Decimal `json:"price"` // a pack
	Amount     decimal.Decimal `json:"amount"`
	HereOn     calendar.Day    `json:"here_on"`
	ForJobs    []int64         `json:"for_jobs,omitempty"`
	ForShelf   int             `json:"for_shelf"` // pieces beyond what jobs need
	Beyond     int             `json:"beyond"`    // of those, pieces that the shelf does not lack either
	Claims     []int64         `json:"-"`
	Rides      bool            `json:"rides_along,omitempty"` // the shelf does not lack it yet: it rides along in a parcel that goes anyway
	Substitute bool            `json:"substitute,omitempty"`  // measure on arrival

	home int64 // its amount in the planner's unit, which is the same whoever sells it
}

// Waiting is a part that is wanted and not ordered, because nobody sells it but a supplier whose minimum order this
// list does not reach, not even with as much more as the shop buys unasked.
type Waiting struct {
	PartID   int64   `json:"part_id"`
	Name     string  `json:"name"`
	Jobs     []int64 `json:"jobs,omitempty"`
	Supplier string  `json:"supplier"`
	Words    string  `json:"words"`
	FillUp   string  `json:"fill_up,omitempty"` // what buying up to the minimum would mean, where that can be done
}

// Policy says how orders are planned. The zero Policy orders what the shelf lacks, and buys one part from two
// suppliers where that is cheaper.
type Policy struct {
	RefillIfCheaper bool     // stock below its reorder level is ordered only where that makes the whole cheaper
	NoSplit         bool     // all that is wanted of a part comes from one supplier
	FillUp          []string // suppliers whose minimum orders are bought up to, whatever nobody wants that takes
}

// Plan makes the order list for everything that approved jobs still lack and for stock below its reorder level.
func Plan(ctx context.Context, db inventory.DB, policy Policy, now time.Time) (List, error) {
	b, err := loadBench(ctx, db, policy, now)
	if err != nil {
		return List{}, err
	}
	list, err := b.plan(ctx)
	list.policy, list.basis = policy, b.basis()
	list.AsPlanned = list.basis.name()
	return list, err
}

// Patience is how long planning may take; what is best by then is given, and said not to be proven.
const Patience = 20 * time.Second

func (b bench) plan(ctx context.Context) (List, error) {
	list := List{Orders: []Draft{}}
	asked := ctx
	ctx, cancel := context.WithTimeout(ctx, Patience)
	defer cancel()
	b = b.withRiders(ctx)
	problem, plan, err := b.solve(ctx, &list)
	if err != nil {
		return list, b.explain(problem, err)
	}
	alone, _, err := orderplan.CheapestEach(asked, problem.Problem)
	if err != nil {
		return list, b.explain(problem, err)
	}
	list.Missing = append(list.Missing, b.withoutRate()...)
	list.BackOrdered, list.PutOff = b.backOrdered(), b.later
	list.problem, list.plan = problem, plan
	list.Proven, list.LowerBound, list.EachAlone = plan.Proven, money.FromFine(plan.LowerBound-problem.already()), money.FromFine(alone.Total-problem.already())
	if err := b.write(&list, problem, plan); err != nil {
		return list, err
	}
	return list, b.askToFillUp(ctx, &list)
}

// solve finds the cheapest orders. Where no orders keep every rule, more than is wanted is bought as far as the shop does so
// unasked, and then what still stands in the way is set aside.
func (b bench) solve(ctx context.Context, list *List) (posed, orderplan.Plan, error) {
	problem := b.problem(list)
	plan, err := b.solveWithRoom(ctx, &problem, list)
	if errors.As(err, new(*orderplan.InfeasibleError)) {
		b.fillUp = true
		list.Late, list.Missing, list.Left = nil, nil, 0
		problem = b.problem(list)
		plan, err = b.solveWithRoom(ctx, &problem, list)
	}
	if errors.As(err, new(*orderplan.InfeasibleError)) {
		plan, err = b.setAside(ctx, &problem, list)
	}
	return problem, plan, err
}

// explain puts the part's name where the planner knows only its number, and time and money as people count them.
func (b bench) explain(p posed, err error) error {
	if late := new(orderplan.UnfinishedError); errors.As(err, &late) && errors.Is(late.Cause, context.DeadlineExceeded) {
		return fmt.Errorf("planning the orders: no list was found in %.0f seconds: order what jobs wait for by hand and plan the rest", Patience.Seconds())
	}
	if wrong := new(orderplan.InputError); errors.As(err, &wrong) && wrong.Line != "" {
		return fmt.Errorf("planning the orders: %s: %w", p.named(p.line(wrong.Line)), err)
	}
	return fmt.Errorf("planning the orders: %w", err)
}

// write turns the plan into the suppliers' lists.
func (b bench) write(list *List, problem posed, plan orderplan.Plan) error {
	drafts := map[string]*Draft{}
	given := given{claims: map[int64]int{}, shelf: map[int64]int{}}
	for _, p := range plan.Lines {
		offer := problem.offers[p.Offer]
		if offer.ID == 0 {
			continue // an open order
		}
		draft := drafts[p.Supplier]
		if draft == nil {
			s := b.deliveries.Supplier(offer.SupplierID)
			draft = &Draft{SupplierID: s.ID, Supplier: s.Code, Name: s.Name, Currency: s.Currency}
			drafts[p.Supplier] = draft
		}
		line := b.line(offer, p.Units, given)
		line.home = p.Cost
		draft.Lines = append(draft.Lines, line)
		draft.Goods = draft.Goods.Add(line.Amount)
		draft.HereOn = max(draft.HereOn, line.HereOn)
	}
	for _, code := range slices.Sorted(maps.Keys(drafts)) {
		draft := drafts[code]
		b.finish(draft)
		home, err := b.deliveries.Home(draft.SupplierID, draft.Goods.Add(draft.Carriage))
		if err != nil {
			return err
		}
		list.Total = list.Total.Add(money.Round(home))
		list.Orders = append(list.Orders, *draft)
	}
	return nil
}

// given is what lines bring already: pieces of each claim, and of each part for the shelf.
type given struct {
	claims, shelf map[int64]int
}

// line is a purchase with whom it is for: the jobs in the order in which they are due, then the shelf. Two lines may
// share what a job wants.
func (b bench) line(o dated, units int, given given) Line {
	d := b.wanted[o.PartID]
	packs := units / o.Pack
	line := Line{Offer: o.Offer, Code: o.Code, PartID: o.PartID, Name: d.Part.Name, Packs: packs, Pack: o.Pack,
		Price: o.PriceAt(packs), Amount: money.Round(o.Cost(packs)), HereOn: o.here, ForShelf: units, Rides: d.Rides}
	for _, c := range d.Claims {
		pieces := min(c.Pieces-given.claims[c.ID], line.ForShelf)
		if pieces == 0 {
			continue
		}
		given.claims[c.ID] += pieces
		line.ForShelf -= pieces
		line.Claims = append(line.Claims, c.ID)
		line.Substitute = line.Substitute || c.Substitute
		if !slices.Contains(line.ForJobs, c.JobID) {
			line.ForJobs = append(line.ForJobs, c.JobID)
		}
	}
	lacking := min(d.ForShelf-given.shelf[o.PartID], line.ForShelf)
	given.shelf[o.PartID] += lacking
	line.Beyond = line.ForShelf - lacking
	return line
}

// finish adds what holds for a supplier's whole list: carriage, date, and why it is as it is.
func (b bench) finish(d *Draft) {
	s := b.deliveries.Supplier(d.SupplierID)
	d.Reasons = append(d.Reasons, b.chosen(*d)...)
	d.Reasons = append(d.Reasons, b.riding(*d)...)
	open, joins := b.open[d.SupplierID]
	d.Carriage = s.CarriageOn(d.Goods)
	if joins {
		d.Joins = open.ID
		d.Carriage = s.CarriageOn(open.Goods().Add(d.Goods)).Sub(open.Carriage)
	}
	var all, awaited []inventory.Offer
	for _, l := range d.Lines {
		all = append(all, l.Offer)
		if len(l.Claims) > 0 {
			awaited = append(awaited, l.Offer)
		}
	}
	if promise, err := b.deliveries.PromiseAll(all); err == nil {
		d.HereOn, d.Promise = promise.Day, promise.Words(b.deliveries.Today)
	}
	// What jobs wait for is not told by a slow line for the shelf.
	if jobs, err := b.deliveries.PromiseAll(awaited); err == nil && len(awaited) > 0 && jobs.Day < d.HereOn {
		d.Promise = fmt.Sprintf("%s, what jobs wait for; all of it by %s", jobs.Words(b.deliveries.Today), d.HereOn.Words(b.deliveries.Today))
	}
	switch {
	case joins:
		d.Reasons = append(d.Reasons, d.joins(open, s))
		return
	case d.Carriage.IsZero() && s.Carriage.IsPositive():
		d.Reasons = append(d.Reasons, fmt.Sprintf("goods reach the %s at which carriage is paid", money.Amount(s.Currency, s.CarriagePaidAt.Decimal)))
	case s.CarriagePaidAt.Valid && d.Carriage.IsPositive():
		d.Reasons = append(d.Reasons, fmt.Sprintf("carriage %s; it is free from %s more of goods",
			money.Amount(s.Currency, d.Carriage), money.Amount(s.Currency, s.CarriagePaidAt.Decimal.Sub(d.Goods))))
	}
	if s.MinimumOrder.IsPositive() {
		words := fmt.Sprintf("minimum order %s is met", money.Amount(s.Currency, s.MinimumOrder))
		if more := d.onlyForTheMinimum(s.MinimumOrder); len(more) > 0 {
			words += ", by buying more than is wanted: " + strings.Join(more, ", ")
		}
		d.Reasons = append(d.Reasons, words)
	}
}

// onlyForTheMinimum names the whole packs that nobody wants, where the minimum order is not met without them.
func (d Draft) onlyForTheMinimum(minimum decimal.Decimal) (more []string) {
	without := d.Goods
	for _, l := range d.Lines {
		if packs := l.Beyond / l.Pack; packs > 0 {
			without = without.Sub(l.Price.Mul(decimal.NewFromInt(int64(packs))))
			more = append(more, fmt.Sprintf("%d of %s", packs*l.Pack, l.Name))
		}
	}
	if without.GreaterThanOrEqual(minimum) {
		return nil
	}
	return more
}
