package inventory

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// WhyBack says why pieces go back to their supplier.
type WhyBack string

const (
	BackWrong     WhyBack = "wrong"
	BackDamaged   WhyBack = "damaged"
	BackNotNeeded WhyBack = "not needed"
)

// Return is pieces of an order line that go back to its supplier.
type Return struct {
	ID         int64               `json:"id"` // its number on paper
	LineID     int64               `json:"line"`
	OrderID    int64               `json:"order"`
	Supplier   string              `json:"supplier"` // its code
	From       string              `json:"supplier_name"`
	Currency   string              `json:"currency"`
	PartID     int64               `json:"part_id"`
	Part       string              `json:"name"`
	Pieces     int                 `json:"pieces"`
	Why        WhyBack             `json:"why"`
	FromShelf  bool                `json:"from_shelf"` // else it came wrong or damaged and never was on it
	Expected   decimal.Decimal     `json:"expected"`   // credit, before tax, in the supplier's currency
	Note       string              `json:"note,omitempty"`
	SentAt     time.Time           `json:"sent_at"`
	Credited   decimal.NullDecimal `json:"credited,omitzero"` // absent: nothing was heard yet
	CreditedAt *time.Time          `json:"credited_at,omitempty"`
	Reference  string              `json:"reference,omitempty"` // of the supplier's credit note
}

// SendBack sends pieces of an order line back to its supplier: first those that came wrong or damaged and wait for it, else
// good ones off the shelf. What jobs hold stays; with a job named it is taken from what that job holds. The credit expected
// is what was paid for them.
func SendBack(ctx context.Context, tx pgx.Tx, request string, lineID int64, pieces int, why WhyBack, jobID int64, note string, now time.Time) (Return, error) {
	if err := CheckPieces(pieces); err != nil {
		return Return{}, err
	}
	if why != BackWrong && why != BackDamaged && why != BackNotNeeded {
		return Return{}, fmt.Errorf("pieces go back wrong, damaged or not needed, not %q", why)
	}
	var orderID int64
	if err := tx.QueryRow(ctx, `SELECT order_id FROM order_line WHERE id = $1`, lineID).Scan(&orderID); err != nil {
		if errors.Is(err, pgx.ErrNoRows) {
			return Return{}, &UnknownError{Kind: OfLine, Name: fmt.Sprint(lineID)}
		}
		return Return{}, fmt.Errorf("read line %d: %w", lineID, err)
	}
	o, err := lockOrder(ctx, tx, orderID)
	if err != nil {
		return Return{}, err
	}
	line, _ := o.line(lineID)
	aside, kept, err := leftOf(ctx, tx, lineID, why)
	if err != nil {
		return Return{}, err
	}
	fromShelf := why == BackNotNeeded || aside < pieces
	if fromShelf && kept < pieces {
		name, err := nameOf(ctx, tx, line.PartID)
		if err != nil {
			return Return{}, err
		}
		return Return{}, fmt.Errorf("%d of %s of order %d can go back, not %d: no more came that has not gone back already", max(kept, aside), name, orderID, pieces)
	}
	if fromShelf {
		if err := takeBackOff(ctx, tx, request, line.PartID, pieces, jobID, fmt.Sprintf("with order %d", orderID)); err != nil {
			return Return{}, err
		}
	}
	words, err := LastWords(ctx, tx, []int64{lineID})
	if err != nil {
		return Return{}, err
	}
	price := line.Price
	if said := words[lineID].Invoiced; said.Valid {
		price = said.Decimal
	}
	expected := Rounded(price.Mul(decimal.NewFromInt(int64(pieces))), decimal.NewFromInt(int64(line.Pack)), 2)
	var id int64
	err = tx.QueryRow(ctx, `
		INSERT INTO supplier_return (order_line_id, part_id, pieces, why, from_shelf, expected, note, sent_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8) RETURNING id`,
		lineID, line.PartID, pieces, why, fromShelf, expected, strings.TrimSpace(note), now).Scan(&id)
	if err != nil {
		return Return{}, fmt.Errorf("send back %d of line %d: %w", pieces, lineID, err)
	}
	return returnByID(ctx, tx, id)
}

