package catalogue

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
)

// Was is what an offer cost from a day on.
type Was struct {
	AsOf  time.Time       `json:"as_of"`
	Pack  int             `json:"pack"`
	Price decimal.Decimal `json:"price"` // a pack
}

// priceHistory is what an offer has cost, the newest first. Prices that did not change are one line.
func priceHistory(ctx context.Context, db inventory.DB, offerID int64) ([]Was, error) {
	return history(ctx, db, offerID, `SELECT as_of, pack, price FROM price_history WHERE offer_id = $1 ORDER BY as_of DESC`)
}

// retailHistory is what has been recommended for an offer, of a pack with tax, the newest first.
func retailHistory(ctx context.Context, db inventory.DB, offerID int64) ([]Was, error) {
	return history(ctx, db, offerID, `SELECT as_of, pack, retail FROM retail_history WHERE offer_id = $1 ORDER BY as_of DESC`)
}

func history(ctx context.Context, db inventory.DB, offerID int64, sql string) ([]Was, error) {
	rows, err := db.Query(ctx, sql, offerID)
	if err != nil {
		return nil, fmt.Errorf("read the price history of offer %d: %w", offerID, err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Was])
	if err != nil {
		return nil, fmt.Errorf("read the price history of offer %d: %w", offerID, err)
	}
	return list, nil
}
