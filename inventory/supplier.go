package inventory

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// Supplier is a wholesaler and its terms.
type Supplier struct {
	ID             int64               `json:"id"`
	Code           string              `json:"code"` // a short name of the shop's own: lower case letters, digits, hyphens
	Name           string              `json:"name"`
	Country        string              `json:"country"` // whose bank holidays it keeps
	Zone           string              `json:"zone"`
	Currency       string              `json:"currency"`      // of its prices, carriage and minimum
	LeadDays       int                 `json:"lead_days"`     // working days quoted for what it has in stock
	ToOrderDays    int                 `json:"to_order_days"` // working days quoted for what it has not
	CutOff         string              `json:"cut_off"`       // 15:30 on its clock: an order later in the day counts from the next
	ClosedOn       []time.Weekday      `json:"closed_on"`
	Carriage       decimal.Decimal     `json:"carriage"`         // of one order
	CarriagePaidAt decimal.NullDecimal `json:"carriage_paid_at"` // goods worth this much travel free; absent: none do
	MinimumOrder   decimal.Decimal     `json:"minimum_order"`
	Email          string              `json:"email,omitempty"` // where it takes orders
	Closures       []calendar.Closure  `json:"closures"`        // as recorded with [Close]
}

// QuotedDays are the working days that the supplier quotes under a stock signal. Without a signal it is taken to have
// to order.
func (s Supplier) QuotedDays(signal Signal) int {
	if signal == InStock || signal == Low {
		return s.LeadDays
	}
	return s.ToOrderDays
}

// CarriageOn is what the supplier charges to send goods of that worth.
func (s Supplier) CarriageOn(goods decimal.Decimal) decimal.Decimal {
	if s.CarriagePaidAt.Valid && goods.GreaterThanOrEqual(s.CarriagePaidAt.Decimal) {
		return decimal.Zero
	}
	return s.Carriage
}

// Route is the way of this supplier's parcels to the shop: whose days count at both ends, and the cut-off hour.
func (s Supplier) Route(shop Shop) (calendar.Route, error) {
	theirs, err := openDays(s.Country, s.ClosedOn, s.Closures)
	if err != nil {
		return calendar.Route{}, err
	}
	ours, err := shop.Calendar()
	if err != nil {
		return calendar.Route{}, fmt.Errorf("the workshop: %w", err)
	}
	cutOff, err := calendar.NewCutOff(s.CutOff, s.Zone)
	if err != nil {
		return calendar.Route{}, err
	}
	return calendar.Route{Supplier: theirs, Workshop: ours, CutOff: &cutOff}, nil
}

var supplierColumns = `id, code, name, country, zone, currency, lead_days, to_order_days, to_char(cut_off, 'HH24:MI'), closed_on,
	carriage, carriage_paid_at, minimum_order, email, ` + closuresOf("supplier.id")

func readSupplier(row pgx.CollectableRow) (Supplier, error) {
	var s Supplier
	err := row.Scan(&s.ID, &s.Code, &s.Name, &s.Country, &s.Zone, &s.Currency, &s.LeadDays, &s.ToOrderDays, &s.CutOff, &s.ClosedOn,
		&s.Carriage, &s.CarriagePaidAt, &s.MinimumOrder, &s.Email, &s.Closures)
	return s, err
}

// AddSupplier checks a supplier's terms and keeps them. What is left empty of country, zone and currency is the shop's
// own; an absent cut-off is 16:00; absent closed days are Saturday and Sunday.
func AddSupplier(ctx context.Context, tx pgx.Tx, s Supplier) (Supplier, error) {
	shop, err := LoadShop(ctx, tx)
	if err != nil {
		return Supplier{}, err
	}
	for _, field := range []struct {
		value   *string
		standIn string
	}{{&s.Country, shop.Country}, {&s.Zone, shop.Zone}, {&s.Currency, shop.Currency}, {&s.CutOff, "16:00"}} {
		if *field.value == "" {
			*field.value = field.standIn
		}
	}
	if s.ClosedOn == nil {
		s.ClosedOn = []time.Weekday{time.Saturday, time.Sunday}
	}
	s.Country, s.Currency = strings.ToUpper(s.Country), strings.ToUpper(s.Currency)
	if err := s.check(); err != nil {
		return Supplier{}, fmt.Errorf("supplier %q: %w", s.Code, err)
	}
	added, err := collectOne(ctx, tx, readSupplier, `
		INSERT INTO supplier (code, name, country, zone, currency, lead_days, to_order_days, cut_off, closed_on, carriage, carriage_paid_at, minimum_order, email)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8::text::time, $9, $10, $11, $12, $13)
		ON CONFLICT (code) DO NOTHING
		RETURNING `+supplierColumns,
		s.Code, s.Name, s.Country, s.Zone, s.Currency, s.LeadDays, s.ToOrderDays, s.CutOff, weekdays(s.ClosedOn), s.Carriage, s.CarriagePaidAt, s.MinimumOrder, s.Email)
	if errors.Is(err, pgx.ErrNoRows) {
		return Supplier{}, &TakenError{What: "supplier code", Value: s.Code, By: "another supplier"}
	}
	if err != nil {
		return Supplier{}, fmt.Errorf("add supplier %s: %w", s.Code, err)
	}
	return added, nil
}

