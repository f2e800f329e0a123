package pricing

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
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
	Ending   *Ending              `json:"ending,omitempty"` // absent: it is still in the workshop, or ended before this was kept
}

// JobState is where a job stands.
type JobState = inventory.JobState

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

// JobByID loads a job with its bike and its findings in the order of inspection.
func JobByID(ctx context.Context, db inventory.DB, id int64) (Job, error) {
	j := Job{ID: id}
	var bikeID int64
	err := db.QueryRow(ctx, `SELECT bike_id, state, wish, limits, wanted_by, ending FROM job WHERE id = $1`, id).
		Scan(&bikeID, &j.State, &j.Wish, &j.Limits, &j.WantedBy, &j.Ending)
	if errors.Is(err, pgx.ErrNoRows) {
		return Job{}, &inventory.UnknownError{Kind: inventory.OfJob, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Job{}, fmt.Errorf("loading job %d: %w", id, err)
	}
	if j.Limits, err = j.Limits.became(ctx, db); err != nil {
		return Job{}, err
	}
	if j.Bike, err = BikeByID(ctx, db, bikeID); err != nil {
		return Job{}, err
	}
	j.Findings, err = findings(ctx, db, id)
	return j, err
}

// CountJobs is how many jobs there are, whatever became of them.
func CountJobs(ctx context.Context, db inventory.DB) (n int, err error) {
	if err = db.QueryRow(ctx, `SELECT count(*) FROM job`).Scan(&n); err != nil {
		return 0, fmt.Errorf("counting the jobs: %w", err)
	}
	return n, nil
}

// lockJob takes the job's row until the transaction ends, as inventory.Lock does, and gives its state.
func lockJob(ctx context.Context, tx pgx.Tx, id int64) (JobState, error) {
	var state JobState
	err := tx.QueryRow(ctx, `SELECT state FROM job WHERE id = $1 FOR NO KEY UPDATE`, id).Scan(&state)
	if errors.Is(err, pgx.ErrNoRows) {
		return "", &inventory.UnknownError{Kind: inventory.OfJob, Name: fmt.Sprint(id)}
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
