package catalogue

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// Merged is a merge that stands.
type Merged struct {
	ID       int64     `json:"id"`
	PartID   int64     `json:"part_id"`
	Name     string    `json:"name"`
	OtherID  int64     `json:"other_id"` // whose offers have become the part's
	Other    string    `json:"other"`
	MergedAt time.Time `json:"merged_at"`
}

// Merges are all merges that stand, the newest first.
func Merges(ctx context.Context, db inventory.DB) ([]Merged, error) {
	rows, err := db.Query(ctx, `
		SELECT m.id, part.id, part.name, other.id, other.name, m.merged_at
		FROM part_merge m JOIN part ON part.id = m.kept JOIN part other ON other.id = m.merged
		WHERE m.split_at IS NULL
		ORDER BY m.merged_at DESC, m.id DESC`)
	if err != nil {
		return nil, fmt.Errorf("read the merges: %w", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Merged])
	if err != nil {
		return nil, fmt.Errorf("read the merges: %w", err)
	}
	return list, nil
}

// MergeOf is the merge in which a part was merged into another; ok is false when it stands for itself.
func MergeOf(ctx context.Context, db inventory.DB, partID int64) (m Merged, ok bool, err error) {
	err = db.QueryRow(ctx, `
		SELECT m.id, part.id, part.name, other.id, other.name, m.merged_at
		FROM part_merge m JOIN part ON part.id = m.kept JOIN part other ON other.id = m.merged
		WHERE m.merged = $1 AND m.split_at IS NULL`, partID).Scan(&m.ID, &m.PartID, &m.Name, &m.OtherID, &m.Other, &m.MergedAt)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return Merged{}, false, nil
	case err != nil:
		return Merged{}, false, fmt.Errorf("read the merge of part %d: %w", partID, err)
	}
	return m, true, nil
}
