package desk

import (
	"context"
	"errors"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing"
)

// Part is a part with what is on the shelf and who offers it.
type Part struct {
	Part   inventory.Part    `json:"part"`
	Stock  inventory.Stock   `json:"stock"`
	Offers []inventory.Offer `json:"offers"`

	Sources []Source `json:"-"` // the same offers, with whom they are from and by when they would be here
	Retail  Retail   `json:"-"`
}

// Source is an offer with its supplier and its day.
type Source struct {
	inventory.Offer
	Supplier inventory.Supplier
	HereBy   string
}

// LoadPart gathers all that a part's screen tells; the part is named by number, GTIN or code.
func LoadPart(ctx context.Context, db inventory.DB, name string, now time.Time) (v Part, err error) {
	if v.Part, err = inventory.PartNamed(ctx, db, name); err != nil {
		return v, err
	}
	found, err := loadParts(ctx, db, []inventory.Part{v.Part}, now)
	if err != nil {
		return v, err
	}
	v.Stock, v.Offers, v.Retail = found.Stock[v.Part.ID], found.Offers[v.Part.ID], found.Retail
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return v, err
	}
	for _, o := range v.Offers {
		s := Source{o, deliveries.Supplier(o.SupplierID), NoPromise}
		if promise, err := deliveries.OfferPromise(o); err == nil {
			s.HereBy = promise.Words(deliveries.Today)
		}
		v.Sources = append(v.Sources, s)
	}
	return v, nil
}

// Parts are parts of the catalogue with their stock and offers.
type Parts struct {
	Parts  []inventory.Part
	Stock  map[int64]inventory.Stock
	Offers map[int64][]inventory.Offer
	Retail Retail
}

// FindParts looks for parts.
func FindParts(ctx context.Context, db inventory.DB, search inventory.Search, now time.Time) (Parts, error) {
	parts, err := inventory.FindParts(ctx, db, search)
	if err != nil {
		return Parts{}, err
	}
	return loadParts(ctx, db, parts, now)
}

func loadParts(ctx context.Context, db inventory.DB, parts []inventory.Part, now time.Time) (v Parts, err error) {
	v.Parts = parts
	ids := make([]int64, len(parts))
	for i, p := range parts {
		ids[i] = p.ID
	}
	if v.Stock, err = inventory.StockOf(ctx, db, ids); err != nil {
		return v, err
	}
	if v.Offers, err = inventory.OffersOf(ctx, db, ids); err != nil {
		return v, err
	}
	v.Retail, err = LoadRetail(ctx, db, now)
	return v, err
}

// Retail is what a part's retail price is set against: tax, rates and the suppliers' currencies.
type Retail struct {
	Currency  string
	Tax       decimal.Decimal // per cent; zero where the shop has recorded none
	rates     inventory.Rates
	suppliers map[int64]inventory.Supplier
}

// LoadRetail gathers what retail prices are set against at a moment.
func LoadRetail(ctx context.Context, db inventory.DB, now time.Time) (v Retail, err error) {
	shop, err := inventory.LoadShop(ctx, db)
	if err != nil {
		return v, err
	}
	v.Currency = shop.Currency
	tax, err := pricing.TaxOn(ctx, db, now)
	if err != nil && !errors.Is(err, pricing.ErrNoTax) {
		return v, err
	}
	v.Tax = tax.Percent
	if v.rates, err = inventory.RatesOn(ctx, db, now); err != nil {
		return v, err
	}
	suppliers, err := inventory.Suppliers(ctx, db)
	v.suppliers = map[int64]inventory.Supplier{}
	for _, s := range suppliers {
		v.suppliers[s.ID] = s
	}
	return v, err
}

// Least is the smallest price of a piece among offers, in the shop's currency, or false when none can be had in it.
func (v Retail) Least(offers []inventory.Offer) (least decimal.Decimal, ok bool) {
	for _, o := range offers {
		home, err := v.rates.Home(v.suppliers[o.SupplierID], o.PriceAt(o.MinimumPacks))
		if err != nil {
			continue
		}
		each := inventory.Rounded(home, decimal.NewFromInt(int64(o.Pack)), 6)
		if !ok || each.LessThan(least) {
			least, ok = each, true
		}
	}
	return least, ok
}
