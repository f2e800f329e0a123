package pricing

import (
	"context"
	"errors"
	"fmt"
	"strings"

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

// labourPrices are all labour prices by the work that they are for. Work without its own costs its usual minutes at the
// shop's hour, where it has said what that costs.
func labourPrices(ctx context.Context, db inventory.DB, hourly decimal.NullDecimal) (map[work]Labour, error) {
	list, err := LabourPrices(ctx, db)
	if err != nil {
		return nil, err
	}
	m := make(map[work]Labour, len(list))
	for _, f := range substitution.Families() {
		for _, a := range []inspection.Action{inspection.Clean, inspection.Adjust, inspection.Replace} {
			if usual, known := substitution.WorkOn(f, a); known && hourly.Valid {
				m[work{f, a}] = Labour{Family: f, Action: a, Words: usual.Words, Minutes: usual.Minutes, Price: priceOf(usual.Minutes, hourly.Decimal)}
			}
		}
	}
	for _, l := range list {
		m[work{l.Family, l.Action}] = l
	}
	return m, nil
}
