package inventory

import (
	"context"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/substitution"
)

// Bench is where pieces go that another part needs: they sit at no place of the bike.
const Bench substitution.Place = "bench"

// Reservation is pieces kept on the shelf for an approved job.
type Reservation struct {
	ID     int64              `json:"id"`
	JobID  int64              `json:"job"`
	PartID int64              `json:"part_id"`
	Place  substitution.Place `json:"place"`
	Pieces int                `json:"pieces"`
}

// ReservationsOf are the pieces still kept for jobs, oldest first: for those named, or with none named for all.
func ReservationsOf(ctx context.Context, db DB, jobIDs ...int64) ([]Reservation, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Reservation], `
		SELECT id, job_id, part_id, place, pieces
		FROM reservation
		WHERE state = 'held' AND (cardinality($1::bigint[]) = 0 OR job_id = ANY($1))
		ORDER BY id`, append([]int64{}, jobIDs...))
	if err != nil {
		return nil, fmt.Errorf("read the reservations: %w", err)
	}
	return all, nil
}

// Reserve keeps free pieces for an approved job. Fewer free than asked for is a *[NotEnoughError], a job that is not
// approved a *[JobStateError].
func Reserve(ctx context.Context, tx pgx.Tx, jobID, partID int64, place substitution.Place, pieces int) error {
	if err := lockForJob(ctx, tx, jobID, partID, pieces); err != nil {
		return err
	}
	if err := checkFree(ctx, tx, partID, pieces); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, `INSERT INTO reservation (job_id, part_id, place, pieces) VALUES ($1, $2, $3, $4)`, jobID, partID, place, pieces)
	if err != nil {
		return fmt.Errorf("reserve %d of part %d for job %d: %w", pieces, partID, jobID, err)
	}
	return nil
}

// ReleaseJob lets go of all that is kept for a job or wanted for it: when it is closed, cancelled or planned anew. What is
// on order for it comes for the shelf.
func ReleaseJob(ctx context.Context, tx pgx.Tx, jobID int64) error {
	return release(ctx, tx, jobID, nil)
}

// ReleaseClaims lets go of what is wanted for a job and keeps what is here for it.
func ReleaseClaims(ctx context.Context, tx pgx.Tx, jobID int64) error {
	if err := Lock(ctx, tx, []int64{jobID}, nil); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `UPDATE claim SET state = 'cancelled', order_line_id = NULL WHERE job_id = $1 AND state IN ('wanted', 'ordered')`, jobID); err != nil {
		return fmt.Errorf("release job %d: %w", jobID, err)
	}
	return nil
}

// ReleasePlace lets go of what is kept or wanted for one place of a job, as ReleaseJob does of all.
func ReleasePlace(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place) error {
	return release(ctx, tx, jobID, &place)
}

func release(ctx context.Context, tx pgx.Tx, jobID int64, place *substitution.Place) error {
	if err := Lock(ctx, tx, []int64{jobID}, nil); err != nil {
		return err
	}
	// With the job locked nobody reserves for it, so these are all the parts.
	parts, err := Collect(ctx, tx, pgx.RowTo[int64], `SELECT part_id FROM reservation WHERE job_id = $1 AND state = 'held' AND ($2::text IS NULL OR place = $2)`, jobID, place)
	if err != nil {
		return fmt.Errorf("release job %d: %w", jobID, err)
	}
	if err := Lock(ctx, tx, nil, parts); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `
		UPDATE reservation SET state = 'released', ended_at = shop_clock() WHERE job_id = $1 AND state = 'held' AND ($2::text IS NULL OR place = $2)`, jobID, place); err != nil {
		return fmt.Errorf("release job %d: %w", jobID, err)
	}
	if _, err := tx.Exec(ctx, `
		UPDATE claim SET state = 'cancelled', order_line_id = NULL WHERE job_id = $1 AND state IN ('wanted', 'ordered') AND ($2::text IS NULL OR place = $2)`, jobID, place); err != nil {
		return fmt.Errorf("release job %d: %w", jobID, err)
	}
	return nil
}

