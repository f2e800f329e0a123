package catalogue

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
)

// RetailDoubt is a recommended price that can hardly be meant against what the supplier asks: usually it is of one
// piece where the price is of a bag, or the other way round.
type RetailDoubt struct {
	Code   string          `json:"code"`
	Name   string          `json:"name"`
	Pack   int             `json:"pack"`
	Price  decimal.Decimal `json:"price"`  // of a pack, before tax
	Retail decimal.Decimal `json:"retail"` // of a pack, tax included
}

// MarkUp is what a recommended price is above what the supplier asks, in hundredths of it, tax taken off: 40 for £1.68
// with 20 % tax on £1.00.
func MarkUp(price, retail, tax decimal.Decimal) decimal.Decimal {
	hundred := decimal.NewFromInt(100)
	net := inventory.Rounded(retail.Mul(hundred), hundred.Add(tax), 6)
	return inventory.Rounded(net.Sub(price).Mul(hundred), price, 0)
}

// Doubtful reports whether a recommended price, tax taken off, is below what the supplier asks or more than four times
// as much.
func Doubtful(price, retail, tax decimal.Decimal) bool {
	net := retail.Mul(decimal.NewFromInt(100))
	asked := price.Mul(decimal.NewFromInt(100).Add(tax))
	return net.LessThan(asked) || net.GreaterThan(asked.Mul(decimal.NewFromInt(4)))
}

// retailDoubts are the doubtful recommended prices among the lines on the stage.
func retailDoubts(ctx context.Context, tx pgx.Tx, tax decimal.Decimal) ([]RetailDoubt, error) {
	rows, err := tx.Query(ctx, `
		SELECT code, name, pack, price, retail FROM matched
		WHERE part_id IS NOT NULL AND retail > 0 AND (retail * 100 < price * (100 + $1::numeric) OR retail * 100 > 4 * price * (100 + $1::numeric))
		ORDER BY line LIMIT $2`, tax, mostProblems)
	if err != nil {
		return nil, fmt.Errorf("compare the recommended prices: %w", err)
	}
	list, err := pgx.AppendRows([]RetailDoubt(nil), rows, pgx.RowToStructByPos[RetailDoubt])
	if err != nil {
		return nil, fmt.Errorf("compare the recommended prices: %w", err)
	}
	return list, nil
}
