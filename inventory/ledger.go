package inventory

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// Reason says why pieces moved.
type Reason string

const (
	Opening  Reason = "opening"   // what was there when the ledger began
	Received Reason = "received"  // came with an order
	Used     Reason = "used"      // went into a bike
	Sold     Reason = "sold"      // over the counter, for no job
	Moved    Reason = "moved"     // from bin to bin
	Counted  Reason = "counted"   // a stocktake found more or fewer
	Returned Reason = "returned"  // came back from a job or a customer
	SentBack Reason = "sent back" // to the supplier
	Scrapped Reason = "scrapped"
	Opened   Reason = "opened" // a tub, for the bench
)

// Movement is one line of the ledger. It is never changed.
type Movement struct {
	ID      int64     `json:"id"`
	At      time.Time `json:"at"`
	PartID  int64     `json:"part_id"`
	Bin     string    `json:"bin"`
	Pieces  int       `json:"pieces"` // negative: out of the bin
	Reason  Reason    `json:"reason"`
	JobID   *int64    `json:"job,omitempty"`
	OrderID *int64    `json:"order,omitempty"` // with which it came
	Note    string    `json:"note,omitempty"`
	Request string    `json:"request"`
	OnHand  int       `json:"on_hand"` // of the part, in all bins, after this movement
}

// History is a part's ledger, oldest movement first. The last OnHand is what is on the shelf.
func History(ctx context.Context, db DB, partID int64) ([]Movement, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Movement], `
		SELECT m.id, m.at, m.part_id, bin.name, m.pieces, m.reason, m.job_id, receipt.order_id, m.note, m.request,
		       sum(m.pieces) OVER (ORDER BY m.id)::int
		FROM movement m
		JOIN bin ON bin.id = m.bin_id
		LEFT JOIN receipt_line ON receipt_line.id = m.receipt_line_id
		LEFT JOIN receipt ON receipt.id = receipt_line.receipt_id
		WHERE m.part_id = $1
		ORDER BY m.id`, partID)
	if err != nil {
		return nil, fmt.Errorf("read the history of part %d: %w", partID, err)
	}
	return all, nil
}

// entry is a movement about to be written.
type entry struct {
	request       string
	partID, binID int64
	pieces        int
	reason        Reason
	jobID         *int64
	receiptLineID *int64
	note          string
}

