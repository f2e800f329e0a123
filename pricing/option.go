package pricing

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/leadtime"
	"stead/substitution"
	"stead/substitution/solver"
)

// options are the front's named picks as the customer sees them: few, and each the best at something. Where one choice
// is the best at several things it carries all their names. Soonest, closest and balanced are the solver's; cheapest is
// the least total, since the customer does not pay what the workshop pays. What is above the most to spend is left out.
func (s Situation) options(answer solver.Answer) ([]Option, error) {
	front := make([]Option, len(answer.Front))
	cheapest := 0
	for i, o := range answer.Front {
		var err error
		if front[i], err = s.option(o); err != nil {
			return nil, err
		}
		if front[i].Total.LessThan(front[cheapest].Total) {
			cheapest = i
		}
	}
	if len(front) == 0 {
		return nil, nil
	}
	for _, pick := range []struct {
		name string
		i    int
	}{{"soonest", answer.Picks.Soonest}, {"cheapest", cheapest}, {"closest", answer.Picks.Closest}, {"balanced", answer.Picks.Balanced}} {
		front[pick.i].Names = append(front[pick.i].Names, pick.name)
	}
	most := s.Job.Limits.MostToSpend
	front = slices.DeleteFunc(front, func(o Option) bool {
		return len(o.Names) == 0 || most.Valid && o.Total.GreaterThan(most.Decimal)
	})
	slices.SortStableFunc(front, func(a, b Option) int { return int(a.ReadyOn - b.ReadyOn) })
	return front, nil
}

// option prices and dates one of the solver's choices.
func (s Situation) option(o solver.Option) (Option, error) {
	out := Option{Landed: FromPence(o.Cost), Cautions: o.Verdict.Cautions}
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
	shipments := map[string]leadtime.Shipment{}
	for _, p := range o.Purchases {
		bought[p.Offer] = p
		if p.Supplier == "" {
			continue
		}
		offer := s.offer(p.Offer)
		sh := s.Deliveries.Shipment(offer.SupplierID, offer.Stock)
		shipments[sh.Supplier+" "+string(offer.Stock)] = sh
	}
	var parcels []leadtime.Shipment
	for _, key := range slices.Sorted(maps.Keys(shipments)) {
		parcels = append(parcels, shipments[key])
	}
	promise, err := s.Deliveries.Promise(parcels)
	if err != nil {
		return Option{}, fmt.Errorf("job %d: %w", s.Job.ID, err)
	}
	out.ReadyOn, out.Promise = promise.Day, "all here by "+promise.Words(s.Deliveries.Today)
	if len(parcels) == 0 {
		out.Promise = "all on the shelf"
	}
	for _, c := range o.Chosen {
		line, err := s.partLine(c, bought[c.Offer])
		if err != nil {
			return Option{}, err
		}
		line.Substitute = different[line.Place]
		out.Parts = append(out.Parts, line)
	}
	for _, c := range o.Carriage {
		if c.Pence > 0 {
			out.Carriage = append(out.Carriage, CarriageLine{Supplier: c.Supplier, Amount: s.Tax.With(FromPence(c.Pence))})
		}
	}
	out.total(s.Labour, s.Tax)
	return out, nil
}

// partLine is a chosen part at the customer's price.
func (s Situation) partLine(c solver.Chosen, p solver.Purchase) (PartLine, error) {
	partID, err := number(c.Part)
	if err != nil {
		return PartLine{}, err
	}
	part := s.Parts[partID]
	line := PartLine{PartID: partID, Name: part.Name, Pieces: c.Pieces, Brought: c.Brought, HereOn: calendar.Day(p.Day)}
	if !c.Brought {
		line.Place = substitution.Place(c.Need)
	}
	each, _ := s.worth(partID)
	if p.Supplier == "" {
		line.Shelf = true
	} else {
		offer := s.offer(c.Offer)
		line.OfferID, line.Supplier = offer.ID, p.Supplier
		each = offer.Cost(p.Packs * offer.MinimumPacks).Div(decimal.NewFromInt(int64(p.Packs * offer.MinimumPacks * offer.Pack)))
	}
	pieces := decimal.NewFromInt(int64(c.Pieces))
	if part.Retail.Valid {
		line.Amount = round(part.Retail.Decimal.Mul(pieces))
	} else {
		line.Amount = s.Tax.With(each.Mul(pieces).Mul(decimal.NewFromInt(1).Add(s.Shop.MarkUp)))
	}
	return line, nil
}

// offer finds a supplier's offer by the name that the solver knows it by.
func (s Situation) offer(name string) inventory.Offer {
	id, err := number(name)
	if err != nil {
		panic("pricing: " + err.Error())
	}
	for _, offers := range s.Offers {
		for _, o := range offers {
			if o.ID == id {
				return o
			}
		}
	}
	panic("pricing: the solver chose an offer that it was not given: " + name)
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
