package exchange

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// Movements is the ledger of stock, the oldest first. pieces below zero went out of the bin; a delivery names the order with
// which it came.
var Movements = Table{File: "movements.csv",
	Columns: []string{"at", "part", "bin", "pieces", "reason", "job", "order", "note"},
	Must:    []string{"at", "part", "bin", "pieces", "reason"}}

// Stock is what is in each bin. Beside movements it is their sum; alone it is the stock with which a shop opens.
var Stock = Table{File: "stock.csv",
	Columns: []string{"part", "bin", "pieces", "name"},
	Must:    []string{"part", "bin", "pieces"}}

// WriteMovements gives the lines of the ledger.
func WriteMovements(ctx context.Context, db inventory.DB) ([][]string, error) {
	rows, err := db.Query(ctx, `
		SELECT m.at, m.part_id, bin.name, m.pieces, m.reason, m.job_id, coalesce(m.order_elsewhere, receipt.order_id), m.note
		FROM movement m JOIN bin ON bin.id = m.bin_id
		LEFT JOIN receipt_line ON receipt_line.id = m.receipt_line_id LEFT JOIN receipt ON receipt.id = receipt_line.receipt_id
		ORDER BY m.id`)
	if err != nil {
		return nil, fmt.Errorf("read the movements: %w", err)
	}
	lines, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) ([]string, error) {
		var at time.Time
		var part int64
		var bin, reason, note string
		var pieces int
		var job, order *int64
		if err := row.Scan(&at, &part, &bin, &pieces, &reason, &job, &order, &note); err != nil {
			return nil, err
		}
		return []string{Moment(at), strconv.FormatInt(part, 10), bin, strconv.Itoa(pieces), reason, Maybe(job), Maybe(order), note}, nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the movements: %w", err)
	}
	return lines, nil
}

// WriteStock gives what is in each bin.
func WriteStock(ctx context.Context, db inventory.DB) ([][]string, error) {
	rows, err := db.Query(ctx, `
		SELECT balance.part_id, bin.name, balance.pieces, part.name FROM balance JOIN bin ON bin.id = balance.bin_id JOIN part ON part.id = balance.part_id
		WHERE balance.pieces > 0 ORDER BY balance.part_id, bin.name COLLATE "C"`)
	if err != nil {
		return nil, fmt.Errorf("read the bins: %w", err)
	}
	lines, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) ([]string, error) {
		var part int64
		var bin, name string
		var pieces int
		if err := row.Scan(&part, &bin, &pieces, &name); err != nil {
			return nil, err
		}
		return []string{strconv.FormatInt(part, 10), bin, strconv.Itoa(pieces), name}, nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the bins: %w", err)
	}
	return lines, nil
}

// reasons are those that a movement may have.
var reasons = map[inventory.Reason]bool{inventory.Opening: true, inventory.Received: true, inventory.Used: true, inventory.Sold: true, inventory.Moved: true,
	inventory.Counted: true, inventory.Returned: true, inventory.SentBack: true, inventory.Scrapped: true, inventory.Opened: true}

const mostPieces = 1_000_000

// TakeMovements books a ledger that was kept elsewhere, line by line, under the request of who takes it in. Parts and jobs
// are there already.
func TakeMovements(ctx context.Context, tx pgx.Tx, request string, rows []*Row, jobs map[int64]bool, now time.Time) error {
	var bins []string
	for _, r := range rows {
		bins = append(bins, r.Needed("bin"))
	}
	ids, err := label(ctx, tx, bins)
	if err != nil {
		return err
	}
	parts, err := numbers(ctx, tx, `SELECT id FROM part`)
	if err != nil {
		return err
	}
	l := ledger{parts: parts, jobs: jobs, now: now, held: map[[2]int64]int64{}}
	values := make([][]any, 0, len(rows))
	for _, r := range rows {
		m := movementOf(r, ids)
		if err := l.take(r, m); err != nil {
			return err
		}
		values = append(values, []any{m.at, m.part, m.bin, int32(m.pieces), string(m.reason), m.job, m.order, r.Text("note"), request})
	}
	if _, err := tx.CopyFrom(ctx, pgx.Identifier{"movement"}, []string{"at", "part_id", "bin_id", "pieces", "reason", "job_id", "order_elsewhere", "note", "request"}, pgx.CopyFromRows(values)); err != nil {
		return fmt.Errorf("take in the movements: %w", err)
	}
	if l.orders == 0 {
		return nil
	}
	// An order of ours is to have no number that a supplier has seen.
	if _, err := tx.Exec(ctx, `SELECT setval(pg_get_serial_sequence('purchase_order', 'id'), greatest($1, nextval(pg_get_serial_sequence('purchase_order', 'id')) - 1))`, l.orders); err != nil {
		return fmt.Errorf("number orders on: %w", err)
	}
	return nil
}

// movement is a line of the ledger.
type movement struct {
	at         time.Time
	part, bin  int64
	pieces     int64
	reason     inventory.Reason
	job, order *int64
}

func movementOf(r *Row, bins map[string]int64) movement {
	return movement{at: r.Moment("at"), part: r.ID("part"), bin: bins[strings.ToLower(r.Text("bin"))], pieces: r.Number("pieces"),
		reason: inventory.Reason(r.Needed("reason")), job: r.Maybe("job"), order: r.Maybe("order")}
}

// ledger is how far the movements have been taken in.
type ledger struct {
	parts, jobs map[int64]bool // that there are
	now         time.Time
	last        time.Time          // of the line before
	held        map[[2]int64]int64 // pieces, by part and bin
	orders      int64              // the highest number of an order
}

