package pricing

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/shelf"
)

// Because is why a quote came to nothing or was changed, in one word.
type Because string

// The reasons. A quote lost for its date or for a part counts as demand for what was not on the shelf; see
// [shelf.LoadDemand].
const (
	ForPrice Because = "price"
	ForDate  Because = Because(shelf.LostForDate) // it would have been too late
	ForPart  Because = Because(shelf.LostForPart) // the part that was wanted could not be had
	NoAnswer Because = "no-answer"
)

// Reasons are all of them.
var Reasons = []Because{ForPrice, ForDate, ForPart, NoAnswer}

// Lost is a quote that was declined, ran out or was changed, and was not approved.
type Lost struct {
	JobID    int64        `json:"job"`
	Version  int          `json:"version"`
	Customer string       `json:"customer"`
	Bike     string       `json:"bike"`
	MadeOn   calendar.Day `json:"made_on"`
	How      string       `json:"how"`               // declined, superseded, or run out
	Because  Because      `json:"because,omitempty"` // absent: nobody has said
	Note     string       `json:"note,omitempty"`
	Words    string       `json:"words,omitempty"` // the customer's own, where they gave any
}

// LostQuotes are those of a year that came to nothing or were changed, the newest first; with unasked only those of which
// nobody has said why. One that offered nothing and was made anew, when an answer was known, was nobody's to take.
func LostQuotes(ctx context.Context, db inventory.DB, unasked bool, now time.Time) ([]Lost, error) {
	rows, err := db.Query(ctx, `
		SELECT q.job_id, q.version, q.document ->> 'customer', q.document ->> 'bike', q.made_at::date,
		       CASE WHEN q.state = 'open' THEN 'run out' ELSE q.state END, coalesce(l.because, ''), coalesce(l.note, ''), coalesce(l.words, '')
		FROM quote q LEFT JOIN quote_lost l ON l.quote_id = q.id
		WHERE (q.state = 'declined' OR q.state = 'open' AND q.valid_until < $1
		       OR q.state = 'superseded' AND jsonb_typeof(q.document -> 'options') = 'array' AND q.document -> 'options' <> '[]')
		  AND q.made_at > $2 AND NOT ($3 AND l.because IS NOT NULL)
		ORDER BY q.id DESC`, calendar.DayOf(now), now.AddDate(-1, 0, 0), unasked)
	if err != nil {
		return nil, fmt.Errorf("loading the quotes that were lost: %w", err)
	}
	lost, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Lost])
	if err != nil {
		return nil, fmt.Errorf("loading the quotes that were lost: %w", err)
	}
	return lost, nil
}

// SayLost keeps why a version of a job's quote came to nothing or was changed; version 0 is the newest. A later answer takes
// the place of an earlier one. What still stands is not lost.
func SayLost(ctx context.Context, tx pgx.Tx, jobID int64, version int, because Because, note string, now time.Time) error {
	if !slices.Contains(Reasons, because) {
		return fmt.Errorf("a quote is lost for price, date, part or no-answer, not for %q", because)
	}
	if _, err := lockJob(ctx, tx, jobID); err != nil {
		return err
	}
	var id int64
	var state QuoteState
	var until calendar.Day
	err := tx.QueryRow(ctx, `
		SELECT id, state, version, valid_until FROM quote WHERE job_id = $1 AND ($2 = 0 OR version = $2) ORDER BY version DESC LIMIT 1`, jobID, version).Scan(&id, &state, &version, &until)
	if errors.Is(err, pgx.ErrNoRows) {
		return fmt.Errorf("job %d has no such quote", jobID)
	}
	if err != nil {
		return fmt.Errorf("loading the quote of job %d: %w", jobID, err)
	}
	switch {
	case state == Approved:
		return fmt.Errorf("quote %d of job %d was approved: it was not lost", version, jobID)
	case state == Open && until >= calendar.DayOf(now):
		return fmt.Errorf("quote %d of job %d still stands, until %s: it is not lost while the customer may take it", version, jobID, until)
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO quote_lost (quote_id, because, note) VALUES ($1, $2, $3)
		ON CONFLICT (quote_id) DO UPDATE SET because = excluded.because, note = excluded.note, at = shop_clock()`, id, because, strings.TrimSpace(note))
	if err != nil {
		return fmt.Errorf("keeping why quote %d of job %d was lost: %w", version, jobID, err)
	}
	return nil
}
