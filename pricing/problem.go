package pricing

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/solver"
)

// The solver knows parts and offers by name only. A shelf is an offer like another, without a supplier.
func partName(id int64) string  { return "part " + strconv.FormatInt(id, 10) }
func shelfName(id int64) string { return "shelf " + strconv.FormatInt(id, 10) }
func offerName(id int64) string { return "offer " + strconv.FormatInt(id, 10) }

// problem puts the situation as the solver wants it. What it minimises is what the workshop pays, carriage included;
// what the customer pays follows from the choice.
func (s Situation) problem() (solver.Problem, error) {
	build := s.Job.Bike.Build.Complete()
	p := solver.Problem{Was: build, Now: build, Weights: s.Weights}
	used := map[int64]bool{}
	for i, n := range s.Needs {
		need := solver.Need{ID: needName(n.Place), Family: n.Family, Places: []substitution.Place{n.Place}, Pieces: n.Quantity}
		for _, id := range s.Candidates[i] {
			if s.isDeclined(n.Place, id) && !s.asked(n.Place) {
				continue
			}
			need.Candidates = append(need.Candidates, partName(id))
			used[id] = true
		}
		p.Needs = append(p.Needs, need)
	}
	for _, b := range s.Brought {
		brought := solver.Brought{Family: b.Bring.Family, Spec: b.Bring.Spec}
		for _, id := range b.Parts {
			brought.Candidates = append(brought.Candidates, partName(id))
			used[id] = true
		}
		// What nobody has is left out, and the solver does without the parts that need it.
		if slices.ContainsFunc(b.Parts, s.obtainable) {
			p.Brought = append(p.Brought, brought)
		}
	}
	suppliers := map[int64]bool{}
	for _, id := range slices.Sorted(maps.Keys(used)) {
		part := s.Parts[id]
		sp := solver.Part{ID: partName(id), Part: &part.Part}
		if free := s.Stock[id].Free(); free > 0 {
			if cost, pieces, known := s.worth(id); known {
				sp.Offers = append(sp.Offers, solver.Offer{ID: shelfName(id), Pack: 1, Day: int(s.Deliveries.Today), Most: free,
					Breaks: []solver.Break{{Packs: 1, Pence: Pence(cost.Div(decimal.NewFromInt(int64(pieces))))}}})
			}
		}
		for _, o := range s.Offers[id] {
			promise, err := s.Deliveries.OfferPromise(o)
			if err != nil {
				return p, fmt.Errorf("offer %s of %s: %w", o.Code, part.Name, err)
			}
			sp.Offers = append(sp.Offers, solver.Offer{ID: offerName(o.ID), Supplier: s.Deliveries.Supplier(o.SupplierID).Code,
				Pack: o.Pack, Day: int(promise.Day), Breaks: breaks(o)})
			suppliers[o.SupplierID] = true
		}
		p.Parts = append(p.Parts, sp)
	}
	for _, id := range slices.Sorted(maps.Keys(suppliers)) {
		sup, err := s.Deliveries.HomeTerms(id)
		if err != nil {
			return p, err
		}
		// What others want there counts towards a minimum order: it is ordered together.
		terms := solver.Supplier{ID: sup.Code, Carriage: Pence(sup.Carriage), MinimumOrder: max(0, Pence(sup.MinimumOrder.Sub(s.Alongside[id])))}
		if sup.CarriagePaidAt.Valid {
			terms.CarriagePaidAt = Pence(sup.CarriagePaidAt.Decimal)
		}
		p.Suppliers = append(p.Suppliers, terms)
	}
	if only := s.Job.Limits.OnlySupplier; only != "" && only != Shelf && !sells(p, only) {
		p.Suppliers = append(p.Suppliers, solver.Supplier{ID: only}) // it offers nothing that would do
	}
	p.Wishes = s.wishes(p)
	return p, nil
}

// isDeclined reports whether a part at a place brings by itself a difference that was declined.
func (s Situation) isDeclined(place substitution.Place, partID int64) bool {
	if len(s.Job.Limits.Declined) == 0 {
		return false
	}
	part := s.Parts[partID].Part
	return slices.ContainsFunc(s.scene().Choose(place, &part).Check(place).Deviations(), s.Job.Limits.declined)
}

// obtainable reports whether a part is offered, or on the shelf and its price known.
func (s Situation) obtainable(partID int64) bool {
	if len(s.Offers[partID]) > 0 {
		return true
	}
	_, _, priced := s.worth(partID)
	return priced && s.Stock[partID].Free() > 0
}

// obtainableAs is obtainable by the solver's name of a part.
func (s Situation) obtainableAs(name string) bool {
	id, err := number(name)
	return err == nil && s.obtainable(id)
}

// breaks are an offer's price breaks; the first is from the least that is sold.
func breaks(o inventory.Offer) []solver.Break {
	var out []solver.Break
	for _, b := range o.Breaks {
		from := max(b.FromPacks, o.MinimumPacks)
		each := Pence(o.PriceAt(from))
		if n := len(out); n > 0 && out[n-1].Packs == from {
			out[n-1].Pence = each
			continue
		}
		out = append(out, solver.Break{Packs: from, Pence: each})
	}
	return out
}

// worth is what so many pieces would cost to buy again: the lowest price a piece among the offers, else the retail price
// without tax and mark-up. Money that lies on the shelf is money; known is false where neither is recorded.
func (s Situation) worth(partID int64) (cost decimal.Decimal, pieces int, known bool) {
	for _, o := range s.Offers[partID] {
		c, n := o.Cost(o.MinimumPacks), o.MinimumPacks*o.Pack
		if !known || c.Mul(decimal.NewFromInt(int64(pieces))).LessThan(cost.Mul(decimal.NewFromInt(int64(n)))) {
			cost, pieces, known = c, n, true
		}
	}
	if retail := s.Parts[partID].Retail; !known && retail.Valid {
		net := retail.Decimal.Mul(hundred).Div(hundred.Add(s.Tax.Percent))
		return net.Div(decimal.NewFromInt(1).Add(s.Shop.MarkUp)), 1, true
	}
	return cost, pieces, known
}

func needName(p substitution.Place) string { return string(p) }
