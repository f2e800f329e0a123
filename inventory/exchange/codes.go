package exchange

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/barcode"
)

// Codes are those that the shop itself has given to parts, beside a part's GTIN and its maker's code.
var Codes = Table{File: "codes.csv", Columns: []string{"code", "part", "given_at"}, Must: []string{"code", "part"}}

// WriteCodes gives the codes in the order of their letters.
func WriteCodes(ctx context.Context, db inventory.DB) ([][]string, error) {
	rows, err := db.Query(ctx, `SELECT code, part_id, given_at FROM part_code ORDER BY code COLLATE "C"`)
	if err != nil {
		return nil, fmt.Errorf("read the codes: %w", err)
	}
	lines, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) ([]string, error) {
		var code string
		var part int64
		var at time.Time
		err := row.Scan(&code, &part, &at)
		return []string{code, strconv.FormatInt(part, 10), Moment(at)}, err
	})
	if err != nil {
		return nil, fmt.Errorf("read the codes: %w", err)
	}
	return lines, nil
}

// readCode reads a line. parts are the numbers of the parts here by those in the file.
func readCode(r *Row, parts map[int64]int64, now time.Time) (code barcode.Code, part int64, at time.Time) {
	number := r.ID("part")
	at = now
	if r.Text("given_at") != "" {
		at = r.Moment("given_at")
	}
	code, err := barcode.Read(r.Text("code"))
	part = parts[number]
	switch {
	case err != nil:
		r.Refuse("code", "%s", err)
	case code.Label != nil:
		r.Refuse("code", "“%s” is a label of the workshop's own, which is given to nothing", code.Text)
	case part == 0:
		r.Refuse("part", "there is no part %d in %s", number, Parts.File)
	case at.After(now):
		r.Refuse("given_at", "is still to come")
	}
	return code, part, at
}

// keep keeps a code with its part, and says whether it was not there.
func keep(ctx context.Context, tx pgx.Tx, code barcode.Code, part int64, at time.Time) (added bool, err error) {
	tag, err := tx.Exec(ctx, `INSERT INTO part_code (code, part_id, given_at) VALUES (lower($1), $2, $3) ON CONFLICT (code) DO NOTHING`, code.Text, part, at)
	if err != nil {
		return false, fmt.Errorf("take in code %s: %w", code.Text, err)
	}
	return tag.RowsAffected() > 0, nil
}

// TakeCodes keeps the codes of a catalogue that was just taken in with its numbers, parts.
func TakeCodes(ctx context.Context, tx pgx.Tx, rows []*Row, parts map[int64]int64, now time.Time) error {
	for _, r := range rows {
		code, part, at := readCode(r, parts, now)
		if err := r.Wrong(); err != nil {
			return err
		}
		added, err := keep(ctx, tx, code, part, at)
		if err != nil {
			return err
		}
		if !added {
			r.Refuse("code", "%s is there twice", code.Text)
			return r.Wrong()
		}
	}
	return nil
}

// AddCodes gives parts of a running catalogue the codes that they do not bear yet, and gives how many those are. A code that
// another part bears is refused: a scanner would open two.
func AddCodes(ctx context.Context, tx pgx.Tx, rows []*Row, parts map[int64]int64, now time.Time) (added int, err error) {
	for _, r := range rows {
		code, part, at := readCode(r, parts, now)
		if err := r.Wrong(); err != nil {
			return 0, err
		}
		bearers, err := inventory.PartsCoded(ctx, tx, code)
		if err != nil {
			return 0, err
		}
		if slices.ContainsFunc(bearers, func(p inventory.Part) bool { return p.ID == part }) {
			continue
		}
		if len(bearers) > 0 {
			r.Refuse("code", "%s is of part %d, %s, already", code.Text, bearers[0].ID, bearers[0].Name)
			return 0, r.Wrong()
		}
		if _, err := keep(ctx, tx, code, part, at); err != nil {
			return 0, err
		}
		added++
	}
	return added, nil
}
