package billing

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Dated says by what a paper is dated where the clock stands on a day before that of the paper before it.
type Dated string

const (
	NotSaid Dated = ""      // it is not written: see BehindError
	AsLast  Dated = "last"  // by the paper before it, for the clock is wrong
	ByClock Dated = "today" // by the clock, for the paper before it was dated by a wrong one
)

// Moment is when a paper is written: what the clock says, and what is to be done where that cannot be.
type Moment struct {
	Now   time.Time
	Dated Dated
}

// BehindError says that the clock stands on a day before that of the last bill or credit note. A bill bears its date and a
// number in a sequence (Directive 2006/112/EC, article 226, 1 and 2); that the one does not run against the other is common
// practice, no source.
type BehindError struct {
	Series Series // of the last paper
	Number int64
	Its    calendar.Day
	Today  calendar.Day
}

func (e *BehindError) Error() string {
	return fmt.Sprintf("the clock says %s, and %s %d is dated %s: a paper is not dated before the one before it",
		e.Today.Words(e.Its), e.Series, e.Number, e.Its.Words(e.Today))
}

// Behind tells of a clock that stands on a day before that of the last paper; nil where it does not.
func Behind(ctx context.Context, db inventory.DB, now time.Time) (*BehindError, error) {
	_, err := Moment{Now: now}.afterLast(ctx, db)
	var behind *BehindError
	if errors.As(err, &behind) {
		return behind, nil
	}
	return nil, err
}

// next is the date of the paper that is written now. Whoever asks is the only one who writes a paper until tx ends, so that
// none comes between.
func (m Moment) next(ctx context.Context, tx pgx.Tx) (time.Time, error) {
	if _, err := tx.Exec(ctx, `SELECT FROM bill_series ORDER BY series FOR UPDATE`); err != nil {
		return time.Time{}, fmt.Errorf("dating a bill: %w", err)
	}
	return m.afterLast(ctx, tx)
}

// atOnce is how far apart two clocks may be, or two who write at once around midnight: nobody is asked for that.
const atOnce = 5 * time.Minute

func (m Moment) afterLast(ctx context.Context, db inventory.DB) (time.Time, error) {
	var made time.Time
	e := BehindError{Today: calendar.DayOf(m.Now)}
	err := db.QueryRow(ctx, `SELECT series, number, made_at FROM bill ORDER BY id DESC LIMIT 1`).Scan(&e.Series, &e.Number, &made)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return m.Now, nil
	case err != nil:
		return m.Now, fmt.Errorf("dating a bill: %w", err)
	}
	made = made.In(m.Now.Location())
	e.Its = calendar.DayOf(made)
	switch {
	case e.Today >= e.Its, m.Dated == ByClock:
		return m.Now, nil
	case m.Dated == AsLast, made.Sub(m.Now) <= atOnce:
		return made, nil
	}
	return m.Now, &e
}
