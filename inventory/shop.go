package inventory

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// Shop is the workshop itself.
type Shop struct {
	Name       string          `json:"name"`
	Country    string          `json:"country"`    // whose bank holidays are kept: see calendar.Countries
	Zone       string          `json:"zone"`       // Europe/London
	Currency   string          `json:"currency"`   // GBP
	Confidence float64         `json:"confidence"` // how sure a promised date is: 0.9 is nine times in ten
	ClosedOn   []time.Weekday  `json:"closed_on"`
	MarkUp     decimal.Decimal `json:"mark_up"`    // on the supplier's price where no retail price is known: 0.4 is 40 %; carriage is charged as it is
	QuoteDays  int             `json:"quote_days"` // how long a quote stands
	Overbuy    decimal.Decimal `json:"overbuy"`    // how many times what is needed may be bought where a price break makes more cheaper

	CarriageCharge Carriage            `json:"carriage_charge"`         // what a job pays of the carriage of its parts; absent: in full
	CarriageFixed  decimal.NullDecimal `json:"carriage_fixed,omitzero"` // before tax, where the charge is fixed

	Address   string `json:"address,omitempty"`    // as it stands on a bill, line by line
	TaxNumber string `json:"tax_number,omitempty"` // under which the shop pays its tax

	Hourly       decimal.NullDecimal `json:"hourly,omitzero"`         // what an hour of work costs, before tax: of work without a price of its own
	WheelMinutes int                 `json:"wheel_minutes,omitempty"` // to take a wheel off and put it on, which work on one wheel shares

	Closures []calendar.Closure `json:"closures"` // as recorded with [Close]
}

// Carriage is what a job pays of the carriage of its parts, beside the parts.
type Carriage string

const (
	CarriageFull   Carriage = "full"   // what each supplier charges for an order of the job's parts alone
	CarriageShared Carriage = "shared" // its share, by the worth of the goods, of an order as it is likely to be sent
	CarriageFixed  Carriage = "fixed"  // one amount, where anything is ordered for the job
	CarriageNone   Carriage = "none"
)

// Location is the shop's time zone.
func (s Shop) Location() (*time.Location, error) { return location(s.Zone) }

// Calendar knows the days on which the shop takes goods in.
func (s Shop) Calendar() (*calendar.Calendar, error) {
	return openDays(s.Country, s.ClosedOn, s.Closures)
}

// LoadShop gives the workshop as it was last saved; a new database has one with common settings.
func LoadShop(ctx context.Context, db DB) (Shop, error) {
	var s Shop
	err := db.QueryRow(ctx, `
		SELECT name, country, zone, currency, confidence::float8, closed_on, mark_up, quote_days, overbuy, carriage_charge, carriage_fixed, hourly, wheel_minutes, address, tax_number, `+closuresOf("NULL")+` FROM shop`).
		Scan(&s.Name, &s.Country, &s.Zone, &s.Currency, &s.Confidence, &s.ClosedOn, &s.MarkUp, &s.QuoteDays, &s.Overbuy, &s.CarriageCharge, &s.CarriageFixed, &s.Hourly, &s.WheelMinutes, &s.Address, &s.TaxNumber, &s.Closures)
	if err != nil {
		return Shop{}, fmt.Errorf("read the workshop's settings: %w", err)
	}
	return s, nil
}

// LoadZone gives the shop's time zone.
func LoadZone(ctx context.Context, db DB) (*time.Location, error) {
	shop, err := LoadShop(ctx, db)
	if err != nil {
		return nil, err
	}
	return shop.Location()
}

// SaveShop checks the settings and keeps them. Closures are not among them: see [Close].
func SaveShop(ctx context.Context, tx pgx.Tx, s Shop) error {
	s.Country, s.Currency = strings.ToUpper(s.Country), strings.ToUpper(s.Currency)
	if s.CarriageCharge == "" {
		s.CarriageCharge = CarriageFull
	}
	if err := s.check(); err != nil {
		return fmt.Errorf("the workshop's settings: %w", err)
	}
	_, err := tx.Exec(ctx, `
		UPDATE shop SET (name, country, zone, currency, confidence, closed_on, mark_up, quote_days, overbuy, carriage_charge, carriage_fixed, hourly, wheel_minutes, address, tax_number)
		    = ($1, $2, $3, $4, $5::float8, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`,
		s.Name, s.Country, s.Zone, s.Currency, s.Confidence, weekdays(s.ClosedOn), s.MarkUp, s.QuoteDays, s.Overbuy, s.CarriageCharge, s.CarriageFixed, s.Hourly, s.WheelMinutes, s.Address, s.TaxNumber)
	if err != nil {
		return fmt.Errorf("save the workshop's settings: %w", err)
	}
	return nil
}

