package pricing

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Found is what one visit to a place came to: the finding there, and those that follow from it at other places.
type Found struct {
	inspection.Finding
	Follows []inspection.Finding `json:"follows,omitempty"`
	Forgot  *inspection.Finding  `json:"forgot,omitempty"` // what stood there before, where the visit says that it was a mistake
}

// Inspect records a visit to a place of the job's bike. It adds to what was read there before, unless it says that it
// corrects; all that was read is judged together, as [inspection.Findings] says. A quote made before it no longer
// holds. What is read again where work was agreed tells how that came out.
func Inspect(ctx context.Context, tx pgx.Tx, jobID int64, visit inspection.Taken, now time.Time) (Found, error) {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return Found{}, err
	}
	if ended(state) {
		return Found{}, fmt.Errorf("job %d is %s: nothing more is found on a bike that has gone home", jobID, state)
	}
	before, err := takenOn(ctx, tx, jobID)
	if err != nil {
		return Found{}, err
	}
	if visit, err = visit.Check(before); err != nil {
		return Found{}, err
	}
	if visit.After, err = afterWork(ctx, tx, jobID, state, visit.Place); err != nil {
		return Found{}, err
	}
	stood, err := findings(ctx, tx, jobID)
	if err != nil {
		return Found{}, err
	}
	if _, err = tx.Exec(ctx, `INSERT INTO visit (job_id, place, taken, taken_at) VALUES ($1, $2, $3, $4)`, jobID, visit.Place, visit, now); err != nil {
		return Found{}, fmt.Errorf("recording what was found at %s: %w", visit.Place, err)
	}
	found, err := judgeAnew(ctx, tx, jobID)
	if err != nil {
		return Found{}, err
	}
	if err := unquote(ctx, tx, jobID, state, Inspected); err != nil {
		return Found{}, err
	}
	out := Found{Finding: inspection.Finding{Place: visit.Place}}
	if i := slices.IndexFunc(stood, func(f inspection.Finding) bool { return f.Place == visit.Place }); visit.Forget && i >= 0 {
		out.Forgot = &stood[i]
	}
	for _, f := range found {
		switch {
		case f.Place == visit.Place:
			out.Finding = f
		case f.From == visit.Place:
			out.Follows = append(out.Follows, f)
		}
	}
	return out, nil
}

// afterWork reports whether work is agreed at a place: what is read there again is read on what was done.
func afterWork(ctx context.Context, tx pgx.Tx, jobID int64, state JobState, place substitution.Place) (bool, error) {
	if state != JobApproved {
		return false, nil
	}
	agreed, err := AgreedOn(ctx, tx, jobID)
	if err != nil {
		return false, err
	}
	action, known := agreed.Work[place]
	return known && action != inspection.Keep, nil
}

// unquote ends an open quote, or an open amendment, that no longer holds and sets the job's state: one that is approved
// stays so.
func unquote(ctx context.Context, tx pgx.Tx, jobID int64, was, to JobState) error {
	if was == Quoted || was == JobApproved {
		if err := endOpenQuote(ctx, tx, jobID, Superseded); err != nil {
			return err
		}
	}
	if was == JobApproved {
		return nil
	}
	return setState(ctx, tx, jobID, to)
}

// takenOn are all visits to the places of a job's bike, in their order.
func takenOn(ctx context.Context, db inventory.DB, jobID int64) ([]inspection.Taken, error) {
	return documents[inspection.Taken](ctx, db, `SELECT taken FROM visit WHERE job_id = $1 ORDER BY id`, jobID)
}

// findings are what a job's visits came to when they were last judged, in the order of inspection.
func findings(ctx context.Context, db inventory.DB, jobID int64) ([]inspection.Finding, error) {
	list, err := documents[inspection.Finding](ctx, db, `SELECT document FROM finding WHERE job_id = $1`, jobID)
	if err != nil {
		return nil, err
	}
	return inspection.InOrder(list), nil
}

// documents are rows of one JSON column each, of a job.
func documents[T any](ctx context.Context, db inventory.DB, sql string, jobID int64) ([]T, error) {
	rows, err := db.Query(ctx, sql, jobID)
	if err == nil {
		var out []T
		if out, err = pgx.CollectRows(rows, pgx.RowTo[T]); err == nil {
			return out, nil
		}
	}
	return nil, fmt.Errorf("loading the findings of job %d: %w", jobID, err)
}

// judgeAnew judges all that was read on a job's bike as the bike is recorded now, and keeps what it comes to.
func judgeAnew(ctx context.Context, tx pgx.Tx, jobID int64) ([]inspection.Finding, error) {
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	taken, err := takenOn(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	found, err := inspection.Findings(job.Bike.Build, taken)
	if err != nil {
		return nil, fmt.Errorf("job %d: %w", jobID, err)
	}
	if _, err := tx.Exec(ctx, `DELETE FROM finding WHERE job_id = $1`, jobID); err != nil {
		return nil, fmt.Errorf("recording the findings of job %d: %w", jobID, err)
	}
	for _, f := range found {
		if _, err := tx.Exec(ctx, `INSERT INTO finding (job_id, place, document) VALUES ($1, $2, $3)`, jobID, f.Place, f); err != nil {
			return nil, fmt.Errorf("recording the finding at %s: %w", f.Place, err)
		}
	}
	return findings(ctx, tx, jobID)
}

// RecordFitted records what sits at a place of the bike of a job. Until the work is approved what was read is judged anew
// by it, and a quote made before it no longer holds.
func RecordFitted(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place, part *substitution.Part) error {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if err := setFitted(ctx, tx, job.Bike.ID, place, part); err != nil || ended(state) {
		return err
	}
	if _, err := judgeAnew(ctx, tx, jobID); err != nil {
		return err
	}
	if state == Booked {
		return nil
	}
	return unquote(ctx, tx, jobID, state, Inspected)
}

func (e *UndecidedError) Error() string {
	words := make([]string, len(e.Open))
	for i, f := range e.Open {
		words[i] = fmt.Sprintf("%s: %s", siteWords(f.Place), strings.Join(f.Asks, " and "))
	}
	return fmt.Sprintf("job %d is not decided yet: %s", e.JobID, strings.Join(words, "; "))
}

// checkDecided is an *[UndecidedError] while a finding of the job asks something.
func (j Job) checkDecided() error {
	e := &UndecidedError{JobID: j.ID}
	for _, f := range j.Findings {
		if len(f.Asks) > 0 {
			e.Open = append(e.Open, f)
		}
	}
	if len(e.Open) > 0 {
		return e
	}
	return nil
}
