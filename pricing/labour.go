package pricing

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing/money"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Labour is what the workshop charges for one kind of work at one kind of part.
type Labour struct {
	Family  substitution.Family `json:"family"`
	Action  inspection.Action   `json:"action"`
	Words   string              `json:"words"`
	Minutes int                 `json:"minutes"`
	Price   decimal.Decimal     `json:"price"` // before tax
}

// SetLabour records or changes a labour price.
func SetLabour(ctx context.Context, tx pgx.Tx, l Labour) error {
	if _, err := substitution.TableOf(l.Family); err != nil {
		return fmt.Errorf("labour price: %w", err)
	}
	action, err := inspection.ParseAction(string(l.Action))
	if err != nil {
		return fmt.Errorf("labour price for %s: %w", l.Family, err)
	}
	switch {
	case action == inspection.Keep:
		err = errors.New("what is kept is no work")
	case strings.TrimSpace(l.Words) == "":
		err = errors.New("say in a few words what is done, such as \"fit and size chain\"")
	case l.Minutes <= 0:
		err = fmt.Errorf("%d minutes cannot be meant", l.Minutes)
	case l.Price.IsNegative() || !l.Price.Equal(money.Round(l.Price)) || l.Price.GreaterThan(mostMoney):
		err = fmt.Errorf("a price of %s cannot be meant: it is not below zero and has at most two decimals", l.Price)
	}
	if err != nil {
		return fmt.Errorf("labour price for %s %s: %w", action, l.Family, err)
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO labour (family, action, words, minutes, price) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (family, action) DO UPDATE SET words = excluded.words, minutes = excluded.minutes, price = excluded.price`,
		l.Family, action, l.Words, l.Minutes, l.Price)
	if err != nil {
		return fmt.Errorf("labour price for %s %s: %w", action, l.Family, err)
	}
	return nil
}

// mostMoney is more than any work costs.
var mostMoney = decimal.NewFromInt(1_000_000)

// work identifies a labour price.
type work struct {
	family substitution.Family
	action inspection.Action
}

// LabourPrices are all labour prices by family and action.
func LabourPrices(ctx context.Context, db inventory.DB) ([]Labour, error) {
	rows, err := db.Query(ctx, `SELECT family, action, words, minutes, price FROM labour ORDER BY family, action`)
	if err != nil {
		return nil, fmt.Errorf("loading labour prices: %w", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[Labour])
	if err != nil {
		return nil, fmt.Errorf("loading labour prices: %w", err)
	}
	return list, nil
}

// labourPrices are all labour prices by the work that they are for.
func labourPrices(ctx context.Context, db inventory.DB) (map[work]Labour, error) {
	list, err := LabourPrices(ctx, db)
	if err != nil {
		return nil, err
	}
	m := make(map[work]Labour, len(list))
	for _, l := range list {
		m[work{l.Family, l.Action}] = l
	}
	return m, nil
}

// SetTax records a rate of tax from a day on.
func SetTax(ctx context.Context, tx pgx.Tx, t Tax, from time.Time) error {
	if strings.TrimSpace(t.Name) == "" {
		return errors.New("a tax needs its name, such as VAT")
	}
	if t.Percent.IsNegative() || t.Percent.GreaterThanOrEqual(hundred) || !t.Percent.Equal(t.Percent.Round(3)) {
		return fmt.Errorf("tax %q: a rate of %s %% cannot be meant: it is from 0 to below 100, with at most three decimals", t.Name, t.Percent)
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO tax_rate (name, valid_from, percent) VALUES ($1, $2, $3)
		ON CONFLICT (name, valid_from) DO UPDATE SET percent = excluded.percent`, t.Name, from, t.Percent)
	if err != nil {
		return fmt.Errorf("tax %q: %w", t.Name, err)
	}
	return nil
}

// ErrNoTax says that the shop has recorded no tax for a day.
var ErrNoTax = errors.New("no rate of tax is recorded")

// TaxOn is the tax in force on a day, or [ErrNoTax]. A shop that has recorded none cannot quote: a price without its tax is
// not a price.
func TaxOn(ctx context.Context, db inventory.DB, day time.Time) (Tax, error) {
	var t Tax
	err := db.QueryRow(ctx, `
		SELECT name, percent FROM tax_rate WHERE valid_from <= $1 ORDER BY valid_from DESC, name LIMIT 1`, day).Scan(&t.Name, &t.Percent)
	if errors.Is(err, pgx.ErrNoRows) {
		return Tax{}, fmt.Errorf("%w for %s", ErrNoTax, day.Format("2 January 2006"))
	}
	if err != nil {
		return Tax{}, fmt.Errorf("loading the rate of tax: %w", err)
	}
	return t, nil
}