// ChangeShop changes the settings under the checks of [SaveShop]. Of two changes at once the second begins from what
// the first has left, so that neither is lost.
func ChangeShop(ctx context.Context, tx pgx.Tx, change func(*Shop)) (Shop, error) {
	if _, err := tx.Exec(ctx, `SELECT FROM shop FOR NO KEY UPDATE`); err != nil {
		return Shop{}, fmt.Errorf("change the workshop's settings: %w", err)
	}
	s, err := LoadShop(ctx, tx)
	if err != nil {
		return Shop{}, err
	}
	change(&s)
	if err := SaveShop(ctx, tx, s); err != nil {
		return Shop{}, err
	}
	return LoadShop(ctx, tx)
}

func (s Shop) check() error {
	if strings.TrimSpace(s.Name) == "" {
		return errNoName
	}
	if _, err := s.Location(); err != nil {
		return err
	}
	if _, err := s.Calendar(); err != nil {
		return err
	}
	if err := checkCurrency(s.Currency); err != nil {
		return err
	}
	if !(s.Confidence > 0 && s.Confidence < 1) {
		return fmt.Errorf("a confidence of %v is not between 0 and 1: 0.9 means nine times in ten", s.Confidence)
	}
	if s.MarkUp.IsNegative() {
		return fmt.Errorf("a mark-up of %s is negative: 0.4 means 40 %%", s.MarkUp)
	}
	if s.QuoteDays <= 0 {
		return fmt.Errorf("a quote must stand for at least a day, not %d", s.QuoteDays)
	}
	if s.Overbuy.LessThan(decimal.NewFromInt(1)) || s.Overbuy.GreaterThan(mostOverbuy) {
		return fmt.Errorf("buying %s times what is needed cannot be meant: 1 is no more than that, %s the most", s.Overbuy, mostOverbuy)
	}
	switch s.CarriageCharge {
	case CarriageFull, CarriageShared, CarriageNone, CarriageFixed:
	default:
		return fmt.Errorf("carriage is charged full, shared, none, or at a fixed amount, not %q", s.CarriageCharge)
	}
	if fixed := s.CarriageFixed; fixed.Valid != (s.CarriageCharge == CarriageFixed) || fixed.Valid && (!fixed.Decimal.IsPositive() || !fixed.Decimal.Equal(fixed.Decimal.Truncate(2))) {
		return fmt.Errorf("a fixed carriage is an amount above zero in whole pence, such as 3.50")
	}
	if h := s.Hourly; h.Valid && (!h.Decimal.IsPositive() || !h.Decimal.Equal(h.Decimal.Truncate(2))) {
		return fmt.Errorf("an hour of work costs an amount above zero in whole pence, such as 48.00")
	}
	if s.WheelMinutes < 0 || s.WheelMinutes > 60 {
		return fmt.Errorf("%d minutes to take a wheel off and put it on cannot be meant", s.WheelMinutes)
	}
	return nil
}

// mostOverbuy is more than any shelf holds.
var mostOverbuy = decimal.NewFromInt(20)

func location(zone string) (*time.Location, error) {
	l, err := time.LoadLocation(zone)
	if err != nil || zone == "" {
		return nil, fmt.Errorf("time zone %q is not known: write it as Europe/London", zone)
	}
	return l, nil
}

func openDays(country string, closedOn []time.Weekday, closures []calendar.Closure) (*calendar.Calendar, error) {
	return calendar.New(calendar.Rules{Country: country, ClosedWeekdays: closedOn, Closures: closures})
}

func checkCurrency(code string) error {
	if len(code) != 3 || strings.Trim(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "" {
		return fmt.Errorf("currency %q is not three letters such as GBP", code)
	}
	return nil
}

// weekdays are what the database keeps of them: 0 is Sunday. No day is an empty list, not an absent one.
func weekdays(days []time.Weekday) []int32 {
	ns := make([]int32, len(days))
	for i, d := range days {
		ns[i] = int32(d)
	}
	return ns
}

var errNegativeMoney = errors.New("an amount of money here is never negative")

// Mark tells this shop's things apart from another's wherever they meet. It stays for good.
func Mark(ctx context.Context, db DB) (mark string, err error) {
	if err := db.QueryRow(ctx, `SELECT mark::text FROM shop`).Scan(&mark); err != nil {
		return "", fmt.Errorf("read the shop's mark: %w", err)
	}
	return mark, nil
}
