package inventory

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory/calendar"
)

// closuresOf is a column with all closures of a supplier, or of the workshop, as JSON, the first day first.
func closuresOf(whose string) string {
	return `(SELECT COALESCE(json_agg(json_build_object('first', first_day, 'last', last_day, 'reason', why) ORDER BY first_day), '[]')
		FROM closure WHERE supplier_id IS NOT DISTINCT FROM ` + whose + `)`
}

// Close records that a supplier, or without one the workshop, is closed from a day to another, both included, and why:
// stocktaking, the mechanic's own holiday, a strike. A closure that was recorded from the same first day is replaced.
//
// Every day promised from now on passes over it. One that lies in the past is welcome too: what came late then is no
// longer held against the supplier. A closure that ends before it begins, lasts longer than a year or gives no reason
// is an error.
func Close(ctx context.Context, tx pgx.Tx, supplierID *int64, c calendar.Closure) error {
	if _, err := calendar.New(calendar.Rules{Closures: []calendar.Closure{c}}); err != nil {
		return err
	}
	if strings.TrimSpace(c.Reason) == "" {
		return errors.New("a closure needs a reason, such as stocktaking: it is what a mechanic reads later")
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO closure (supplier_id, first_day, last_day, why) VALUES ($1, $2, $3, $4)
		ON CONFLICT ON CONSTRAINT closure_begins_once DO UPDATE SET last_day = EXCLUDED.last_day, why = EXCLUDED.why`,
		supplierID, c.First, c.Last, c.Reason)
	if err != nil {
		return fmt.Errorf("record the closure from %s: %w", c.First, err)
	}
	return nil
}

// Reopen says that a supplier, or without one the workshop, works again from the day on: what closure the day lies in
// ends the day before, and is forgotten if it would only begin then. A day that lies in no closure is an error.
func Reopen(ctx context.Context, tx pgx.Tx, supplierID *int64, day calendar.Day) error {
	forgotten, err := tx.Exec(ctx, `DELETE FROM closure WHERE supplier_id IS NOT DISTINCT FROM $1 AND first_day = $2`, supplierID, day)
	if err != nil {
		return fmt.Errorf("forget the closure from %s: %w", day, err)
	}
	cut, err := tx.Exec(ctx, `
		UPDATE closure SET last_day = $2::date - 1
		WHERE supplier_id IS NOT DISTINCT FROM $1 AND first_day < $2 AND last_day >= $2`, supplierID, day)
	if err != nil {
		return fmt.Errorf("end the closure before %s: %w", day, err)
	}
	if forgotten.RowsAffected()+cut.RowsAffected() == 0 {
		return fmt.Errorf("no closure is recorded for %s: weekdays and bank holidays are closed by their own rules", day)
	}
	return nil
}
