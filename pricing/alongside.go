package pricing

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing/money"
	"stead/pricing/ordering"
	"stead/substitution/solver"
)

// findAlongside works out what else is wanted of the suppliers, and what an order there usually comes to: the parts of a job
// travel with what others have ordered, they reach a minimum order together, and share its carriage.
func (s *Situation) findAlongside(ctx context.Context, db inventory.DB) error {
	s.Alongside, s.Usual = map[int64]decimal.Decimal{}, map[int64]decimal.Decimal{}
	minimum := false
	for _, offers := range s.Offers {
		for _, o := range offers {
			minimum = minimum || s.Deliveries.Supplier(o.SupplierID).MinimumOrder.IsPositive()
		}
	}
	if minimum || s.Shop.CarriageCharge == inventory.CarriageShared {
		if err := s.addWanted(ctx, db); err != nil {
			return err
		}
	}
	if s.Shop.CarriageCharge != inventory.CarriageShared {
		return nil
	}
	usual, err := inventory.UsualGoods(ctx, db)
	if err != nil {
		return err
	}
	for id, goods := range usual {
		if home, err := s.Deliveries.Home(id, goods); err == nil { // else its offers are left out as well
			s.Usual[id] = home
		}
	}
	return nil
}

// addWanted sums up by supplier what approved jobs and the shelf want: of the offer that was quoted, or where that is none
// any more, or for the shelf, of the cheapest.
func (s *Situation) addWanted(ctx context.Context, db inventory.DB) error {
	wanted, err := ordering.Demands(ctx, db, s.Now)
	if err != nil {
		return err
	}
	offers, err := inventory.OffersOf(ctx, db, slices.Sorted(maps.Keys(wanted)))
	if err != nil {
		return err
	}
	for id, d := range wanted {
		pieces := map[int64]int{} // by offer
		var cheapest inventory.Offer
		var least decimal.Decimal
		stands := map[int64]inventory.Offer{}
		for _, o := range offers[id] {
			home, err := s.Deliveries.InHomeMoney(o)
			if err != nil {
				continue
			}
			stands[o.ID] = home
			if each := home.Cost(o.MinimumPacks).Div(decimal.NewFromInt(int64(o.MinimumPacks * o.Pack))); cheapest.ID == 0 || each.LessThan(least) {
				cheapest, least = home, each
			}
		}
		if cheapest.ID == 0 {
			continue
		}
		pieces[cheapest.ID] += d.ForShelf
		for _, c := range d.Claims {
			if _, quoted := stands[c.OfferID]; quoted {
				pieces[c.OfferID] += c.Pieces
			} else {
				pieces[cheapest.ID] += c.Pieces
			}
		}
		for offer, n := range pieces {
			o := stands[offer]
			s.Alongside[o.SupplierID] = s.Alongside[o.SupplierID].Add(o.Cost(o.PacksFor(n)))
		}
	}
	return nil
}

// carriage is what a job pays of the carriage of an option's parts, tax included, as the shop charges it. Shared is by the
// worth of the goods: of an order that has what else is wanted there, or is as orders there have been if that is more.
func (s Situation) carriage(p posed, o solver.Option) (lines []CarriageLine) {
	tax := s.Taxes.OnCarriage()
	carried := func(code string) bool { return s.Amends != nil && slices.Contains(s.Amends.carried, code) }
	if s.Shop.CarriageCharge == inventory.CarriageFixed && carried("") {
		return nil
	}
	if s.Shop.CarriageCharge == inventory.CarriageFixed && len(o.Carriage) > 0 {
		return []CarriageLine{{Tax: tax.unless(s.Taxes.Tax), Amount: tax.With(s.Shop.CarriageFixed.Decimal), Words: "fixed"}}
	}
	for _, c := range o.Carriage {
		id := p.suppliers[c.Supplier]
		supplier := s.Deliveries.Supplier(id)
		line := CarriageLine{Supplier: supplier.Code, From: supplier.Name, Tax: tax.unless(s.Taxes.Tax), Amount: tax.With(money.FromFine(c.Cost))}
		switch s.Shop.CarriageCharge {
		case inventory.CarriageNone:
			continue
		case inventory.CarriageShared:
			line.Words = "shared"
			line.Amount = s.sharedCarriage(id, money.FromFine(c.Goods))
		}
		if line.Amount.IsPositive() && !carried(line.Supplier) {
			lines = append(lines, line)
		}
	}
	return lines
}

func (s Situation) sharedCarriage(id int64, goods decimal.Decimal) decimal.Decimal {
	parcel := decimal.Max(goods.Add(s.Alongside[id]), s.Usual[id])
	terms, err := s.Deliveries.HomeTerms(id)
	if err != nil || !goods.IsPositive() {
		return decimal.Zero
	}
	share := terms.CarriageOn(parcel).Mul(goods).Mul(hundred.Add(s.Taxes.OnCarriage().Percent))
	return inventory.Rounded(share, parcel.Mul(hundred), 2)
}

// carriageRule says on a quote how carriage is charged.
func (s Situation) carriageRule() string {
	switch s.Shop.CarriageCharge {
	case inventory.CarriageShared:
		return "carriage is shared: by the worth of its goods in an order as it is usually sent"
	case inventory.CarriageFixed:
		return "carriage is charged at a fixed " + Amount(s.Shop.Currency, s.Taxes.OnCarriage().With(s.Shop.CarriageFixed.Decimal)) + " where parts are ordered"
	case inventory.CarriageNone:
		return "carriage is not charged"
	}
	return "carriage is charged in full, for each supplier that parts come from"
}

// shortfall is a minimum order that an option's parts do not reach, not even with what else is wanted there.
type shortfall struct {
	supplier int64
	words    string
	waits    bool // the shop does not buy so much more unasked
}

// shortOf tells whether an option's goods of a supplier reach its minimum order; most is what they come to with as much more
// as the shop buys unasked.
func (s Situation) shortOf(supplierID int64, goods, most decimal.Decimal) (shortfall, bool) {
	terms, err := s.Deliveries.HomeTerms(supplierID)
	alongside := s.Alongside[supplierID]
	if err != nil || goods.Add(alongside).GreaterThanOrEqual(terms.MinimumOrder) {
		return shortfall{}, false
	}
	with := ""
	if alongside.IsPositive() {
		with = "with what else is wanted there "
	}
	words := fmt.Sprintf("%s takes no order below %s, and %sthis comes to %s", terms.Name, Amount(s.Shop.Currency, terms.MinimumOrder),
		with, Amount(s.Shop.Currency, goods.Add(alongside)))
	return shortfall{supplierID, words, most.Add(alongside).LessThan(terms.MinimumOrder)}, true
}

func (f shortfall) String() string {
	if f.waits {
		return f.words + ": it waits until more is wanted there, or the shop buys up to it"
	}
	return f.words + ": more of it is bought for the shelf"
}
