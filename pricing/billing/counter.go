package billing

import (
	"context"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing"
)

// Sold is a part sold over the counter.
type Sold struct {
	Part   inventory.Part
	Pieces int
}

// Sell sells parts over the counter, for no job: they leave the shelf, and the bill, which is the till slip, is paid
// there and then. Where the clock is behind the last paper it is a BehindError.
func Sell(ctx context.Context, tx pgx.Tx, request string, sold []Sold, how string, at Moment) (Bill, error) {
	if len(sold) == 0 {
		return Bill{}, errNothing
	}
	parts, ids := make([]inventory.Part, len(sold)), make([]int64, len(sold))
	for i, s := range sold {
		parts[i], ids[i] = s.Part, s.Part.ID
	}
	if err := inventory.Lock(ctx, tx, nil, ids); err != nil {
		return Bill{}, err
	}
	made, err := at.next(ctx, tx)
	if err != nil {
		return Bill{}, err
	}
	prices, err := pricing.CounterPrices(ctx, tx, parts, made)
	if err != nil {
		return Bill{}, err
	}
	b := Bill{Series: Bills, MadeAt: made, Currency: prices.Currency()}
	for _, s := range sold {
		if err := inventory.Sell(ctx, tx, request, s.Part.ID, s.Pieces, ""); err != nil {
			return Bill{}, err
		}
		amount, err := prices.Of(s.Part, s.Pieces)
		if err != nil {
			return Bill{}, err
		}
		b.Lines = append(b.Lines, Line{Kind: pricing.PartsLine, Words: s.Part.Name, PartID: s.Part.ID, Pieces: s.Pieces, Tax: prices.Tax(s.Part), Amount: amount})
	}
	b.sumUp()
	if err := b.write(ctx, tx); err != nil {
		return Bill{}, err
	}
	if b.Total.IsZero() {
		return b, nil
	}
	_, err = Account{Due: b.Total}.take(ctx, tx, decimal.NullDecimal{}, strings.TrimSpace(how), made, false, nil, &b.ID)
	return b, err
}

// PayBill records money for a sale over the counter, or gives it back after a credit note.
func PayBill(ctx context.Context, tx pgx.Tx, number int64, amount decimal.NullDecimal, how string, now time.Time) (Payment, error) {
	b, err := Numbered(ctx, tx, Bills, number)
	if err != nil {
		return Payment{}, err
	}
	if b.JobID != 0 {
		return Pay(ctx, tx, b.JobID, amount, how, now)
	}
	if _, err := tx.Exec(ctx, `SELECT FROM bill WHERE id = $1 FOR UPDATE`, b.ID); err != nil {
		return Payment{}, err
	}
	a, err := AccountOf(ctx, tx, b)
	if err != nil {
		return Payment{}, err
	}
	return a.take(ctx, tx, amount, how, now, false, nil, &b.ID)
}
