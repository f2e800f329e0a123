package pricing

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing/money"
	"stead/substitution"
	"stead/substitution/solver"
)

// options are the front's named picks as the customer sees them: few, and each the best at something, by the total and
// the day that are printed. What the customer pays is not what the workshop pays, so the cheapest need not be the
// solver's; nor need it be the cheapest of all for the customer, since the front is of what the workshop pays. Where one
// choice is the best at several things it carries all their names. What costs more than the customer will spend is left
// out.
func (s Situation) options(answer solver.Answer) ([]Option, error) {
	type offered struct {
		Option
		away     int64
		balanced bool
	}
	var front []offered
	most := s.Job.Limits.MostToSpend
	for i, o := range answer.Front {
		option, err := s.option(o)
		if err != nil {
			return nil, err
		}
		if !most.Valid || option.Total.LessThanOrEqual(most.Decimal) {
			front = append(front, offered{option, o.Deviation, i == answer.Picks.Balanced})
		}
	}
	if len(front) == 0 {
		return []Option{}, nil
	}
	sooner := func(a, b offered) int { return cmp.Compare(a.ReadyOn, b.ReadyOn) }
	cheaper := func(a, b offered) int { return a.Total.Cmp(b.Total) }
	closer := func(a, b offered) int { return cmp.Compare(a.away, b.away) }
	for _, pick := range []struct {
		name string
		by   []func(a, b offered) int
	}{
		{"soonest", []func(a, b offered) int{sooner, cheaper, closer}},
		{"cheapest", []func(a, b offered) int{cheaper, sooner, closer}},
		{"closest", []func(a, b offered) int{closer, cheaper, sooner}},
	} {
		best := 0
		for i := range front {
			for _, compare := range pick.by {
				if c := compare(front[i], front[best]); c != 0 {
					if c < 0 {
						best = i
					}
					break
				}
			}
		}
		front[best].Names = append(front[best].Names, pick.name)
	}
	var named []Option
	for _, o := range front {
		if o.balanced {
			o.Names = append(o.Names, "balanced")
		}
		if len(o.Names) > 0 {
			named = append(named, o.Option)
		}
	}
	slices.SortStableFunc(named, func(a, b Option) int { return cmp.Compare(a.ReadyOn, b.ReadyOn) })
	return named, nil
}

// option prices and dates one of the solver's choices.
func (s Situation) option(o solver.Option) (Option, error) {
	out := Option{Landed: FromPence(o.Cost), Cautions: o.Verdict.Cautions, Deviations: []Deviation{}}
	different := map[substitution.Place]bool{}
	for _, d := range o.Deviations {
		different[d.At] = true
		out.Deviations = append(out.Deviations, Deviation{Difference: differenceOf(d.Finding), Kind: d.Rule.Severity.String(), Was: d.Wanted, Words: d.Words})
	}
	for _, f := range o.Verdict.Findings {
		if f.Before && f.Rule.Severity.Stops() {
			out.Checks = append(out.Checks, f.Words)
		}
	}
	bought := map[string]solver.Purchase{}
	var offers []inventory.Offer
	for _, p := range o.Purchases {
		bought[p.Offer] = p
		if p.Supplier == "" {
			continue
		}
		offer, err := s.offer(p.Part, p.Offer)
		if err != nil {
			return Option{}, err
		}
		offers = append(offers, offer)
	}
	promise, err := s.Deliveries.PromiseAll(offers)
	if err != nil {
		return Option{}, fmt.Errorf("job %d: %w", s.Job.ID, err)
	}
	out.ReadyOn, out.Promise = promise.Day, "all here by "+promise.Words(s.Deliveries.Today)
	if len(offers) == 0 {
		out.Promise = "all on the shelf"
	}
	for _, c := range o.Chosen {
		for _, lot := range c.Lots() {
			line, err := s.partLine(c, lot, bought[lot.Offer])
			if err != nil {
				return Option{}, err
			}
			line.Substitute = different[line.Place]
			out.Parts = append(out.Parts, line)
		}
	}
	out.Carriage = s.carriage(o)
	s.checkMinimums(o, &out)
	out.total(s.Labour, s.Tax)
	return out, nil
}

// checkMinimums says on an option which minimum orders its parts do not reach; what waits for that has no day of its own.
func (s Situation) checkMinimums(o solver.Option, out *Option) {
	var until []string
	for _, c := range o.Carriage {
		most := decimal.Zero
		for _, p := range o.Purchases {
			if p.Supplier == c.Supplier {
				most = most.Add(s.mostOf(p))
			}
		}
		id := s.Deliveries.SupplierNumber(c.Supplier)
		f, short := s.shortOf(id, FromPence(c.Goods), most)
		if !short {
			continue
		}
		out.short = append(out.short, f)
		out.Minimums = append(out.Minimums, f.String())
		if f.waits {
			until = append(until, s.Deliveries.Supplier(id).Name)
		}
	}
	if len(until) > 0 {
		out.Promise += ", once enough is wanted of " + joinAnd(until)
	}
}

// mostOf is what a purchase would come to with as many packs as the shop buys unasked.
func (s Situation) mostOf(p solver.Purchase) decimal.Decimal {
	offer, err := s.offer(p.Part, p.Offer)
	if err != nil {
		return FromPence(p.Pence)
	}
	packs := s.Shop.Overbuy.Mul(decimal.NewFromInt(int64(p.Pieces))).IntPart() / int64(offer.Pack)
	return offer.Cost(max(p.Packs, int(packs)))
}

// partLine is a lot of a chosen part at the customer's price.
func (s Situation) partLine(c solver.Chosen, lot solver.Lot, p solver.Purchase) (PartLine, error) {
	partID, err := number(c.Part)
	if err != nil {
		return PartLine{}, err
	}
	part := s.Parts[partID]
	line := PartLine{PartID: partID, Name: part.Name, Pieces: lot.Pieces, Brought: c.Brought, HereOn: calendar.Day(p.Day)}
	if c.Brought {
		line.For = s.broughtWords(c.Need)
	} else {
		line.Place = substitution.Place(c.Need)
	}
	cost, of, _ := s.worth(partID)
	if p.Supplier == "" {
		line.Shelf = true
	} else {
		offer, err := s.offer(c.Part, lot.Offer)
		if err != nil {
			return PartLine{}, err
		}
		line.OfferID, line.Supplier = offer.ID, p.Supplier
		cost, of = offer.Cost(p.Packs), p.Packs*offer.Pack
	}
	if part.Retail.Valid {
		line.Amount = money.Round(part.Retail.Decimal.Mul(decimal.NewFromInt(int64(lot.Pieces))))
	} else {
		line.Amount = s.Tax.share(cost.Mul(decimal.NewFromInt(1).Add(s.Shop.MarkUp)), lot.Pieces, of)
	}
	return line, nil
}

// offer finds a supplier's offer of a part by the names that the solver knows them by.
func (s Situation) offer(part, name string) (inventory.Offer, error) {
	partID, err := number(part)
	if err != nil {
		return inventory.Offer{}, err
	}
	id, err := number(name)
	if err != nil {
		return inventory.Offer{}, err
	}
	if o, given := offerNumbered(s.Offers[partID], id); given {
		return o, nil
	}
	return inventory.Offer{}, fmt.Errorf("the solver chose %s of %s, which it was not given", name, part)
}

// number reads the number off a solver's name: "offer 345".
func number(name string) (int64, error) {
	_, digits, _ := strings.Cut(name, " ")
	id, err := strconv.ParseInt(digits, 10, 64)
	if err != nil {
		return 0, fmt.Errorf("the solver named %q, which is none of ours", name)
	}
	return id, nil
}
