package inventory

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory/calendar"
	"stead/substitution"
)

// ClaimState is where a claim stands.
type ClaimState string

const (
	ClaimWanted    ClaimState = "wanted"    // nobody has ordered it
	ClaimOrdered   ClaimState = "ordered"   // a line of an order brings it
	ClaimArrived   ClaimState = "arrived"   // it is here and reserved
	ClaimCancelled ClaimState = "cancelled" // the job does without
)

// Claim is pieces that an approved job lacks and that must be bought.
type Claim struct {
	ID          int64              `json:"id"`
	JobID       int64              `json:"job"`
	Place       substitution.Place `json:"place"`
	PartID      int64              `json:"part_id"`
	OfferID     int64              `json:"offer_id"` // as quoted; another offer of the same part may be ordered
	Pieces      int                `json:"pieces"`
	Substitute  bool               `json:"substitute"` // not like for like: to be measured on arrival
	DueOn       calendar.Day       `json:"due_on"`
	State       ClaimState         `json:"state"`
	OrderLineID *int64             `json:"order_line_id,omitempty"`
}

const claimColumns = `id, job_id, place, part_id, offer_id, pieces, substitute, due_on, state, order_line_id`

// AddClaim says that an approved job lacks pieces. ID, State and OrderLineID are not asked.
func AddClaim(ctx context.Context, tx pgx.Tx, c Claim) error {
	if err := CheckPieces(c.Pieces); err != nil {
		return err
	}
	if err := Lock(ctx, tx, []int64{c.JobID}, nil); err != nil {
		return err
	}
	if err := checkApproved(ctx, tx, c.JobID); err != nil {
		return err
	}
	offer, err := OfferByID(ctx, tx, c.OfferID)
	if err != nil {
		return err
	}
	if c.PartID, err = Became(ctx, tx, c.PartID); err != nil { // a quote may be older than its part's new number
		return err
	}
	if offer.PartID != c.PartID {
		return fmt.Errorf("offer %d is of part %d, not of part %d", offer.ID, offer.PartID, c.PartID)
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO claim (job_id, place, part_id, offer_id, pieces, substitute, due_on) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		c.JobID, c.Place, c.PartID, c.OfferID, c.Pieces, c.Substitute, c.DueOn)
	if err != nil {
		return fmt.Errorf("claim %d of part %d for job %d: %w", c.Pieces, c.PartID, c.JobID, err)
	}
	return nil
}

// OpenClaims are all claims that have not arrived, wanted and ordered, the first due first.
func OpenClaims(ctx context.Context, db DB) ([]Claim, error) {
	return claims(ctx, db, `WHERE state IN ('wanted', 'ordered')`)
}

// ClaimsOfJob are all claims of a job, whatever became of them, the first due first.
func ClaimsOfJob(ctx context.Context, db DB, jobID int64) ([]Claim, error) {
	return claims(ctx, db, `WHERE job_id = $1`, jobID)
}

// OrderedClaim is what a job waits for on an order.
type OrderedClaim struct {
	JobID   int64 `json:"job"`
	OrderID int64 `json:"order"`
	LineID  int64 `json:"line"`
}

// OrderedClaims are the jobs that wait for a part on orders that are placed.
func OrderedClaims(ctx context.Context, db DB, partID int64) ([]OrderedClaim, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[OrderedClaim], `
		SELECT DISTINCT c.job_id, l.order_id, l.id FROM claim c JOIN order_line l ON l.id = c.order_line_id
		WHERE c.part_id = $1 AND c.state = 'ordered' ORDER BY 1, 2, 3`, partID)
	if err != nil {
		return nil, fmt.Errorf("read who waits for part %d: %w", partID, err)
	}
	return all, nil
}

// AwaitedByJob is how many lots of parts each job still waits for; a job that waits for none is not among them.
func AwaitedByJob(ctx context.Context, db DB) (map[int64]int, error) {
	rows, err := db.Query(ctx, `SELECT job_id, count(*) FROM claim WHERE state IN ('wanted', 'ordered') GROUP BY job_id`)
	if err != nil {
		return nil, fmt.Errorf("read what jobs wait for: %w", err)
	}
	waits := map[int64]int{}
	var job int64
	var n int
	if _, err := pgx.ForEachRow(rows, []any{&job, &n}, func() error { waits[job] = n; return nil }); err != nil {
		return nil, fmt.Errorf("read what jobs wait for: %w", err)
	}
	return waits, nil
}

func claims(ctx context.Context, db DB, where string, args ...any) ([]Claim, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Claim], `
		SELECT `+claimColumns+` FROM claim `+where+` ORDER BY due_on, id`, args...)
	if err != nil {
		return nil, fmt.Errorf("read what jobs lack: %w", err)
	}
	return all, nil
}

// splitClaim parts pieces off a claim into a new one, otherwise the same, and returns its number. The old one keeps the
// rest.
func splitClaim(ctx context.Context, tx pgx.Tx, id int64, off int) (int64, error) {
	var parted int64
	err := tx.QueryRow(ctx, `
		WITH rest AS (UPDATE claim SET pieces = pieces - $2 WHERE id = $1 RETURNING *)
		INSERT INTO claim (job_id, place, part_id, offer_id, pieces, substitute, due_on, order_line_id, state)
		SELECT job_id, place, part_id, offer_id, $2, substitute, due_on, order_line_id, state FROM rest
		RETURNING id`, id, off).Scan(&parted)
	if err != nil {
		return 0, fmt.Errorf("split claim %d: %w", id, err)
	}
	return parted, nil
}

// lockJobsOf locks the jobs of some claims, and the stock of parts with them.
func lockJobsOf(ctx context.Context, tx pgx.Tx, partIDs []int64, where string, args ...any) error {
	jobs, err := Collect(ctx, tx, pgx.RowTo[int64], `SELECT job_id FROM claim `+where, args...)
	if err != nil {
		return fmt.Errorf("read whose claims they are: %w", err)
	}
	return Lock(ctx, tx, jobs, partIDs)
}