// take adds a movement, or says what is wrong with its line.
func (l *ledger) take(r *Row, m movement) error {
	in := [2]int64{m.part, m.bin}
	l.held[in] += m.pieces
	switch {
	case r.Wrong() != nil:
	case !l.parts[m.part]:
		r.Refuse("part", "there is no part %d in %s", m.part, Parts.File)
	case m.pieces == 0 || m.pieces > mostPieces || m.pieces < -mostPieces:
		r.Refuse("pieces", "%d pieces cannot be meant", m.pieces)
	case !reasons[m.reason]:
		r.Refuse("reason", "is a reason such as opening, used or sold, not %q", m.reason)
	case m.at.After(l.now):
		r.Refuse("at", "is still to come")
	case m.at.Before(l.last):
		r.Refuse("at", "is before the line above it: the ledger begins with the oldest")
	case l.held[in] < 0:
		r.Refuse("pieces", "there are not so many in bin %s then", r.Text("bin"))
	default:
		l.checkReason(r, m)
	}
	l.last = m.at
	if m.order != nil {
		l.orders = max(l.orders, *m.order)
	}
	return r.Wrong()
}

// checkReason refuses a movement that does not go with its reason.
func (l *ledger) checkReason(r *Row, m movement) {
	switch {
	case m.reason == inventory.Used && m.job == nil:
		r.Refuse("job", "is missing: what was used went into a bike")
	case m.reason == inventory.Sold && m.job != nil:
		r.Refuse("job", "what was sold over the counter was for no job")
	case m.reason == inventory.Received && m.order == nil:
		r.Refuse("order", "is missing: what was received came with an order")
	case m.job != nil && !l.jobs[*m.job]:
		r.Refuse("job", "there is no job %d in jobs.csv", *m.job)
	case direction[m.reason]*m.pieces < 0:
		r.Refuse("pieces", "%d and %s do not go together", m.pieces, m.reason)
	}
}

// direction says which reasons bring pieces in (1) and which take them out (-1).
var direction = map[inventory.Reason]int64{inventory.Opening: 1, inventory.Received: 1, inventory.Returned: 1, inventory.Used: -1, inventory.Sold: -1, inventory.SentBack: -1, inventory.Scrapped: -1, inventory.Opened: -1}

// TakeStock checks what is in the bins against the movements that were taken in; without those it is what the shop
// opens with.
func TakeStock(ctx context.Context, tx pgx.Tx, request string, rows []*Row, moved bool) error {
	parts, err := numbers(ctx, tx, `SELECT id FROM part`)
	if err != nil {
		return err
	}
	type place struct {
		part int64
		bin  string
	}
	is := map[place]int64{}
	if moved {
		lines, err := WriteStock(ctx, tx)
		if err != nil {
			return err
		}
		for _, l := range lines {
			part, _ := strconv.ParseInt(l[0], 10, 64)
			pieces, _ := strconv.ParseInt(l[2], 10, 64)
			is[place{part, strings.ToLower(l[1])}] = pieces
		}
	}
	seen := map[place]bool{}
	for _, r := range rows {
		part, bin, pieces := r.ID("part"), r.Needed("bin"), r.Number("pieces")
		at := place{part, strings.ToLower(bin)}
		switch {
		case r.Wrong() != nil:
		case !parts[part]:
			r.Refuse("part", "there is no part %d in %s", part, Parts.File)
		case pieces < 1 || pieces > mostPieces:
			r.Refuse("pieces", "is a number of pieces from 1 on, not %d", pieces)
		case seen[at]:
			r.Refuse("bin", "part %d is in bin %s twice", part, bin)
		case moved && is[at] != pieces:
			r.Refuse("pieces", "are %d, and %s comes to %d", pieces, Movements.File, is[at])
		}
		if err := r.Wrong(); err != nil {
			return err
		}
		seen[at] = true
		if moved {
			continue
		}
		if _, err := label(ctx, tx, []string{bin}); err != nil {
			return err
		}
		if err := inventory.PutIn(ctx, tx, request, part, bin, int(pieces), inventory.Opening, ""); err != nil {
			return err
		}
	}
	for at, pieces := range is {
		if !seen[at] {
			return &WrongError{File: Stock.File, Says: fmt.Sprintf("%s comes to %d of part %d in bin %s, which is not here", Movements.File, pieces, at.part, at.bin)}
		}
	}
	return nil
}

// numbers are the numbers that a query gives.
func numbers(ctx context.Context, tx pgx.Tx, sql string) (map[int64]bool, error) {
	rows, err := tx.Query(ctx, sql)
	if err != nil {
		return nil, fmt.Errorf("take in the books: %w", err)
	}
	ids, err := pgx.CollectRows(rows, pgx.RowTo[int64])
	if err != nil {
		return nil, fmt.Errorf("take in the books: %w", err)
	}
	out := map[int64]bool{}
	for _, id := range ids {
		out[id] = true
	}
	return out, nil
}

// Begun says which of the shop's books have begun: parts, bins with stock. Nothing where all are empty.
func Begun(ctx context.Context, db inventory.DB) (parts, movements int, err error) {
	if err := db.QueryRow(ctx, `SELECT (SELECT count(*) FROM part), (SELECT count(*) FROM movement)`).Scan(&parts, &movements); err != nil {
		return 0, 0, fmt.Errorf("ask what is in the books: %w", err)
	}
	return parts, movements, nil
}
