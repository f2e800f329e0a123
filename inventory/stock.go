package inventory

import (
	"context"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"
)

// Stock is how many pieces of a part there are, in all bins.
type Stock struct {
	OnHand   int `json:"on_hand"`
	Reserved int `json:"reserved"`          // of those on hand, kept for approved jobs
	OnOrder  int `json:"on_order"`          // still to come
	ForJobs  int `json:"on_order_for_jobs"` // of those on order, for approved jobs
	Wanted   int `json:"wanted"`            // that approved jobs lack and nobody has ordered yet
}

// Free is what is on hand and nobody's.
func (s Stock) Free() int { return s.OnHand - s.Reserved }

// StockOf is the stock of parts; one that was never on the shelf has none.
func StockOf(ctx context.Context, db DB, partIDs []int64) (map[int64]Stock, error) {
	// Each table is read once for all parts and the sums put together by part: a join of tables of which the server cannot
	// tell how many parts they name may compare each with each.
	rows, err := db.Query(ctx, `
		SELECT part_id, sum(on_hand), sum(reserved), sum(on_order), sum(for_jobs), sum(wanted)
		FROM (
			SELECT part_id, on_hand, reserved, 0 AS on_order, 0 AS for_jobs, 0 AS wanted FROM shelf WHERE part_id = ANY($1)
			UNION ALL
			SELECT part_id, 0, 0, packs * pack - received - cancelled, 0, 0 FROM order_line WHERE part_id = ANY($1)
			UNION ALL
			SELECT part_id, 0, 0, 0, CASE state WHEN 'ordered' THEN pieces ELSE 0 END, CASE state WHEN 'wanted' THEN pieces ELSE 0 END
			FROM claim WHERE part_id = ANY($1) AND state IN ('wanted', 'ordered')
		) AS sums
		GROUP BY part_id`, partIDs)
	if err != nil {
		return nil, fmt.Errorf("read the stock: %w", err)
	}
	m := make(map[int64]Stock, len(partIDs))
	var id int64
	var s Stock
	_, err = pgx.ForEachRow(rows, []any{&id, &s.OnHand, &s.Reserved, &s.OnOrder, &s.ForJobs, &s.Wanted}, func() error {
		m[id] = s
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the stock: %w", err)
	}
	return m, nil
}

// Lock takes the locks of a transaction that is going to change reservations or claims of jobs and the stock of parts:
// jobs first, then shelf rows, each by number, so that no two transactions wait for each other. An unknown job or part
// is an *[UnknownError]. Functions that change one part's stock take their own locks; see the package comment.
func Lock(ctx context.Context, tx pgx.Tx, jobIDs, partIDs []int64) error {
	for _, kind := range []struct {
		name, sql string
		ids       []int64
	}{
		{"job", `SELECT id FROM lock_jobs($1)`, jobIDs},
		{"part", `
			WITH made AS (
				INSERT INTO shelf (part_id) SELECT id FROM part WHERE id = ANY($1) ORDER BY id ON CONFLICT DO NOTHING
			)
			SELECT id FROM part WHERE id = ANY($1)`, partIDs},
	} {
		ids := slices.Compact(slices.Sorted(slices.Values(kind.ids)))
		if len(ids) == 0 {
			continue
		}
		found, err := Collect(ctx, tx, pgx.RowTo[int64], kind.sql, ids)
		if err != nil {
			return fmt.Errorf("lock %ss: %w", kind.name, err)
		}
		for _, id := range ids {
			if !slices.Contains(found, id) {
				return &UnknownError{Kind: Kind(kind.name), Name: fmt.Sprint(id)}
			}
		}
	}
	if len(partIDs) == 0 {
		return nil
	}
	if _, err := tx.Exec(ctx, `SELECT FROM shelf WHERE part_id = ANY($1) ORDER BY part_id FOR NO KEY UPDATE`, partIDs); err != nil {
		return fmt.Errorf("lock the shelf: %w", err)
	}
	return nil
}

// checkApproved is an error unless the job, which is locked, is approved.
func checkApproved(ctx context.Context, tx pgx.Tx, jobID int64) error {
	var yes bool
	var state JobState
	if err := tx.QueryRow(ctx, `SELECT approved, state FROM lock_jobs(ARRAY[$1::bigint])`, jobID).Scan(&yes, &state); err != nil {
		return fmt.Errorf("read job %d: %w", jobID, err)
	}
	if !yes {
		return &JobStateError{JobID: jobID, State: state}
	}
	return nil
}

// holders are the jobs for which pieces of a part are kept, except one (0: except none).
func holders(ctx context.Context, db DB, partID, except int64) ([]Holder, error) {
	held, err := Collect(ctx, db, pgx.RowToStructByPos[Holder], `
		SELECT job_id, sum(pieces)::int FROM reservation
		WHERE part_id = $1 AND state = 'held' AND job_id <> $2
		GROUP BY job_id ORDER BY job_id`, partID, except)
	if err != nil {
		return nil, fmt.Errorf("read who holds part %d: %w", partID, err)
	}
	return held, nil
}

// shelfOf is what is on hand and reserved of a part whose shelf row is locked.
func shelfOf(ctx context.Context, tx pgx.Tx, partID int64) (Stock, error) {
	var s Stock
	err := tx.QueryRow(ctx, `SELECT on_hand, reserved FROM shelf WHERE part_id = $1`, partID).Scan(&s.OnHand, &s.Reserved)
	if err != nil {
		return Stock{}, fmt.Errorf("read the shelf: %w", err)
	}
	return s, nil
}

// nameOf is a part's name for the words of an error.
func nameOf(ctx context.Context, db DB, partID int64) (string, error) {
	var name string
	if err := db.QueryRow(ctx, `SELECT name FROM part WHERE id = $1`, partID).Scan(&name); err != nil {
		return "", fmt.Errorf("read the name of part %d: %w", partID, err)
	}
	return name, nil
}

// mostPieces is more than any shelf holds: a larger number is a slip of the pen.
const mostPieces = 1_000_000

// CheckPieces refuses a number of pieces that cannot be meant.
func CheckPieces(pieces int) error {
	if pieces <= 0 {
		return fmt.Errorf("a number of pieces is above zero, not %d", pieces)
	}
	if pieces > mostPieces {
		return fmt.Errorf("%d pieces cannot be meant: the most at a time is %d", pieces, mostPieces)
	}
	return nil
}
