package desk

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/photo"
	"stead/pricing"
	"stead/substitution"
)

// Part is a part with what is on the shelf and who offers it.
type Part struct {
	Part   inventory.Part    `json:"part"`
	Stock  inventory.Stock   `json:"stock"`
	Offers []inventory.Offer `json:"offers"`

	Corrected []inventory.Correction `json:"corrected,omitempty"`
	Photos    []Photo                `json:"photos,omitempty"`
	Codes     []string               `json:"codes,omitempty"` // that the workshop gave it beside its own

	Sources []Source `json:"-"` // the same offers, with whom they are from and by when they would be here
	Retail  Retail   `json:"-"`
	Delays  []string `json:"-"` // why they take longer just now than they used to
}

// Source is an offer with its supplier and its day.
type Source struct {
	inventory.Offer
	Supplier inventory.Supplier
	HereBy   string
}

// LoadPart gathers all that a part's screen tells; the part is named by number, GTIN or code.
func LoadPart(ctx context.Context, db inventory.DB, name string, now time.Time) (Part, error) {
	p, err := inventory.PartNamed(ctx, db, name)
	if err != nil {
		return Part{}, err
	}
	return partScreen(ctx, db, p, now)
}

// LoadPartNumbered gathers the same of the part of a number, which may be another's code too. A part that has become one
// with another is that other.
func LoadPartNumbered(ctx context.Context, db inventory.DB, id int64, now time.Time) (Part, error) {
	id, err := inventory.Became(ctx, db, id)
	if err != nil {
		return Part{}, err
	}
	p, err := inventory.PartByID(ctx, db, id)
	if err != nil {
		return Part{}, err
	}
	return partScreen(ctx, db, p, now)
}

func partScreen(ctx context.Context, db inventory.DB, p inventory.Part, now time.Time) (v Part, err error) {
	v.Part = p
	if v.Corrected, err = inventory.Corrections(ctx, db, inventory.OfPart, v.Part.ID); err != nil {
		return v, err
	}
	if v.Photos, err = LoadPhotos(ctx, db, photo.Of{PartID: v.Part.ID}); err != nil {
		return v, err
	}
	if v.Codes, err = inventory.GivenCodes(ctx, db, v.Part.ID); err != nil {
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
	var from []int64
	for _, o := range v.Offers {
		s := Source{o, deliveries.Supplier(o.SupplierID), noPromise}
		if promise, err := deliveries.OfferPromise(o); err == nil {
			s.HereBy = promise.Words(deliveries.Today)
		}
		v.Sources, from = append(v.Sources, s), append(from, o.SupplierID)
	}
	v.Delays = delayWords(deliveries.Delays(from...))
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
	v.Retail, err = loadRetail(ctx, db, now)
	return v, err
}

// Retail is what a part's retail price is set against: tax, rates and the suppliers' currencies.
type Retail struct {
	Currency  string
	Tax       decimal.Decimal // per cent; zero where the shop has recorded none
	rates     inventory.Rates
	suppliers map[int64]inventory.Supplier
}

// loadRetail gathers what retail prices are set against at a moment.
func loadRetail(ctx context.Context, db inventory.DB, now time.Time) (v Retail, err error) {
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
	v.suppliers, err = suppliersByID(ctx, db)
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

// Words are the retail price of a piece and its mark-up on the cheapest offer; empty when none is known.
func (v Retail) Words(p inventory.Part, offers []inventory.Offer) string {
	if !p.Retail.Valid {
		return ""
	}
	out := PieceWords(v.Currency, p.Retail.Decimal)
	if least, ok := v.Least(offers); ok && least.IsPositive() {
		out += " (" + MarkUpWords(least, p.Retail.Decimal, v.Tax) + ")"
	}
	return out
}

// PackWords are the retail prices of what is sold together, of each size of pack that is offered.
func (v Retail) PackWords(p inventory.Part, offers []inventory.Offer) string {
	var out string
	said := map[int]bool{1: true}
	for _, o := range offers {
		if !p.Retail.Valid || said[o.Pack] {
			continue
		}
		said[o.Pack] = true
		out += ", " + pricing.Amount(v.Currency, p.Retail.Decimal.Mul(decimal.NewFromInt(int64(o.Pack)))) + " for " + strconv.Itoa(o.Pack)
	}
	return out
}

// DimensionRow is a dimension of a part as it is shown.
type DimensionRow struct {
	Name   string
	Value  string
	Plain  string
	Origin substitution.Origin
}

// Dimensions are what is known of the part.
func (v Part) Dimensions() []DimensionRow {
	table, err := substitution.TableOf(v.Part.Family)
	if err != nil {
		return nil
	}
	var out []DimensionRow
	for _, name := range v.Part.Spec.Names() {
		d, _ := table.Dimension(name)
		out = append(out, DimensionRow{name, d.Show(v.Part.Spec[name].Value), d.Plain(), v.Part.Spec[name].Origin})
	}
	return out
}

// StockWords are how many there are and whose they are.
func StockWords(s inventory.Stock) string {
	return fmt.Sprintf("on hand %d, reserved %d, free %d, on order %d", s.OnHand, s.Reserved, s.Free(), s.OnOrder)
}
