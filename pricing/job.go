package pricing

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Job is a bike in the workshop, from booking in to handing back.
type Job struct {
	ID       int64                `json:"job"`
	State    JobState             `json:"state"`
	Bike     Bike                 `json:"bike"`
	Wish     string               `json:"wish,omitempty"` // in the customer's words
	Limits   Limits               `json:"limits"`
	WantedBy *calendar.Day        `json:"wanted_by,omitempty"`
	Findings []inspection.Finding `json:"findings"`
}

// JobState is where a job stands.
type JobState string

const (
	Booked      JobState = "booked"
	Inspected   JobState = "inspected"
	Quoted      JobState = "quoted"
	JobApproved JobState = "approved"
	Closed      JobState = "closed"
	Cancelled   JobState = "cancelled"
)

// OpenJob books a bike in.
func OpenJob(ctx context.Context, tx pgx.Tx, bikeID int64, wish string, wantedBy *calendar.Day, limits Limits, now time.Time) (int64, error) {
	if _, err := BikeByID(ctx, tx, bikeID); err != nil {
		return 0, err
	}
	if err := limits.check(ctx, tx); err != nil {
		return 0, err
	}
	var id int64
	err := tx.QueryRow(ctx, `
		INSERT INTO job (bike_id, wish, wanted_by, limits, booked_at) VALUES ($1, $2, $3, $4, $5) RETURNING id`,
		bikeID, wish, wantedBy, limits, now).Scan(&id)
	if err != nil {
		return 0, fmt.Errorf("opening a job for bike %d: %w", bikeID, err)
	}
	return id, nil
}

// setLimits records what a job must keep to.
func setLimits(ctx context.Context, tx pgx.Tx, jobID int64, limits Limits) error {
	if _, err := tx.Exec(ctx, `UPDATE job SET limits = $2 WHERE id = $1`, jobID, limits); err != nil {
		return fmt.Errorf("recording the limits of job %d: %w", jobID, err)
	}
	return nil
}

