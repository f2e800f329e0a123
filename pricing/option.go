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
	var front []offered
	most := s.Job.Limits.MostToSpend
	for i, o := range answer.Front {
		option, err := s.option(p, o)
		if err != nil {
			return nil, err
		}
		if !most.Valid || option.Total.LessThanOrEqual(most.Decimal) {
			front = append(front, offered{option, s.goesHome(option), o.Deviation, i == answer.Picks.Balanced})
		}
	}
	if len(front) == 0 {
		return []Option{}, nil
	}
	for _, pick := range []struct {
		name string
		by   []func(a, b offered) int
	}{
		{"soonest", []func(a, b offered) int{sooner, cheaper, closer}},
		{"cheapest", []func(a, b offered) int{cheaper, sooner, closer}},
		{"closest", []func(a, b offered) int{closer, cheaper, sooner}},
		{"shelf", []func(a, b offered) int{fuller, cheaper, sooner, closer}},
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
		// What uses up most of what is too many is named for that only where none of the others does as much.
		asFull := func(o offered) bool { return len(o.Names) > 0 && fuller(o, front[best]) == 0 }
		if pick.name != "shelf" || front[best].usesUp() > 0 && !slices.ContainsFunc(front, asFull) {
			front[best].Names = append(front[best].Names, pick.name)
		}
	}
	if i := middle(front); i >= 0 {
		front[i].Names = append(front[i].Names, "balanced")
	}
	var named []Option
	for _, o := range front {
		if len(o.Names) > 0 {
			named = append(named, o.Option)
		}
	}
	slices.SortStableFunc(named, func(a, b Option) int { return cmp.Compare(a.ReadyOn, b.ReadyOn) })
	return named, nil
}

// offered is a choice of the front as the customer weighs it.
type offered struct {
	Option
	home     calendar.Day // when the bike can go home
	away     int64        // how far it is from what was there
	balanced bool         // the solver's
}

func sooner(a, b offered) int  { return cmp.Compare(a.home, b.home) }
func cheaper(a, b offered) int { return a.Total.Cmp(b.Total) }
func closer(a, b offered) int  { return cmp.Compare(a.away, b.away) }
func fuller(a, b offered) int  { return b.usesUp() - a.usesUp() } // of what the shelf has too many of

// goesHome is the day that an option is worth having by: of an amendment none before what was agreed is ready.
func (s Situation) goesHome(o Option) calendar.Day {
	if s.Amends != nil {
		return max(o.ReadyOn, s.Amends.ReadyOn)
	}
	return o.ReadyOn
}

// middle is the choice that is called balanced, -1 for none: the solver's, unless by what the customer pays another is no
// dearer, no later and no further from what was there, and better in one of these.
func middle(front []offered) int {
	at := slices.IndexFunc(front, func(o offered) bool { return o.balanced })
	for at >= 0 {
		better := slices.IndexFunc(front, func(o offered) bool {
			price, day, away := cheaper(o, front[at]), sooner(o, front[at]), closer(o, front[at])
			return max(price, day, away) <= 0 && min(price, day, away) < 0
		})
		if better < 0 {
			break
		}
		at = better
	}
	return at
}

// option prices and dates one of the solver's choices.
func (s Situation) option(p posed, o solver.Option) (Option, error) {
	out := Option{Landed: money.FromFine(o.Cost), Cautions: o.Verdict.Cautions, Deviations: []Deviation{}}
	different := map[substitution.Place]bool{}
	for _, d := range o.Deviations {
		different[d.At] = true
		out.Deviations = append(out.Deviations, Deviation{Difference: differenceOf(d.Finding), Kind: DeviationKind(d.Rule.Severity.String()), Was: d.Wanted, Words: d.Words})
	}
	for _, f := range o.Verdict.Findings {
		if f.Before && f.Rule.Severity.Stops() {
			out.Checks = append(out.Checks, f.Words)
		}
	}
	for _, f := range o.Verdict.Waived() {
		out.Vouched = append(out.Vouched, s.Job.Limits.vouchedFor(f)...)
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
	out.Delays = s.Deliveries.DelaysOf(offers)
	if len(offers) == 0 {
		out.Promise = "all on the shelf"
	}
	for _, c := range o.Chosen {
		if c.Brought {
			for _, b := range s.bringers(c, o.Verdict) {
				line := s.partLine(p, c, solver.Lot{Offer: c.Offer, Pieces: b.pieces}, bought[[2]int{c.Part, c.Offer}])
				line.With = b.with
				out.Parts = append(out.Parts, line)
			}
			continue
		}
		for _, lot := range c.Lots() {
			line := s.partLine(p, c, lot, bought[[2]int{c.Part, lot.Offer}])
			line.Substitute = different[line.Place]
			out.Parts = append(out.Parts, line)
		}
	}
	s.withSetUps(&out)
	out.Carriage = s.carriage(p, o)
	s.checkMinimums(p, o, &out)
	s.total(&out)
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
		line.Shelf, line.UseUp = true, s.UseUp[partID]
	} else {
		offer := p.offers[c.Part][lot.Offer]
		supplier := s.Deliveries.Supplier(offer.SupplierID)
		line.OfferID, line.Supplier, line.From = offer.ID, supplier.Code, supplier.Name
		cost, of = offer.Cost(b.Packs), b.Packs*offer.Pack
	}
	tax := s.Taxes.OnFitted(part.Family)
	line.Tax, line.Amount = tax.unless(s.Taxes.Tax), s.priced(tax, part, lot.Pieces, cost, of)
	return line
}

// priced is what pieces of a part come to for the customer at a rate of tax, of which so many cost the shop so much.
func (s Situation) priced(tax Tax, part inventory.Part, pieces int, cost decimal.Decimal, of int) decimal.Decimal {
	if part.Retail.Valid {
		return money.Round(part.Retail.Decimal.Mul(decimal.NewFromInt(int64(pieces))))
	}
	return tax.share(cost.Mul(decimal.NewFromInt(1).Add(s.Shop.MarkUp)), pieces, of)
}

// total sums an option up: the lines as printed, labour and discounts included. Of an amendment it is what the whole
// job comes to with it.
func (s Situation) total(o *Option) {
	q := Quote{Tax: s.Taxes.Tax, Labour: s.Labour}
	var gone, stays []AgreedLine
	if s.Amends != nil {
		gone, stays = s.Amends.gone, s.Amends.stays()
	}
	o.Discounts = discountsOn(s.Terms.Discounts, q.lines(*o), gone, stays)
	for i, d := range o.Discounts {
		o.Discounts[i].Tax = d.Tax.unless(q.Tax)
	}
	all := slices.Concat(stays, q.lines(*o))
	o.Total, o.TaxInTotal = sumOf(all), taxIn(all)
	if most := s.Job.Limits.MostToSpend; most.Valid && o.Total.GreaterThan(most.Decimal) {
		o.Limit = most
	}
	if rates := ByRate(all); len(rates) > 1 {
		o.Rates = rates
	}
	if s.Amends != nil {
		o.Adds = decimal.NewNullDecimal(o.Total.Sub(s.Amends.Total))
	}
}
