package pricing

import (
	"fmt"
	"maps"
	"slices"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing/money"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/substitution/solver"
	"stead/substitution/supply"
)

// posed is a problem as the solver has it, with what its indices stand for.
type posed struct {
	solver.Problem
	parts     []int64             // the catalogue's number, by part
	offers    [][]inventory.Offer // by part and offer; the zero Offer is the shelf
	suppliers []int64             // by supplier; 0 is one that has nothing here
}

// problem puts the situation as the solver wants it. What it minimises is what the workshop pays, carriage included;
// what the customer pays follows from the choice.
func (s Situation) problem() (posed, error) {
	build := s.Job.Bike.Build.Complete()
	p := posed{Problem: solver.Problem{Was: build, Now: s.withoutTubes(build), Weights: s.Weights, Waived: s.Job.Limits.Waived()}}
	candidates := make([][]int64, len(s.Needs))
	used := map[int64]bool{}
	for i, n := range s.Needs {
		for _, id := range s.Candidates[i] {
			if only, vouched := s.Job.Limits.vouchedPart(n.Place); vouched && only != id {
				continue // what is answered for is answered for of one part
			}
			if !s.isDeclined(n.Place, id) || s.asked(n.Place) {
				candidates[i], used[id] = append(candidates[i], id), true
			}
		}
	}
	for _, b := range s.Brought {
		for _, id := range b.Parts {
			used[id] = true
		}
	}
	p.parts = slices.Sorted(maps.Keys(used))
	if err := s.poseSuppliers(&p); err != nil {
		return p, err
	}
	if err := s.poseParts(&p); err != nil {
		return p, err
	}
	at := map[int64]int{}
	for i, id := range p.parts {
		at[id] = i
	}
	indices := func(ids []int64) (out []int) {
		for _, id := range ids {
			out = append(out, at[id])
		}
		return out
	}
	for i, n := range s.Needs {
		p.Needs = append(p.Needs, solver.Need{ID: needName(n.Place), Family: n.Family, Places: []substitution.Place{n.Place}, Pieces: n.Quantity,
			Candidates: indices(candidates[i]), Brings: s.besideTape(n.Place)})
	}
	for _, b := range s.Brought {
		// What nobody has is left out, and the solver does without the parts that need it.
		if slices.ContainsFunc(b.Parts, s.obtainable) {
			p.Brought = append(p.Brought, solver.Brought{Family: b.Bring.Family, Spec: b.Bring.Spec, Over: b.Bring.Over, Candidates: indices(b.Parts)})
		}
	}
	p.Wishes = s.wishes(p)
	return p, nil
}

// poseSuppliers are those who offer any of the parts, and the one that alone is asked for, if it has nothing that would do.
func (s Situation) poseSuppliers(p *posed) error {
	sell := map[int64]bool{}
	for _, id := range p.parts {
		for _, o := range s.Offers[id] {
			sell[o.SupplierID] = true
		}
	}
	p.suppliers = slices.Sorted(maps.Keys(sell))
	for _, id := range p.suppliers {
		terms, err := s.Deliveries.HomeTerms(id)
		if err != nil {
			return err
		}
		// What others want there counts towards a minimum order: it is ordered together.
		terms.MinimumOrder = decimal.Max(decimal.Zero, terms.MinimumOrder.Sub(s.Alongside[id]))
		p.Suppliers = append(p.Suppliers, ordering.Terms(terms))
	}
	if only := s.Job.Limits.OnlySupplier; only != "" && only != Shelf && s.supplier(*p, only) < 0 {
		p.suppliers, p.Suppliers = append(p.suppliers, 0), append(p.Suppliers, supply.Supplier{})
	}
	return nil
}

// poseParts are the parts with their offers. The shelf is an offer like another, of no supplier.
func (s Situation) poseParts(p *posed) error {
	for _, id := range p.parts {
		part := s.Parts[id]
		sp, known := solver.Part{Part: &part.Part}, []inventory.Offer{}
		if free := s.Stock[id].Free(); free > 0 {
			if cost, pieces, priced := s.worth(id); priced {
				if s.UseUp[id] {
					cost = cost.Mul(s.Reduced)
				}
				sp.Offers = append(sp.Offers, supply.Offer{Supplier: supply.Shelf, Pack: 1, Day: int(s.Deliveries.Today), Most: free,
					Breaks: []supply.Break{{Packs: 1, Price: money.InFine(cost.Div(decimal.NewFromInt(int64(pieces))))}}})
				known = append(known, inventory.Offer{})
			}
		}
		for _, o := range s.Offers[id] {
			promise, err := s.Deliveries.OfferPromise(o)
			if err != nil {
				return fmt.Errorf("offer %s of %s: %w", o.Code, part.Name, err)
			}
			sp.Offers = append(sp.Offers, ordering.Supply(o, slices.Index(p.suppliers, o.SupplierID), int(promise.Day)))
			known = append(known, o)
		}
		p.Parts, p.offers = append(p.Parts, sp), append(p.offers, known)
	}
	return nil
}

// supplier is the index of a supplier by its code: the shelf's for the shelf, below that where it has nothing here.
func (s Situation) supplier(p posed, code string) int {
	if code == Shelf {
		return supply.Shelf
	}
	if i := slices.IndexFunc(p.suppliers, func(id int64) bool { return s.Deliveries.Supplier(id).Code == code }); i >= 0 {
		return i
	}
	return nobody
}

// nobody is no index of a supplier, nor the shelf's.
const nobody = supply.Shelf - 1

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
		net := retail.Decimal.Mul(hundred).Div(hundred.Add(s.Taxes.OnFitted(s.Parts[partID].Family).Percent))
		return net.Div(decimal.NewFromInt(1).Add(s.Shop.MarkUp)), 1, true
	}
	return cost, pieces, known
}

func needName(p substitution.Place) string { return string(p) }