// book writes a movement; the shelf row of the part is locked. The database adds up shelf and balance.
func book(ctx context.Context, tx pgx.Tx, e entry) error {
	_, err := tx.Exec(ctx, `
		INSERT INTO movement (request, part_id, bin_id, pieces, reason, job_id, receipt_line_id, note)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		e.request, e.partID, e.binID, e.pieces, e.reason, e.jobID, e.receiptLineID, e.note)
	if err != nil {
		return fmt.Errorf("book %s %d of part %d: %w", e.reason, e.pieces, e.partID, err)
	}
	return nil
}

// PutIn puts pieces into a bin that did not come with an order: the opening stock, or what came back.
func PutIn(ctx context.Context, tx pgx.Tx, request string, partID int64, bin string, pieces int, reason Reason, note string) error {
	if reason != Opening && reason != Returned {
		return fmt.Errorf("pieces are put in as opening stock or as returned, not as %s", reason)
	}
	if err := CheckPieces(pieces); err != nil {
		return err
	}
	binID, err := binNamed(ctx, tx, bin)
	if err != nil {
		return err
	}
	if err := Lock(ctx, tx, nil, []int64{partID}); err != nil {
		return err
	}
	return book(ctx, tx, entry{request: request, partID: partID, binID: binID, pieces: pieces, reason: reason, note: note})
}

// Sell takes pieces off the shelf that a customer buys over the counter: never what is kept for a job. Bins with few pieces
// are emptied first. Fewer free than asked for is a *[NotEnoughError].
func Sell(ctx context.Context, tx pgx.Tx, request string, partID int64, pieces int, note string) error {
	if err := CheckPieces(pieces); err != nil {
		return err
	}
	if err := Lock(ctx, tx, nil, []int64{partID}); err != nil {
		return err
	}
	if err := checkFree(ctx, tx, partID, pieces); err != nil {
		return err
	}
	return takeOut(ctx, tx, entry{request: request, partID: partID, pieces: pieces, reason: Sold, note: note})
}

// Scrap takes pieces out of a bin for good: broken, or past their time. Pieces kept for a job are not scrapped.
func Scrap(ctx context.Context, tx pgx.Tx, request string, partID int64, bin string, pieces int, note string) error {
	binID, err := takeable(ctx, tx, partID, bin, pieces)
	if err != nil {
		return err
	}
	if err := checkFree(ctx, tx, partID, pieces); err != nil {
		return err
	}
	return book(ctx, tx, entry{request: request, partID: partID, binID: binID, pieces: -pieces, reason: Scrapped, note: note})
}

// Move carries pieces from one bin to another. What is reserved stays so: a reservation knows no bin.
func Move(ctx context.Context, tx pgx.Tx, request string, partID int64, from, to string, pieces int) error {
	fromID, err := takeable(ctx, tx, partID, from, pieces)
	if err != nil {
		return err
	}
	toID, err := binNamed(ctx, tx, to)
	if err != nil {
		return err
	}
	if fromID == toID {
		return fmt.Errorf("bin %s is where the pieces are: name another to move them to", from)
	}
	// Into the new bin first: on the way the shelf must not fall below what is reserved.
	for _, leg := range []entry{{binID: toID, pieces: pieces, note: "from " + from}, {binID: fromID, pieces: -pieces, note: "to " + to}} {
		leg.request, leg.partID, leg.reason = request, partID, Moved
		if err := book(ctx, tx, leg); err != nil {
			return err
		}
	}
	return nil
}

// takeable locks a part's shelf and finds the bin, or says that it does not hold so many.
func takeable(ctx context.Context, tx pgx.Tx, partID int64, bin string, pieces int) (binID int64, err error) {
	if err := CheckPieces(pieces); err != nil {
		return 0, err
	}
	if binID, err = binNamed(ctx, tx, bin); err != nil {
		return 0, err
	}
	if err := Lock(ctx, tx, nil, []int64{partID}); err != nil {
		return 0, err
	}
	there, err := inBin(ctx, tx, partID, binID)
	if err != nil {
		return 0, err
	}
	if there < pieces {
		name, err := nameOf(ctx, tx, partID)
		if err != nil {
			return 0, err
		}
		return 0, &NotInBinError{Part: name, Bin: bin, Wanted: pieces, There: there}
	}
	return binID, nil
}

// checkFree is an error unless so many pieces of a part, whose shelf row is locked, are nobody's.
func checkFree(ctx context.Context, tx pgx.Tx, partID int64, pieces int) error {
	shelf, err := shelfOf(ctx, tx, partID)
	if err != nil {
		return err
	}
	if shelf.Free() >= pieces {
		return nil
	}
	return notEnough(ctx, tx, partID, pieces, shelf.Free(), 0)
}

// notEnough is the error that so many pieces cannot be had, with the jobs that hold others; except is the job that asks.
func notEnough(ctx context.Context, db DB, partID int64, wanted, free int, except int64) error {
	name, err := nameOf(ctx, db, partID)
	if err != nil {
		return err
	}
	held, err := holders(ctx, db, partID, except)
	if err != nil {
		return err
	}
	return &NotEnoughError{Part: name, Wanted: wanted, Free: free, Held: held}
}

// CountStock makes a bin hold what was counted there and returns how many more that is than the ledger said; fewer is
// negative. A count that leaves less than jobs were promised is a *[CountBelowReservedError].
func CountStock(ctx context.Context, tx pgx.Tx, request string, partID int64, bin string, counted int, note string) (difference int, err error) {
	if counted < 0 || counted > mostPieces {
		return 0, fmt.Errorf("a count of %d cannot be meant: it is between zero and %d", counted, mostPieces)
	}
	binID, err := binNamed(ctx, tx, bin)
	if err != nil {
		return 0, err
	}
	if err := Lock(ctx, tx, nil, []int64{partID}); err != nil {
		return 0, err
	}
	there, err := inBin(ctx, tx, partID, binID)
	if err != nil {
		return 0, err
	}
	shelf, err := shelfOf(ctx, tx, partID)
	if err != nil {
		return 0, err
	}
	difference = counted - there
	if left := shelf.OnHand + difference; left < shelf.Reserved {
		name, err := nameOf(ctx, tx, partID)
		if err != nil {
			return 0, err
		}
		held, err := holders(ctx, tx, partID, 0)
		if err != nil {
			return 0, err
		}
		return 0, &CountBelowReservedError{Part: name, OnHand: left, Held: held}
	}
	if _, err := tx.Exec(ctx, `INSERT INTO stock_count (part_id, bin_id, counted, expected) VALUES ($1, $2, $3, $4)`, partID, binID, counted, there); err != nil {
		return 0, fmt.Errorf("keep the count of part %d: %w", partID, err)
	}
	if difference == 0 {
		return 0, nil
	}
	return difference, book(ctx, tx, entry{request: request, partID: partID, binID: binID, pieces: difference, reason: Counted, note: note})
}
