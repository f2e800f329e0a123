package inventory

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// SetRate records what one unit of the shop's currency buys of another from a day on.
func SetRate(ctx context.Context, tx pgx.Tx, currency string, rate decimal.Decimal, from calendar.Day) error {
	if err := checkCurrency(currency); err != nil {
		return err
	}
	if !rate.IsPositive() {
		return fmt.Errorf("a rate of %s for %s cannot be meant: it is what one unit of the shop's currency buys", rate, currency)
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO exchange_rate (currency, valid_from, rate) VALUES ($1, $2, $3)
		ON CONFLICT (currency, valid_from) DO UPDATE SET rate = excluded.rate`, currency, from, rate)
	if err != nil {
		return fmt.Errorf("record the rate of %s: %w", currency, err)
	}
	return nil
}

// Rates turn amounts of other currencies into the shop's own, as of one day.
type Rates struct {
	home  string
	rates map[string]decimal.Decimal
}

// RatesOn are the rates in force on a day.
func RatesOn(ctx context.Context, db DB, day time.Time) (Rates, error) {
	shop, err := LoadShop(ctx, db)
	if err != nil {
		return Rates{}, err
	}
	r := Rates{home: shop.Currency, rates: map[string]decimal.Decimal{shop.Currency: decimal.NewFromInt(1)}}
	rows, err := db.Query(ctx, `
		SELECT DISTINCT ON (currency) currency, rate FROM exchange_rate WHERE valid_from <= $1 ORDER BY currency, valid_from DESC`, day)
	if err != nil {
		return Rates{}, fmt.Errorf("read the exchange rates: %w", err)
	}
	var currency string
	var rate decimal.Decimal
	_, err = pgx.ForEachRow(rows, []any{&currency, &rate}, func() error {
		if currency != r.home {
			r.rates[currency] = rate
		}
		return nil
	})
	if err != nil {
		return Rates{}, fmt.Errorf("read the exchange rates: %w", err)
	}
	return r, nil
}

// NoRateError says that an amount cannot be compared with the shop's own for want of a rate.
type NoRateError struct {
	Supplier string // its name
	Currency string
}

func (e *NoRateError) Error() string {
	return fmt.Sprintf("%s prices in %s, for which no rate is recorded", e.Supplier, e.Currency)
}

// Home is an amount of the supplier's currency in the shop's own, to a hundredth of a penny; without a rate for it a
// *[NoRateError].
func (r Rates) Home(s Supplier, amount decimal.Decimal) (decimal.Decimal, error) {
	rate, known := r.rates[s.Currency]
	if !known {
		return decimal.Decimal{}, &NoRateError{s.Name, s.Currency}
	}
	return Rounded(amount, rate, 4), nil
}

// Rounded is x/by to so many decimals, a half away from nought: the one rounding of every amount in the house, whether it is
// taxed, shared out or turned into another currency. It divides and rounds once, so that nothing is rounded twice.
func Rounded(x, by decimal.Decimal, places int32) decimal.Decimal { return x.DivRound(by, places) }
