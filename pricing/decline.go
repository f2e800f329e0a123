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
)

// WhyNot is why a customer takes no quote, or not as it is: one of the reasons, their own words, both, or neither.
type WhyNot struct {
	Because Because `json:"because,omitempty"`
	Words   string  `json:"words,omitempty"`
}

// CustomersReasons are those that a customer gives; that no answer came is the workshop's to say.
var CustomersReasons = []Because{ForPrice, ForDate, ForPart}

// check refuses what is no reason of a customer's.
func (w WhyNot) check() error {
	if w.Because != "" && !slices.Contains(CustomersReasons, w.Because) {
		return fmt.Errorf("a customer declines for price, date or part, not for %q", w.Because)
	}
	return nil
}

// keep keeps why a quote was not taken, where anything was said; what the workshop has said of it stays where the customer
// names no reason.
func (w WhyNot) keep(ctx context.Context, tx pgx.Tx, quoteID int64) error {
	if w.Words = strings.TrimSpace(w.Words); w == (WhyNot{}) {
		return nil
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO quote_lost (quote_id, because, words) VALUES ($1, nullif($2, ''), $3)
		ON CONFLICT (quote_id) DO UPDATE SET because = coalesce(excluded.because, quote_lost.because), words = excluded.words, at = shop_clock()`,
		quoteID, w.Because, w.Words)
	if err != nil {
		return fmt.Errorf("keeping why a quote was not taken: %w", err)
	}
	return nil
}

// SaidNo is a customer's no to a version of a job's quotes.
type SaidNo struct {
	Version int       `json:"version"`
	By      string    `json:"by"`
	At      time.Time `json:"at"`
	Whole   bool      `json:"whole"` // to all of it; else to a difference in it
	WhyNot
}

// NoesOf are the noes of a job's customer, in the order of the versions.
func NoesOf(ctx context.Context, db inventory.DB, jobID int64) ([]SaidNo, error) {
	rows, err := db.Query(ctx, `
		SELECT q.version, no.by_whom, no.at, no.whole, coalesce(l.because, ''), coalesce(l.words, '')
		FROM quote q LEFT JOIN quote_lost l ON l.quote_id = q.id
		CROSS JOIN LATERAL (SELECT by_whom, at, place = '' AS whole FROM decision WHERE quote_id = q.id AND NOT accepted ORDER BY at, place LIMIT 1) AS no
		WHERE q.job_id = $1 ORDER BY q.version`, jobID)
	if err != nil {
		return nil, fmt.Errorf("loading what was declined on job %d: %w", jobID, err)
	}
	defer rows.Close()
	var out []SaidNo
	for rows.Next() {
		var d SaidNo
		if err := rows.Scan(&d.Version, &d.By, &d.At, &d.Whole, &d.Because, &d.Words); err != nil {
			return nil, fmt.Errorf("loading what was declined on job %d: %w", jobID, err)
		}
		out = append(out, d)
	}
	return out, rows.Err()
}

// DeclineQuote records that the customer wants none of a quote, with why where they say so. Of an amendment what was agreed
// stays as it is, and what was new is remembered as advised; else the job waits for another quote, or is given up.
func DeclineQuote(ctx context.Context, tx pgx.Tx, jobID int64, version int, by string, why WhyNot, now time.Time) ([]Advice, error) {
	if by = strings.TrimSpace(by); by == "" {
		return nil, errors.New("a decline needs the name of who gave it")
	}
	if err := why.check(); err != nil {
		return nil, err
	}
	if _, err := lockJob(ctx, tx, jobID); err != nil {
		return nil, err
	}
	q, found, err := LastQuote(ctx, tx, jobID)
	switch {
	case err != nil:
		return nil, err
	case !found:
		return nil, stuck(jobID, MakeItsQuote, "job %d has no quote yet", jobID)
	case len(q.Options) == 0 && q.Amends == 0:
		return nil, stuck(jobID, AskWhyNot, "quote %d of job %d offers nothing: there is nothing to decline", q.Version, jobID)
	case q.Version != version:
		return nil, stuck(jobID, ShowItsQuote, "quote version %d of job %d is out of date, the newest is version %d", version, jobID, q.Version)
	case q.State == Approved && q.Amends == 0:
		return nil, stuck(jobID, GiveItUp, "job %d has no amendment to decline", jobID)
	case q.State != Open:
		return nil, fmt.Errorf("quote version %d of job %d is %s already", version, jobID, q.State)
	}
	if err := q.recordNo(ctx, tx, by, now); err != nil {
		return nil, err
	}
	if err := endOpenQuote(ctx, tx, jobID, Declined); err != nil {
		return nil, err
	}
	if err := why.keep(ctx, tx, q.ID); err != nil {
		return nil, err
	}
	if q.Amends == 0 {
		return nil, nil
	}
	return adviseWhatWasNew(ctx, tx, q, by, now)
}

// recordNo keeps who wants none of a quote.
func (q Quote) recordNo(ctx context.Context, tx pgx.Tx, by string, now time.Time) error {
	rule := "quote"
	if q.Amends > 0 {
		rule = "amendment"
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO decision (quote_id, option_name, place, rule, accepted, words, by_whom, at) VALUES ($1, '', '', $2, false, $3, $4, $5)`,
		q.ID, rule, "the "+rule, by, now)
	if err != nil {
		return fmt.Errorf("recording what %s said: %w", by, err)
	}
	return nil
}
