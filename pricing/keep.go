package pricing

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/post"
)

// MakeQuote drafts a quote for a job as things stand now and keeps it as the job's next version. An open version before
// it is superseded; an approved job is not quoted again.
func MakeQuote(ctx context.Context, tx pgx.Tx, jobID int64, now time.Time) (Quote, error) {
	job, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return Quote{}, err
	}
	switch job {
	case Inspected, Quoted:
	case Booked:
		return Quote{}, stuck(jobID, RecordFindings, "job %d is not inspected yet", jobID)
	case JobApproved:
		return Quote{}, stuck(jobID, AmendIt, "job %d is approved: it is not quoted again", jobID)
	default:
		return Quote{}, fmt.Errorf("job %d is %s: it is not quoted again", jobID, job)
	}
	s, err := LoadSituation(ctx, tx, jobID, now)
	if err != nil {
		return Quote{}, err
	}
	q, err := s.DraftWithWaysOut(ctx, tx)
	if err != nil {
		return Quote{}, err
	}
	if err := keepQuote(ctx, tx, &q); err != nil {
		return Quote{}, err
	}
	return q, setState(ctx, tx, jobID, Quoted)
}

// DraftWithWaysOut is a draft that, where nothing does the job, also looks for what would if more were replaced than was
// found; for that it reads prices of work and offers.
func (s Situation) DraftWithWaysOut(ctx context.Context, db inventory.DB) (Quote, error) {
	q, err := s.Draft(ctx)
	if err != nil || q.Refusal == nil || len(q.Refusal.WaysOut) > 0 {
		return q, err
	}
	q.Refusal.WaysOut, err = s.replacingMore(ctx, db)
	return q, err
}

// keepQuote keeps a quote as its job's next version, in the place of one that is open.
func keepQuote(ctx context.Context, tx pgx.Tx, q *Quote) error {
	if err := endOpenQuote(ctx, tx, q.JobID, Superseded); err != nil {
		return err
	}
	if err := tx.QueryRow(ctx, `SELECT coalesce(max(version), 0) + 1 FROM quote WHERE job_id = $1`, q.JobID).Scan(&q.Version); err != nil {
		return fmt.Errorf("numbering the quote of job %d: %w", q.JobID, err)
	}
	err := tx.QueryRow(ctx, `
		INSERT INTO quote (job_id, version, amends, made_at, valid_until, document) VALUES ($1, $2, nullif($3, 0), $4, $5, $6) RETURNING id`,
		q.JobID, q.Version, q.Amends, q.MadeAt, q.ValidUntil, q).Scan(&q.ID)
	if err != nil {
		return fmt.Errorf("keeping the quote of job %d: %w", q.JobID, err)
	}
	return nil
}

// endOpenQuote settles what became of a job's open quote, if it has one.
func endOpenQuote(ctx context.Context, tx pgx.Tx, jobID int64, as QuoteState) error {
	var version int
	err := tx.QueryRow(ctx, `UPDATE quote SET state = $2 WHERE job_id = $1 AND state = 'open' RETURNING version`, jobID, as).Scan(&version)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("the open quote of job %d: %w", jobID, err)
	}
	return post.Withdraw(ctx, tx, jobID, QuoteTitle(version), "it was not sent: the quote is "+string(as))
}

// QuoteTitle is how a version is called, on pages, papers and in the post.
func QuoteTitle(version int) string { return fmt.Sprintf("quote %d", version) }

// LastQuote is a job's newest quote, or false if it has none.
func LastQuote(ctx context.Context, db inventory.DB, jobID int64) (Quote, bool, error) {
	var q Quote
	var id int64
	var state QuoteState
	err := db.QueryRow(ctx, `
		SELECT id, state, document FROM quote WHERE job_id = $1 ORDER BY version DESC LIMIT 1`, jobID).Scan(&id, &state, &q)
	if errors.Is(err, pgx.ErrNoRows) {
		return Quote{}, false, nil
	}
	if err != nil {
		return Quote{}, false, fmt.Errorf("loading the quote of job %d: %w", jobID, err)
	}
	q.ID, q.State = id, state
	return q, true, nil
}

