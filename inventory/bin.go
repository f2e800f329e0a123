package inventory

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
)

// AddBin labels a bin. One that is there already stays as it is.
func AddBin(ctx context.Context, tx pgx.Tx, name string) error {
	name = strings.TrimSpace(name)
	if name == "" {
		return errors.New("a bin needs a name, as on its label")
	}
	if _, err := tx.Exec(ctx, `INSERT INTO bin (name) VALUES ($1) ON CONFLICT DO NOTHING`, name); err != nil {
		return fmt.Errorf("add bin %s: %w", name, err)
	}
	return nil
}

// Bins are the names of all bins.
func Bins(ctx context.Context, db DB) ([]string, error) {
	names, err := Collect(ctx, db, pgx.RowTo[string], `SELECT name FROM bin ORDER BY name`)
	if err != nil {
		return nil, fmt.Errorf("read the bins: %w", err)
	}
	return names, nil
}

// Content is how many pieces of a part are in a bin.
type Content struct {
	PartID int64  `json:"part_id"`
	Bin    string `json:"bin"`
	Pieces int    `json:"pieces"`
}

// Contents says what is in which bin, by part and bin: of some parts, or with none named of all.
func Contents(ctx context.Context, db DB, partIDs ...int64) ([]Content, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Content], `
		SELECT part_id, bin.name, pieces
		FROM balance JOIN bin ON bin.id = bin_id
		WHERE pieces > 0 AND (cardinality($1::bigint[]) = 0 OR part_id = ANY($1))
		ORDER BY part_id, bin.name`, append([]int64{}, partIDs...))
	if err != nil {
		return nil, fmt.Errorf("read the bins: %w", err)
	}
	return all, nil
}

// binNamed is the number of a bin; an unknown name is an *[UnknownError] with the nearest ones.
func binNamed(ctx context.Context, db DB, name string) (int64, error) {
	var id int64
	err := db.QueryRow(ctx, `SELECT id FROM bin WHERE lower(name) = lower($1) ORDER BY name = $1 DESC LIMIT 1`, strings.TrimSpace(name)).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
		return 0, unknown(ctx, db, OfBin, name, `SELECT name FROM bin ORDER BY name <-> $1, name LIMIT 3`)
	}
	if err != nil {
		return 0, fmt.Errorf("read bin %s: %w", name, err)
	}
	return id, nil
}

// inBin is how many pieces of a part, whose shelf row is locked, are in a bin.
func inBin(ctx context.Context, tx pgx.Tx, partID, binID int64) (int, error) {
	var pieces int
	err := tx.QueryRow(ctx, `SELECT COALESCE((SELECT pieces FROM balance WHERE part_id = $1 AND bin_id = $2), 0)`, partID, binID).Scan(&pieces)
	if err != nil {
		return 0, fmt.Errorf("read what is in the bin: %w", err)
	}
	return pieces, nil
}