// ReleasePieces lets go of so many pieces of a part that are wanted or kept for one place of a job: first of what is
// still to come.
func ReleasePieces(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place, partID int64, pieces int) error {
	if err := Lock(ctx, tx, []int64{jobID}, []int64{partID}); err != nil {
		return err
	}
	open, err := claims(ctx, tx, `WHERE job_id = $1 AND place = $2 AND part_id = $3 AND state IN ('wanted', 'ordered')`, jobID, place, partID)
	if err != nil {
		return err
	}
	for _, c := range open {
		n := min(c.Pieces, pieces)
		if n == 0 {
			return nil
		}
		pieces -= n
		id := c.ID
		if n < c.Pieces {
			if id, err = splitClaim(ctx, tx, c.ID, n); err != nil {
				return err
			}
		}
		if _, err := tx.Exec(ctx, `UPDATE claim SET state = 'cancelled', order_line_id = NULL WHERE id = $1`, id); err != nil {
			return fmt.Errorf("release job %d: %w", jobID, err)
		}
	}
	own, err := heldAt(ctx, tx, jobID, partID, place)
	if err != nil {
		return err
	}
	own = slices.DeleteFunc(own, func(r Reservation) bool { return r.Place != place })
	return endHeld(ctx, tx, own, pieces, "released")
}

// heldAt is what is kept of a part for a job, for a place before its other places.
func heldAt(ctx context.Context, tx pgx.Tx, jobID, partID int64, place substitution.Place) ([]Reservation, error) {
	own, err := Collect(ctx, tx, pgx.RowToStructByPos[Reservation], `
		SELECT id, job_id, part_id, place, pieces
		FROM reservation
		WHERE job_id = $1 AND part_id = $2 AND state = 'held'
		ORDER BY place = $3 DESC, id`, jobID, partID, place)
	if err != nil {
		return nil, fmt.Errorf("read what is kept for job %d: %w", jobID, err)
	}
	return own, nil
}

// UseOnJob takes pieces off the shelf for an approved job: first what is kept for it, for this place before its other
// places, then what is free, and never what is kept for another job. Bins with few pieces are emptied first.
func UseOnJob(ctx context.Context, tx pgx.Tx, request string, jobID, partID int64, place substitution.Place, pieces int) error {
	if err := lockForJob(ctx, tx, jobID, partID, pieces); err != nil {
		return err
	}
	own, err := heldAt(ctx, tx, jobID, partID, place)
	if err != nil {
		return err
	}
	shelf, err := shelfOf(ctx, tx, partID)
	if err != nil {
		return err
	}
	can := shelf.Free()
	for _, r := range own {
		can += r.Pieces
	}
	if can < pieces {
		return notEnough(ctx, tx, partID, pieces, can, jobID)
	}
	if err := consume(ctx, tx, own, pieces); err != nil {
		return err
	}
	return takeForJob(ctx, tx, request, jobID, partID, place, pieces)
}

// lockForJob locks an approved job and a part of which so many pieces are to be kept for it or used on it.
func lockForJob(ctx context.Context, tx pgx.Tx, jobID, partID int64, pieces int) error {
	if err := CheckPieces(pieces); err != nil {
		return err
	}
	if err := Lock(ctx, tx, []int64{jobID}, []int64{partID}); err != nil {
		return err
	}
	return checkApproved(ctx, tx, jobID)
}

// consume ends reservations by use, in their order, for up to so many pieces.
func consume(ctx context.Context, tx pgx.Tx, own []Reservation, pieces int) error {
	return endHeld(ctx, tx, own, pieces, "used")
}

