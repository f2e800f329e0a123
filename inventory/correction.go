package inventory

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
)

// Hand is who corrects something, why and when.
type Hand struct {
	By  string
	Why string
	At  time.Time
	// Seen is how many corrections of the thing the screen showed from which it is corrected; nil: it was not looked at.
	// Where there are more by now the correction is refused as stale.
	Seen *int
}

// Change is one thing corrected: "phone", what it was and what it is.
type Change struct {
	What   string `json:"what"`
	Was    string `json:"was"`
	Became string `json:"became"`
}

// Correction is a line of the trail. It is never changed.
type Correction struct {
	ID     int64 `json:"id"`
	Of     Kind  `json:"of"` // customer, bike, job, part or order
	Number int64 `json:"number"`
	Change
	Why string    `json:"why,omitempty"`
	By  string    `json:"by"`
	At  time.Time `json:"at"`
}

// StaleError says that a thing was corrected since the screen was made from which it is to be corrected.
type StaleError struct {
	Of     Kind
	Number int64
	Last   Correction // the newest
}

func (e *StaleError) Error() string {
	return fmt.Sprintf("%s %d has been corrected since you looked, by %s (%s): look at it again", e.Of, e.Number, e.Last.By, e.Last.What)
}

// NothingToCorrectError says that a thing is already as it is to be.
type NothingToCorrectError struct {
	Of     Kind
	Number int64
}

func (e *NothingToCorrectError) Error() string {
	return fmt.Sprintf("%s %d is so already: there is nothing to correct", e.Of, e.Number)
}

// Correct writes the trail of a correction; the thing is locked by whoever corrects it. Changes that change nothing are left
// out; where none is left it is a *[NothingToCorrectError], and where the thing was corrected since it was seen a
// *[StaleError].
func Correct(ctx context.Context, tx pgx.Tx, hand Hand, of Kind, number int64, changes ...Change) error {
	if strings.TrimSpace(hand.By) == "" {
		return errors.New("a correction needs the name of who makes it")
	}
	if err := hand.checkFresh(ctx, tx, of, number); err != nil {
		return err
	}
	changed := false
	for _, c := range changes {
		if c.Was == c.Became {
			continue
		}
		changed = true
		if _, err := tx.Exec(ctx, `
			INSERT INTO correction (of, number, what, was, became, why, by_whom, at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
			of, number, c.What, c.Was, c.Became, strings.TrimSpace(hand.Why), strings.TrimSpace(hand.By), hand.At); err != nil {
			return fmt.Errorf("keep the correction of %s %d: %w", of, number, err)
		}
	}
	if !changed {
		return &NothingToCorrectError{of, number}
	}
	return nil
}

// checkFresh is a *[StaleError] where the thing was corrected since it was seen.
func (h Hand) checkFresh(ctx context.Context, db DB, of Kind, number int64) error {
	if h.Seen == nil {
		return nil
	}
	trail, err := Corrections(ctx, db, of, number)
	if err != nil {
		return err
	}
	if n := len(trail); n != *h.Seen {
		stale := &StaleError{Of: of, Number: number}
		if n > 0 {
			stale.Last = trail[n-1]
		}
		return stale
	}
	return nil
}

// Corrections are a thing's trail, the oldest first.
func Corrections(ctx context.Context, db DB, of Kind, number int64) ([]Correction, error) {
	trail, err := Collect(ctx, db, func(row pgx.CollectableRow) (c Correction, err error) {
		err = row.Scan(&c.ID, &c.Of, &c.Number, &c.What, &c.Was, &c.Became, &c.Why, &c.By, &c.At)
		return c, err
	}, `SELECT id, of, number, what, was, became, why, by_whom, at FROM correction WHERE of = $1 AND number = $2 ORDER BY id`, of, number)
	if err != nil {
		return nil, fmt.Errorf("read the corrections of %s %d: %w", of, number, err)
	}
	return trail, nil
}
