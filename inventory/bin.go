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

// Contents says what is in which bin of the whole shelf, by part and bin.
func Contents(ctx context.Context, db DB) ([]Content, error) { return contents(ctx, db, `true`) }

// ContentsOf says in which bins some parts lie, by part and bin.
func ContentsOf(ctx context.Context, db DB, partIDs ...int64) ([]Content, error) {
	return contents(ctx, db, `part_id = ANY($1)`, partIDs)
}

// ContentsOfBin says what is in one bin, by part.
func ContentsOfBin(ctx context.Context, db DB, bin string) ([]Content, error) {
	return contents(ctx, db, `bin.name = $1`, bin)
}

func contents(ctx context.Context, db DB, which string, args ...any) ([]Content, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Content], `
		SELECT part_id, bin.name, pieces
		FROM balance JOIN bin ON bin.id = bin_id
		WHERE pieces > 0 AND `+which+`
		ORDER BY part_id, bin.name`, args...)
	if err != nil {
		return nil, fmt.Errorf("read the bins: %w", err)
	}
	return all, nil
}

// BinSize is a bin with how many parts lie in it.
type BinSize struct {
	Name  string
	Parts int
}

// BinSizes are all bins by their names, empty ones too.
func BinSizes(ctx context.Context, db DB) ([]BinSize, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[BinSize], `
		SELECT bin.name, count(balance.part_id)
		FROM bin LEFT JOIN balance ON balance.bin_id = bin.id AND balance.pieces > 0
		GROUP BY bin.name ORDER BY bin.name`)
	if err != nil {
		return nil, fmt.Errorf("read the bins: %w", err)
	}
	return all, nil
}

// Homes are the bins in which parts belong, by part: the one that somebody said, else the only one in which a part lies, or
// lay until its last piece went. A part that lies in several, or was never there, has none.
func Homes(ctx context.Context, db DB, partIDs ...int64) (map[int64]string, error) {
	type home struct {
		PartID int64
		Bin    string
	}
	all, err := Collect(ctx, db, pgx.RowToStructByPos[home], `
		SELECT part.id, bin.name
		FROM part
		LEFT JOIN LATERAL (
			SELECT CASE WHEN count(*) FILTER (WHERE pieces > 0) = 1 THEN max(bin_id) FILTER (WHERE pieces > 0)
			            WHEN count(*) = 1 THEN max(bin_id) END AS bin_id
			FROM balance WHERE part_id = part.id) lies ON true
		JOIN bin ON bin.id = COALESCE(part.bin_id, lies.bin_id)
		WHERE part.id = ANY($1)`, partIDs)
	if err != nil {
		return nil, fmt.Errorf("read where parts belong: %w", err)
	}
	out := map[int64]string{}
	for _, h := range all {
		out[h.PartID] = h.Bin
	}
	return out, nil
}

// homeOf is the bin in which a part belongs, or a *[NoBinError].
func homeOf(ctx context.Context, db DB, partID int64) (string, error) {
	homes, err := Homes(ctx, db, partID)
	if err != nil || homes[partID] != "" {
		return homes[partID], err
	}
	name, err := nameOf(ctx, db, partID)
	if err != nil {
		return "", err
	}
	return "", &NoBinError{Part: name}
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