// endHeld ends reservations in their order for up to so many pieces. One that ends in part is split: the ledger of
// reservations then has what ended and what is still kept.
func endHeld(ctx context.Context, tx pgx.Tx, own []Reservation, pieces int, state string) error {
	for _, r := range own {
		n := min(r.Pieces, pieces)
		pieces -= n
		var err error
		switch n {
		case 0:
			return nil
		case r.Pieces:
			_, err = tx.Exec(ctx, `UPDATE reservation SET state = $2, ended_at = shop_clock() WHERE id = $1`, r.ID, state)
		default:
			_, err = tx.Exec(ctx, `
				WITH rest AS (UPDATE reservation SET pieces = pieces - $2 WHERE id = $1 RETURNING *)
				INSERT INTO reservation (job_id, part_id, place, pieces, state, made_at, ended_at)
				SELECT job_id, part_id, place, $2, $3, made_at, shop_clock() FROM rest`, r.ID, n, state)
		}
		if err != nil {
			return fmt.Errorf("what is kept for job %d is %s: %w", r.JobID, state, err)
		}
	}
	return nil
}

// takeForJob books pieces out of the bins for a job.
func takeForJob(ctx context.Context, tx pgx.Tx, request string, jobID, partID int64, place substitution.Place, pieces int) error {
	return takeOut(ctx, tx, entry{request: request, partID: partID, pieces: pieces, reason: Used, jobID: &jobID, note: string(place)})
}

// takeOut books so many pieces out of the bins, the emptiest first; the shelf row of the part is locked.
func takeOut(ctx context.Context, tx pgx.Tx, e entry) error {
	type bin struct {
		ID     int64
		Pieces int
	}
	bins, err := Collect(ctx, tx, pgx.RowToStructByPos[bin], `
		SELECT bin_id, pieces FROM balance WHERE part_id = $1 AND pieces > 0 ORDER BY pieces, bin_id`, e.partID)
	if err != nil {
		return fmt.Errorf("read what is in the bins: %w", err)
	}
	pieces := e.pieces
	for _, b := range bins {
		taken := min(b.Pieces, pieces)
		if taken == 0 {
			break
		}
		pieces -= taken
		e.binID, e.pieces = b.ID, -taken
		if err := book(ctx, tx, e); err != nil {
			return err
		}
	}
	return nil
}

// UsedOnJob is how many pieces have been taken off the shelf for a job and not come back.
func UsedOnJob(ctx context.Context, db DB, jobID int64) (int, error) {
	n, err := collectOne(ctx, db, pgx.RowTo[int], `SELECT coalesce(-sum(pieces), 0) FROM movement WHERE job_id = $1 AND reason IN ('used', 'returned')`, jobID)
	if err != nil {
		return 0, fmt.Errorf("loading what was used on job %d: %w", jobID, err)
	}
	return n, nil
}

// UseFree takes free pieces off the shelf for an approved job, and none of those that are kept for it or for another.
func UseFree(ctx context.Context, tx pgx.Tx, request string, jobID, partID int64, place substitution.Place, pieces int) error {
	if err := lockForJob(ctx, tx, jobID, partID, pieces); err != nil {
		return err
	}
	if err := checkFree(ctx, tx, partID, pieces); err != nil {
		return err
	}
	return takeForJob(ctx, tx, request, jobID, partID, place, pieces)
}

// AtPlace is a part at a place of a job.
type AtPlace struct {
	Place  substitution.Place
	PartID int64
}

// UsedAt is how many of the pieces that were kept for a job have been used, by place and part.
func UsedAt(ctx context.Context, db DB, jobID int64) (map[AtPlace]int, error) {
	rows, err := db.Query(ctx, `SELECT place, part_id, sum(pieces)::int FROM reservation WHERE job_id = $1 AND state = 'used' GROUP BY place, part_id`, jobID)
	if err != nil {
		return nil, fmt.Errorf("read what was used on job %d: %w", jobID, err)
	}
	used := map[AtPlace]int{}
	var at AtPlace
	var n int
	if _, err := pgx.ForEachRow(rows, []any{&at.Place, &at.PartID, &n}, func() error { used[at] = n; return nil }); err != nil {
		return nil, fmt.Errorf("read what was used on job %d: %w", jobID, err)
	}
	return used, nil
}