// leftOf is how many pieces of a line can still go back: those that came wrong or damaged, as is asked, and those that went
// to the shelf.
func leftOf(ctx context.Context, db DB, lineID int64, why WhyBack) (aside, kept int, err error) {
	err = db.QueryRow(ctx, `
		SELECT (SELECT COALESCE(sum(pieces), 0) FROM receipt_line WHERE order_line_id = $1 AND outcome = $2)
		     - (SELECT COALESCE(sum(pieces), 0) FROM supplier_return WHERE order_line_id = $1 AND NOT from_shelf AND why = $2),
		       (SELECT COALESCE(sum(pieces), 0) FROM receipt_line WHERE order_line_id = $1 AND outcome IN ('good', 'over'))
		     - (SELECT COALESCE(sum(pieces), 0) FROM supplier_return WHERE order_line_id = $1 AND from_shelf)`, lineID, string(why)).Scan(&aside, &kept)
	if err != nil {
		return 0, 0, fmt.Errorf("read what came on line %d: %w", lineID, err)
	}
	return aside, kept, nil
}

// takeBackOff takes pieces off the shelf for their supplier: what a job holds, or what is nobody's.
func takeBackOff(ctx context.Context, tx pgx.Tx, request string, partID int64, pieces int, jobID int64, note string) error {
	var jobs []int64
	e := entry{request: request, partID: partID, pieces: pieces, reason: SentBack, note: note}
	if jobID != 0 {
		jobs, e.jobID = []int64{jobID}, &jobID
	}
	if err := Lock(ctx, tx, jobs, []int64{partID}); err != nil {
		return err
	}
	if jobID != 0 {
		if err := letGo(ctx, tx, jobID, partID, pieces); err != nil {
			return err
		}
	}
	if err := checkFree(ctx, tx, partID, pieces); err != nil {
		return err
	}
	return takeOut(ctx, tx, e)
}

// letGo ends what a job holds of a part, up to so many pieces.
func letGo(ctx context.Context, tx pgx.Tx, jobID, partID int64, pieces int) error {
	held, err := ReservationsOf(ctx, tx, jobID)
	if err != nil {
		return err
	}
	for _, r := range held {
		if r.PartID != partID || pieces == 0 {
			continue
		}
		n := min(pieces, r.Pieces)
		pieces -= n
		sql := `UPDATE reservation SET state = 'released', ended_at = shop_clock() WHERE id = $1 AND pieces = $2`
		if n < r.Pieces {
			sql = `UPDATE reservation SET pieces = pieces - $2 WHERE id = $1`
		}
		if _, err := tx.Exec(ctx, sql, r.ID, n); err != nil {
			return fmt.Errorf("let go of what job %d holds: %w", jobID, err)
		}
	}
	return nil
}

// CreditReturn keeps what a supplier credits for what went back; nothing says that it gives none. Once is all.
func CreditReturn(ctx context.Context, tx pgx.Tx, id int64, amount decimal.Decimal, reference string, now time.Time) (Return, error) {
	if amount.IsNegative() || !amount.Equal(amount.Round(2)) {
		return Return{}, fmt.Errorf("a credit of %s cannot be meant: it is not below zero and has at most two decimals", amount)
	}
	if _, err := tx.Exec(ctx, `SELECT FROM supplier_return WHERE id = $1 FOR NO KEY UPDATE`, id); err != nil {
		return Return{}, fmt.Errorf("lock return %d: %w", id, err)
	}
	r, err := returnByID(ctx, tx, id)
	if err != nil {
		return Return{}, err
	}
	if r.Credited.Valid {
		return Return{}, fmt.Errorf("return %d is credited already, with %s %s", id, r.Currency, r.Credited.Decimal.StringFixed(2))
	}
	if _, err := tx.Exec(ctx, `UPDATE supplier_return SET credited = $2, credited_at = $3, reference = $4 WHERE id = $1`, id, amount, now, strings.TrimSpace(reference)); err != nil {
		return Return{}, fmt.Errorf("credit return %d: %w", id, err)
	}
	return returnByID(ctx, tx, id)
}