// LastQuotes are the newest quotes of some jobs; one that has none is left out.
func LastQuotes(ctx context.Context, db inventory.DB, jobIDs []int64) (map[int64]Quote, error) {
	rows, err := db.Query(ctx, `
		SELECT DISTINCT ON (job_id) id, state, document FROM quote WHERE job_id = ANY($1) ORDER BY job_id, version DESC`, jobIDs)
	if err != nil {
		return nil, fmt.Errorf("load the newest quotes: %w", err)
	}
	out := map[int64]Quote{}
	for rows.Next() {
		var q Quote
		var id int64
		var state QuoteState
		if err := rows.Scan(&id, &state, &q); err != nil {
			return nil, fmt.Errorf("load the newest quotes: %w", err)
		}
		q.ID, q.State = id, state
		out[q.JobID] = q
	}
	if err := rows.Err(); err != nil {
		return nil, fmt.Errorf("load the newest quotes: %w", err)
	}
	return out, nil
}

// ApprovedQuote is the quote of a job that the customer approved, with the option that was chosen. What amendments made
// of it is told by [AgreedOn].
func ApprovedQuote(ctx context.Context, db inventory.DB, jobID int64) (Quote, Approval, error) {
	var q Quote
	var a Approval
	var id int64
	err := db.QueryRow(ctx, `
		SELECT q.id, q.document, a.option_name, a.total, a.by_whom, a.at, a.ready_on
		FROM quote q JOIN approval a ON a.quote_id = q.id
		WHERE q.job_id = $1 AND q.amends IS NULL`, jobID).Scan(&id, &q, &a.Option, &a.Total, &a.By, &a.At, &a.ReadyOn)
	if errors.Is(err, pgx.ErrNoRows) {
		return Quote{}, Approval{}, fmt.Errorf("job %d has no approved quote", jobID)
	}
	if err != nil {
		return Quote{}, Approval{}, fmt.Errorf("loading the approved quote of job %d: %w", jobID, err)
	}
	q.ID, q.State = id, Approved
	return q, a, nil
}

// option finds an option by any of its names.
func (q Quote) option(name string) (Option, error) {
	o, names := byName(q.Options, name)
	switch {
	case names == nil:
		return o, nil
	case len(names) == 0:
		return o, fmt.Errorf("quote %d of job %d has no option to choose: nothing does the job yet", q.Version, q.JobID)
	}
	return o, fmt.Errorf("quote %d of job %d has no option %q: choose %s", q.Version, q.JobID, name, joinOr(names))
}

// byName finds an option by any of its names; where there is none of that name it gives those that there are.
func byName(options []Option, name string) (o Option, names []string) {
	names = []string{}
	for _, o := range options {
		if o.Named(name) {
			return o, nil
		}
		names = append(names, o.Names...)
	}
	return Option{}, names
}

// checkCurrent reports why a quote can't be decided on any more, or nil.
func (q Quote) checkCurrent(version int, today calendar.Day) error {
	switch {
	case q.Version != version:
		return stuck(q.JobID, ShowItsQuote, "quote version %d of job %d is out of date, the newest is version %d", version, q.JobID, q.Version)
	case q.State == Superseded && q.Amends > 0:
		return stuck(q.JobID, AmendIt, "amendment %d of job %d is out of date, the findings or the bike have changed since", q.Version, q.JobID)
	case q.State == Superseded:
		return stuck(q.JobID, QuoteAgain, "quote version %d of job %d is out of date, the findings or the bike have changed since", q.Version, q.JobID)
	case q.State != Open:
		return fmt.Errorf("quote version %d of job %d is %s already", q.Version, q.JobID, q.State)
	case today > q.ValidUntil && q.Amends > 0:
		return stuck(q.JobID, AmendIt, "amendment %d of job %d was valid until %s", q.Version, q.JobID, q.ValidUntil.Words(today))
	case today > q.ValidUntil:
		return stuck(q.JobID, QuoteAgain, "quote version %d of job %d was valid until %s", q.Version, q.JobID, q.ValidUntil.Words(today))
	}
	return nil
}
