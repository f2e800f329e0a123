package pricing

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing/money"
	"stead/substitution"
	"stead/substitution/solver"
	"stead/substitution/supply"
)

// options are the front's named picks as the customer sees them: few, and each the best at something, by the total and
// the day that are printed. What the customer pays is not what the workshop pays, so the cheapest need not be the
// solver's; nor need it be the cheapest of all for the customer, since the front is of what the workshop pays. Where one
// choice is the best at several things it carries all their names. What costs more than the customer will spend is left
// out.
func (s Situation) options(p posed, answer solver.Answer) ([]Option, error) {
	type offered struct {
		Option
		away     int64
		balanced bool
	}
	var front []offered
	most := s.Job.Limits.MostToSpend
	for i, o := range answer.Front {
		option, err := s.option(p, o)
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
func (s Situation) option(p posed, o solver.Option) (Option, error) {
	out := Option{Landed: money.FromFine(o.Cost), Cautions: o.Verdict.Cautions, Deviations: []Deviation{}}
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
	bought := map[[2]int]solver.Purchase{}
	var offers []inventory.Offer
	for _, b := range o.Purchases {
		bought[[2]int{b.Part, b.Offer}] = b
		if b.Supplier != supply.Shelf {
			offers = append(offers, p.offers[b.Part][b.Offer])
		}
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
			line := s.partLine(p, c, lot, bought[[2]int{c.Part, lot.Offer}])
			line.Substitute = different[line.Place]
			out.Parts = append(out.Parts, line)
		}
	}
	out.Carriage = s.carriage(p, o)
	s.checkMinimums(p, o, &out)
	out.total(s.Labour, s.Tax)
	return out, nil
}

// checkMinimums says on an option which minimum orders its parts do not reach; what waits for that has no day of its own.
func (s Situation) checkMinimums(p posed, o solver.Option, out *Option) {
	var until []string
	for _, c := range o.Carriage {
		most := decimal.Zero
		for _, b := range o.Purchases {
			if b.Supplier == c.Supplier {
				most = most.Add(s.mostOf(p.offers[b.Part][b.Offer], b))
			}
		}
		id := p.suppliers[c.Supplier]
		f, short := s.shortOf(id, money.FromFine(c.Goods), most)
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
func (s Situation) mostOf(offer inventory.Offer, b solver.Purchase) decimal.Decimal {
	packs := s.Shop.Overbuy.Mul(decimal.NewFromInt(int64(b.Pieces))).IntPart() / int64(offer.Pack)
	return offer.Cost(max(b.Packs, int(packs)))
}

// partLine is a lot of a chosen part at the customer's price.
func (s Situation) partLine(p posed, c solver.Chosen, lot solver.Lot, b solver.Purchase) PartLine {
	partID := p.parts[c.Part]
	part := s.Parts[partID]
	line := PartLine{PartID: partID, Name: part.Name, Pieces: lot.Pieces, Brought: c.Brought, HereOn: calendar.Day(b.Day)}
	if c.Brought {
		line.For = s.broughtWords(c.Need)
	} else {
		line.Place = substitution.Place(c.Need)
	}
	cost, of, _ := s.worth(partID)
	if b.Supplier == supply.Shelf {
		line.Shelf = true
	} else {
		offer := p.offers[c.Part][lot.Offer]
		line.OfferID, line.Supplier = offer.ID, s.Deliveries.Supplier(offer.SupplierID).Code
		cost, of = offer.Cost(b.Packs), b.Packs*offer.Pack
	}
	if part.Retail.Valid {
		line.Amount = money.Round(part.Retail.Decimal.Mul(decimal.NewFromInt(int64(lot.Pieces))))
	} else {
		line.Amount = s.Tax.share(cost.Mul(decimal.NewFromInt(1).Add(s.Shop.MarkUp)), lot.Pieces, of)
	}
	return line
}
