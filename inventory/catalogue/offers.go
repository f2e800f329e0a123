package catalogue

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
)

// Sold is one supplier's offer of a part with all that it has cost.
type Sold struct {
	OfferID  int64      `json:"offer_id"`
	Supplier string     `json:"supplier"` // its code
	Currency string     `json:"currency"`
	Code     string     `json:"code"`
	GoneAt   *time.Time `json:"gone_at,omitempty"` // since when the supplier no longer lists it
	Pack     int        `json:"pack"`              // pieces sold together now
	Prices   []Was      `json:"prices"`            // the newest first, never none
	Retail   []Was      `json:"retail,omitempty"`  // recommended, tax included, the newest first
}

// APiece is what one piece costs in a pack, so that offers compare whatever the pack.
func (w Was) APiece() decimal.Decimal { return w.Price.Div(decimal.NewFromInt(int64(w.Pack))) }

// SoldBy are all offers of a part: those that stand before those that are gone, and of one currency the cheapest a piece
// first.
func SoldBy(ctx context.Context, db inventory.DB, partID int64) ([]Sold, error) {
	rows, err := db.Query(ctx, `
		SELECT offer.id, supplier.code, supplier.currency, offer.code, offer.gone_at, offer.as_of, offer.pack, price_break.price
		FROM offer
		JOIN supplier ON supplier.id = offer.supplier_id
		JOIN LATERAL (SELECT price FROM price_break WHERE offer_id = offer.id ORDER BY from_packs LIMIT 1) AS price_break ON true
		WHERE offer.part_id = $1
		ORDER BY offer.gone_at IS NOT NULL, supplier.currency, price_break.price / offer.pack, supplier.code, offer.code`, partID)
	if err != nil {
		return nil, fmt.Errorf("read the offers of part %d: %w", partID, err)
	}
	offers, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (Sold, error) {
		var s Sold
		var said Was
		err := row.Scan(&s.OfferID, &s.Supplier, &s.Currency, &s.Code, &s.GoneAt, &said.AsOf, &said.Pack, &said.Price)
		s.Pack, s.Prices = said.Pack, []Was{said} // an offer recorded by hand has no history
		return s, err
	})
	if err != nil {
		return nil, fmt.Errorf("read the offers of part %d: %w", partID, err)
	}
	for i := range offers {
		history, err := priceHistory(ctx, db, offers[i].OfferID)
		if err != nil {
			return nil, err
		}
		if len(history) > 0 {
			offers[i].Prices = history
		}
		if offers[i].Retail, err = retailHistory(ctx, db, offers[i].OfferID); err != nil {
			return nil, err
		}
	}
	return offers, nil
}
