package inventory

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// Confirmation is what a supplier says of an order line once it has the order: another day, that it is on back order,
// another price, or the price on its invoice. The last word of each kind counts.
type Confirmation struct {
	LineID     int64               `json:"line"`
	Kind       ConfirmationKind    `json:"kind"`
	ExpectedOn *calendar.Day       `json:"expected_on,omitempty"`
	Price      decimal.NullDecimal `json:"price,omitzero"` // a pack
	// BackOrdered: it is on back order, and the supplier cannot say until when.
	BackOrdered bool      `json:"back_ordered,omitempty"`
	Note        string    `json:"note,omitempty"`
	At          time.Time `json:"at"`
}

// ConfirmationKind says on which paper it stands.
type ConfirmationKind string

const (
	Acknowledged ConfirmationKind = "acknowledged"
	Invoiced     ConfirmationKind = "invoiced"
)

// Confirm records what a supplier says of lines of one of its orders. A day before the order was placed, a price that is
// not above zero or a line of another order is an error, and then nothing is recorded.
func Confirm(ctx context.Context, tx pgx.Tx, orderID int64, said []Confirmation, at time.Time) (Order, error) {
	o, err := OrderByID(ctx, tx, orderID)
	if err != nil {
		return Order{}, err
	}
	for _, c := range said {
		if _, ok := o.line(c.LineID); !ok {
			return Order{}, unknownLine(c.LineID, orderID)
		}
		if c.ExpectedOn != nil && *c.ExpectedOn < calendar.DayOf(o.PlacedAt) {
			return Order{}, fmt.Errorf("line %d of order %d cannot be expected on %s: it was ordered on %s", c.LineID, orderID, c.ExpectedOn, calendar.DayOf(o.PlacedAt))
		}
		if c.Price.Valid && !c.Price.Decimal.IsPositive() {
			return Order{}, fmt.Errorf("line %d of order %d: a price of %s a pack cannot be meant", c.LineID, orderID, c.Price.Decimal)
		}
		if _, err := tx.Exec(ctx, `
			INSERT INTO confirmation (order_line_id, kind, expected_on, price, back_ordered, note, at) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			c.LineID, c.Kind, c.ExpectedOn, c.Price, c.BackOrdered, c.Note, at); err != nil {
			return Order{}, fmt.Errorf("record what was said of line %d of order %d: %w", c.LineID, orderID, err)
		}
	}
	return o, nil
}

// Word is the last that a supplier said of an order line.
type Word struct {
	ExpectedOn   *calendar.Day       `json:"expected_on,omitempty"`
	BackOrdered  bool                `json:"back_ordered,omitempty"` // and until when it cannot say
	Acknowledged decimal.NullDecimal `json:"acknowledged_price,omitzero"`
	Invoiced     decimal.NullDecimal `json:"invoiced_price,omitzero"`
}

// LastWords are the last words on the lines of which anything was said, by line.
func LastWords(ctx context.Context, db DB, lineIDs []int64) (map[int64]Word, error) {
	rows, err := db.Query(ctx, `
		SELECT order_line_id, kind, expected_on, price, back_ordered FROM confirmation WHERE order_line_id = ANY($1) ORDER BY id`, lineIDs)
	if err != nil {
		return nil, fmt.Errorf("read what suppliers said: %w", err)
	}
	words := map[int64]Word{}
	var id int64
	var kind ConfirmationKind
	var expected *calendar.Day
	var price decimal.NullDecimal
	var backOrdered bool
	_, err = pgx.ForEachRow(rows, []any{&id, &kind, &expected, &price, &backOrdered}, func() error {
		w := words[id]
		if expected != nil || backOrdered {
			w.ExpectedOn, w.BackOrdered = expected, backOrdered
		}
		switch {
		case price.Valid && kind == Acknowledged:
			w.Acknowledged = price
		case price.Valid && kind == Invoiced:
			w.Invoiced = price
		}
		words[id] = w
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read what suppliers said: %w", err)
	}
	return words, nil
}