// Inspect records what was found at a place of the job's bike. Readings propose a finding; the mechanic's action decides,
// and with no action given the proposal stands. A quote made before it no longer holds.
func Inspect(ctx context.Context, tx pgx.Tx, jobID int64, f inspection.Finding) (inspection.Finding, error) {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return f, err
	}
	if state != Booked && state != Inspected && state != Quoted {
		return f, fmt.Errorf("job %d is %s: findings are recorded before the work is approved", jobID, state)
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return f, err
	}
	site, err := substitution.SiteOf(f.Place)
	if err != nil {
		return f, err
	}
	if f.Readings, err = f.Readings.Check(site.Family); err != nil {
		return f, err
	}
	if f.Proposal, err = inspection.Propose(job.Bike.Build, f.Place, f.Readings); err != nil {
		return f, err
	}
	if f.Action == "" {
		f.Action = f.Proposal.Action
	}
	if f.Action == "" {
		return f, fmt.Errorf("the readings of the %s decide nothing: say keep, clean, adjust or replace", site.Words)
	}
	if f.Action, err = inspection.ParseAction(string(f.Action)); err != nil {
		return f, fmt.Errorf("%s: %w", site.Words, err)
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO finding (job_id, place, action, readings, proposed, note) VALUES ($1, $2, $3, $4, $5, $6)
		ON CONFLICT (job_id, place) DO UPDATE
		SET action = excluded.action, readings = excluded.readings, proposed = excluded.proposed, note = excluded.note, found_at = now()`,
		jobID, f.Place, f.Action, f.Readings, f.Proposal.Words, f.Note)
	if err != nil {
		return f, fmt.Errorf("recording the finding at %s: %w", f.Place, err)
	}
	if state == Quoted {
		if err := endOpenQuote(ctx, tx, jobID, Superseded); err != nil {
			return f, err
		}
	}
	return f, setState(ctx, tx, jobID, Inspected)
}

// JobByID loads a job with its bike and its findings in the order of inspection.
func JobByID(ctx context.Context, db inventory.DB, id int64) (Job, error) {
	j := Job{ID: id}
	var bikeID int64
	err := db.QueryRow(ctx, `SELECT bike_id, state, wish, limits, wanted_by FROM job WHERE id = $1`, id).
		Scan(&bikeID, &j.State, &j.Wish, &j.Limits, &j.WantedBy)
	if errors.Is(err, pgx.ErrNoRows) {
		return Job{}, fmt.Errorf("there is no job %d: `stead job list` shows all", id)
	}
	if err != nil {
		return Job{}, fmt.Errorf("loading job %d: %w", id, err)
	}
	if j.Bike, err = BikeByID(ctx, db, bikeID); err != nil {
		return Job{}, err
	}
	rows, err := db.Query(ctx, `SELECT place, action, readings, proposed, note FROM finding WHERE job_id = $1`, id)
	if err != nil {
		return Job{}, fmt.Errorf("loading the findings of job %d: %w", id, err)
	}
	found := map[substitution.Place]inspection.Finding{}
	var f inspection.Finding
	var proposed string
	_, err = pgx.ForEachRow(rows, []any{&f.Place, &f.Action, &f.Readings, &proposed, &f.Note}, func() error {
		f.Proposal, err = inspection.Propose(j.Bike.Build, f.Place, f.Readings)
		if f.Proposal.Words != proposed {
			f.Proposal = inspection.Proposal{Words: proposed} // the bike has changed since; what was said then stands
		}
		found[f.Place] = f
		f = inspection.Finding{}
		return err
	})
	if err != nil {
		return Job{}, fmt.Errorf("loading the findings of job %d: %w", id, err)
	}
	for _, site := range substitution.Sites() {
		if f, ok := found[site.Place]; ok {
			j.Findings = append(j.Findings, f)
		}
	}
	return j, nil
}

// JobSummary is a job in a list.
type JobSummary struct {
	ID       int64         `json:"job"`
	State    JobState      `json:"state"`
	Customer string        `json:"customer"`
	Bike     string        `json:"bike"`
	WantedBy *calendar.Day `json:"wanted_by,omitempty"`
	Promised *calendar.Day `json:"promised,omitempty"` // the day that was approved; absent: nothing is yet
	Waits    int           `json:"waits_for"`          // parts that are still to come
}

// Jobs lists the jobs that are not closed, or all of them.
func Jobs(ctx context.Context, db inventory.DB, all bool) ([]JobSummary, error) {
	rows, err := db.Query(ctx, `
		SELECT j.id, j.state, c.name, b.words, j.wanted_by,
		       (SELECT a.ready_on FROM approval a JOIN quote q ON q.id = a.quote_id WHERE q.job_id = j.id),
		       (SELECT count(*) FROM claim WHERE job_id = j.id AND claim.state IN ('wanted', 'ordered'))
		FROM job j JOIN bike b ON b.id = j.bike_id JOIN customer c ON c.id = b.customer_id
		WHERE $1 OR j.closed_at IS NULL
		ORDER BY j.id`, all)
	if err != nil {
		return nil, fmt.Errorf("loading jobs: %w", err)
	}
	jobs, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (j JobSummary, err error) {
		err = row.Scan(&j.ID, &j.State, &j.Customer, &j.Bike, &j.WantedBy, &j.Promised, &j.Waits)
		return j, err
	})
	if err != nil {
		return nil, fmt.Errorf("loading jobs: %w", err)
	}
	return jobs, nil
}

// CloseJob hands the bike back. Parts that are still to come or still reserved stand in the way: what was approved was
// either fitted or must be said to be left out. A job of which no work was approved is cancelled, and its open quote
// declined.
func CloseJob(ctx context.Context, tx pgx.Tx, jobID int64, leaveOut bool, now time.Time) error {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if state == Closed || state == Cancelled {
		return fmt.Errorf("job %d is %s already", jobID, state)
	}
	open, err := unfinished(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if len(open) > 0 && !leaveOut {
		return fmt.Errorf("job %d is not done: %s; use them with `stead job use %d`, or close with --leave-out to give them back", jobID, strings.Join(open, "; "), jobID)
	}
	if err := inventory.ReleaseJob(ctx, tx, jobID); err != nil {
		return err
	}
	if err := endOpenQuote(ctx, tx, jobID, Declined); err != nil {
		return err
	}
	closing := Cancelled
	if state == JobApproved {
		closing = Closed
	}
	_, err = tx.Exec(ctx, `UPDATE job SET state = $2, closed_at = $3 WHERE id = $1`, jobID, closing, now)
	if err != nil {
		return fmt.Errorf("closing job %d: %w", jobID, err)
	}
	return nil
}

// unfinished names what a job still waits for or has not used.
func unfinished(ctx context.Context, db inventory.DB, jobID int64) ([]string, error) {
	rows, err := db.Query(ctx, `
		SELECT format('%s of %s still to come', c.pieces, p.name) FROM claim c JOIN part p ON p.id = c.part_id
		WHERE c.job_id = $1 AND c.state IN ('wanted', 'ordered')
		UNION ALL
		SELECT format('%s of %s reserved and not used', r.pieces, p.name) FROM reservation r JOIN part p ON p.id = r.part_id
		WHERE r.job_id = $1 AND r.state = 'held'`, jobID)
	if err != nil {
		return nil, fmt.Errorf("loading what job %d waits for: %w", jobID, err)
	}
	open, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return nil, fmt.Errorf("loading what job %d waits for: %w", jobID, err)
	}
	return open, nil
}

// lockJob takes the job's row until the transaction ends, as inventory.Lock does, and gives its state.
func lockJob(ctx context.Context, tx pgx.Tx, id int64) (JobState, error) {
	var state JobState
	err := tx.QueryRow(ctx, `SELECT state FROM job WHERE id = $1 FOR NO KEY UPDATE`, id).Scan(&state)
	if errors.Is(err, pgx.ErrNoRows) {
		return "", fmt.Errorf("there is no job %d: `stead job list` shows all", id)
	}
	if err != nil {
		return "", fmt.Errorf("loading job %d: %w", id, err)
	}
	return state, nil
}

func setState(ctx context.Context, tx pgx.Tx, id int64, state JobState) error {
	if _, err := tx.Exec(ctx, `UPDATE job SET state = $2 WHERE id = $1`, id, state); err != nil {
		return fmt.Errorf("job %d: %w", id, err)
	}
	return nil
}