// ChangeSupplier changes a supplier's terms, under the checks of [AddSupplier]. Its code stays, and its currency, because
// its prices are in it. An unknown code is an *[UnknownError].
func ChangeSupplier(ctx context.Context, tx pgx.Tx, code string, change func(*Supplier)) (Supplier, error) {
	// Of two changes at once the second begins from what the first has left.
	if _, err := tx.Exec(ctx, `SELECT FROM supplier WHERE code = lower($1) FOR NO KEY UPDATE`, code); err != nil {
		return Supplier{}, fmt.Errorf("change supplier %s: %w", code, err)
	}
	s, err := SupplierByCode(ctx, tx, code)
	if err != nil {
		return Supplier{}, err
	}
	change(&s)
	s.Country = strings.ToUpper(s.Country)
	if err := s.check(); err != nil {
		return Supplier{}, fmt.Errorf("supplier %q: %w", s.Code, err)
	}
	changed, err := collectOne(ctx, tx, readSupplier, `
		UPDATE supplier SET (name, country, zone, lead_days, to_order_days, cut_off, closed_on, carriage, carriage_paid_at, minimum_order, email)
		    = ($2, $3, $4, $5, $6, $7::text::time, $8, $9, $10, $11, $12)
		WHERE id = $1
		RETURNING `+supplierColumns,
		s.ID, s.Name, s.Country, s.Zone, s.LeadDays, s.ToOrderDays, s.CutOff, weekdays(s.ClosedOn), s.Carriage, s.CarriagePaidAt, s.MinimumOrder, s.Email)
	if err != nil {
		return Supplier{}, fmt.Errorf("change supplier %s: %w", s.Code, err)
	}
	return changed, nil
}

// Shelf stands for the workshop's own shelf where a supplier's code is asked for. No supplier goes by it.
const Shelf = "shelf"

var looksLikeEmail = regexp.MustCompile(`^[^@\s]+@[^@\s]+$`)

var supplierCode = regexp.MustCompile(`^[a-z0-9][a-z0-9-]*$`)

func (s Supplier) check() error {
	if !supplierCode.MatchString(s.Code) {
		return errors.New("a supplier's code is lower case letters, digits and hyphens, such as north-moor")
	}
	if s.Code == Shelf {
		return fmt.Errorf("%q is the workshop's own shelf: give the supplier another code", Shelf)
	}
	if strings.TrimSpace(s.Name) == "" {
		return errNoName
	}
	if s.Email != "" && !looksLikeEmail.MatchString(s.Email) {
		return fmt.Errorf("%q is no e-mail address: it has one @ and no spaces", s.Email)
	}
	if s.LeadDays < 0 || s.ToOrderDays < s.LeadDays {
		return fmt.Errorf("lead times of %d working days from stock and %d to order cannot both be right: the first is not negative, the second not shorter", s.LeadDays, s.ToOrderDays)
	}
	if s.ToOrderDays > longestLeadDays {
		return fmt.Errorf("a lead time of %d working days cannot be meant: the most is %d", s.ToOrderDays, longestLeadDays)
	}
	if _, err := s.Route(Shop{}); err != nil {
		return err
	}
	if err := checkCurrency(s.Currency); err != nil {
		return err
	}
	for _, amount := range []decimal.Decimal{s.Carriage, s.MinimumOrder} {
		if amount.IsNegative() {
			return fmt.Errorf("%s: %w", amount, errNegativeMoney)
		}
	}
	if s.CarriagePaidAt.Valid && !s.CarriagePaidAt.Decimal.IsPositive() {
		return fmt.Errorf("carriage is paid at an amount above zero, not at %s: leave it out if it is never paid", s.CarriagePaidAt.Decimal)
	}
	return nil
}

// longestLeadDays is four working years: longer is a slip of the pen.
const longestLeadDays = 1000

// Suppliers are all suppliers by code.
func Suppliers(ctx context.Context, db DB) ([]Supplier, error) {
	all, err := Collect(ctx, db, readSupplier, `SELECT `+supplierColumns+` FROM supplier ORDER BY code`)
	if err != nil {
		return nil, fmt.Errorf("read the suppliers: %w", err)
	}
	return all, nil
}

// SupplierByCode finds a supplier; an unknown code is an *[UnknownError] with the nearest ones.
func SupplierByCode(ctx context.Context, db DB, code string) (Supplier, error) {
	s, err := collectOne(ctx, db, readSupplier, `SELECT `+supplierColumns+` FROM supplier WHERE code = lower($1)`, code)
	if errors.Is(err, pgx.ErrNoRows) {
		return Supplier{}, unknown(ctx, db, OfSupplier, code, `SELECT code FROM supplier ORDER BY code <-> $1, code LIMIT 3`)
	}
	if err != nil {
		return Supplier{}, fmt.Errorf("read supplier %s: %w", code, err)
	}
	return s, nil
}

// SupplierByID finds a supplier by its number.
func SupplierByID(ctx context.Context, db DB, id int64) (Supplier, error) {
	s, err := collectOne(ctx, db, readSupplier, `SELECT `+supplierColumns+` FROM supplier WHERE id = $1`, id)
	if errors.Is(err, pgx.ErrNoRows) {
		return Supplier{}, &UnknownError{Kind: OfSupplier, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Supplier{}, fmt.Errorf("read supplier %d: %w", id, err)
	}
	return s, nil
}