const returnColumns = `r.id, r.order_line_id, l.order_id, s.code, s.name, s.currency, r.part_id, part.name, r.pieces, r.why, r.from_shelf, r.expected, r.note, r.sent_at,
	r.credited, r.credited_at, r.reference
	FROM supplier_return r JOIN order_line l ON l.id = r.order_line_id JOIN purchase_order o ON o.id = l.order_id JOIN supplier s ON s.id = o.supplier_id JOIN part ON part.id = r.part_id`

// returnByID is a return by its number; an unknown one is an *[UnknownError].
func returnByID(ctx context.Context, db DB, id int64) (Return, error) {
	r, err := collectOne(ctx, db, pgx.RowToStructByPos[Return], `SELECT `+returnColumns+` WHERE r.id = $1`, id)
	if errors.Is(err, pgx.ErrNoRows) {
		return Return{}, &UnknownError{Kind: OfReturn, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Return{}, fmt.Errorf("read return %d: %w", id, err)
	}
	return r, nil
}

// Returns are what went back, the newest first: all of it, or what no credit has come for.
func Returns(ctx context.Context, db DB, open bool) ([]Return, error) {
	list, err := Collect(ctx, db, pgx.RowToStructByPos[Return], `SELECT `+returnColumns+` WHERE NOT $1 OR r.credited IS NULL ORDER BY r.id DESC`, open)
	if err != nil {
		return nil, fmt.Errorf("read the returns: %w", err)
	}
	return list, nil
}

// Beside is what came on a line of an order beside what was ordered, and what has gone back of it.
type Beside struct {
	LineID   int64
	OrderID  int64
	PartID   int64
	Part     string
	Supplier string // what it is called
	Wrong    int    // pieces of another part, that are still to go back
	Damaged  int    // the same, damaged
	Over     int    // more than was ordered, and kept
	Back     int    // sent back, for whatever reason
}

// Besides tells of the lines named, of which something came beside what was ordered or went back, or with none named of those
// of which something is still to go back.
func Besides(ctx context.Context, db DB, lineIDs ...int64) ([]Beside, error) {
	list, err := Collect(ctx, db, pgx.RowToStructByPos[Beside], `
		SELECT l.id, l.order_id, l.part_id, part.name, s.name, came.wrong - went.wrong, came.damaged - went.damaged, came.over, went.back
		FROM order_line l
		JOIN purchase_order o ON o.id = l.order_id JOIN supplier s ON s.id = o.supplier_id JOIN part ON part.id = l.part_id
		CROSS JOIN LATERAL (
			SELECT COALESCE(sum(pieces) FILTER (WHERE outcome = 'wrong'), 0)::int AS wrong, COALESCE(sum(pieces) FILTER (WHERE outcome = 'damaged'), 0)::int AS damaged,
			       COALESCE(sum(pieces) FILTER (WHERE outcome = 'over'), 0)::int AS over
			FROM receipt_line WHERE order_line_id = l.id) came
		CROSS JOIN LATERAL (
			SELECT COALESCE(sum(pieces) FILTER (WHERE NOT from_shelf AND why = 'wrong'), 0)::int AS wrong,
			       COALESCE(sum(pieces) FILTER (WHERE NOT from_shelf AND why = 'damaged'), 0)::int AS damaged, COALESCE(sum(pieces), 0)::int AS back
			FROM supplier_return WHERE order_line_id = l.id) went
		WHERE CASE WHEN cardinality($1::bigint[]) = 0 THEN came.wrong > went.wrong OR came.damaged > went.damaged
		           ELSE l.id = ANY($1) AND came.wrong + came.damaged + came.over + went.back > 0 END
		ORDER BY l.id`, append([]int64{}, lineIDs...))
	if err != nil {
		return nil, fmt.Errorf("read what came beside what was ordered: %w", err)
	}
	return list, nil
}

// BringBack puts pieces into a bin that a customer brings back from a job: no more than were used on it and have not come
// back yet.
func BringBack(ctx context.Context, tx pgx.Tx, request string, jobID, partID int64, bin string, pieces int, note string) error {
	if err := CheckPieces(pieces); err != nil {
		return err
	}
	if err := Lock(ctx, tx, []int64{jobID}, []int64{partID}); err != nil {
		return err
	}
	var used int
	err := tx.QueryRow(ctx, `SELECT COALESCE(-sum(pieces), 0) FROM movement WHERE job_id = $1 AND part_id = $2 AND reason IN ('used', 'returned')`, jobID, partID).Scan(&used)
	if err != nil {
		return fmt.Errorf("read what was used on job %d: %w", jobID, err)
	}
	name, err := nameOf(ctx, tx, partID)
	if err != nil {
		return err
	}
	if used < pieces {
		return fmt.Errorf("%d of %s were used on job %d, not %d: no more can come back from it", used, name, jobID, pieces)
	}
	if bin == "" {
		if bin, err = homeOf(ctx, tx, partID); err != nil {
			return err
		}
	}
	binID, err := binNamed(ctx, tx, bin)
	if err != nil {
		return err
	}
	return book(ctx, tx, entry{request: request, partID: partID, binID: binID, pieces: pieces, reason: Returned, jobID: &jobID, note: note})
}

// UsedOn is how many pieces of each part were used on a job and have not come back, by part.
func UsedOn(ctx context.Context, db DB, jobID int64) (map[int64]int, error) {
	rows, err := Collect(ctx, db, pgx.RowToStructByPos[struct {
		PartID int64
		Pieces int
	}], `
		SELECT part_id, -sum(pieces)::int FROM movement WHERE job_id = $1 AND reason IN ('used', 'returned') GROUP BY part_id HAVING sum(pieces) < 0`, jobID)
	if err != nil {
		return nil, fmt.Errorf("read what was used on job %d: %w", jobID, err)
	}
	out := map[int64]int{}
	for _, r := range rows {
		out[r.PartID] = r.Pieces
	}
	return out, nil
}

// SendBackHeld sends back what a job holds and that was ordered for it; what it holds off the shelf stays held.
func SendBackHeld(ctx context.Context, tx pgx.Tx, request string, jobID int64, note string, now time.Time) ([]Return, error) {
	held, err := ReservationsOf(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	left := map[int64]int{}
	for _, r := range held {
		left[r.PartID] += r.Pieces
	}
	came, err := claims(ctx, tx, `WHERE job_id = $1 AND state = 'arrived'`, jobID)
	if err != nil {
		return nil, err
	}
	var out []Return
	for _, c := range came {
		n := min(left[c.PartID], c.Pieces)
		if n == 0 || c.OrderLineID == nil {
			continue
		}
		left[c.PartID] -= n
		r, err := SendBack(ctx, tx, request, *c.OrderLineID, n, BackNotNeeded, jobID, note, now)
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, nil
}

// TakeUpClaim gives an approved job back a claim that it had let go of: pieces of a line that are still to come and that no
// job waits for are its own again, else they are wanted.
func TakeUpClaim(ctx context.Context, tx pgx.Tx, c Claim) error {
	line := c.OrderLineID
	c.OrderLineID = nil
	if err := AddClaim(ctx, tx, c); err != nil || line == nil {
		return err
	}
	_, err := tx.Exec(ctx, `
		UPDATE claim SET state = 'ordered', order_line_id = $1
		WHERE id = (SELECT max(id) FROM claim WHERE job_id = $2 AND state = 'wanted' AND part_id = $3)
		  AND pieces <= (SELECT packs * pack - received - cancelled - COALESCE((SELECT sum(pieces) FROM claim WHERE order_line_id = $1 AND state = 'ordered'), 0)
		                 FROM order_line WHERE id = $1)`, *line, c.JobID, c.PartID)
	if err != nil {
		return fmt.Errorf("take up what is on order for job %d: %w", c.JobID, err)
	}
	return nil
}
