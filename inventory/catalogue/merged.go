package catalogue

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
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

// mergeOf is the merge in which a part was merged into another; ok is false when it stands for itself.
func mergeOf(ctx context.Context, db inventory.DB, partID int64) (m Merged, ok bool, err error) {
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

// MergeNamed is the merge of a part that bears a number, GTIN, maker's code or supplier's code of its own; ok is false
// when it stands for itself.
func MergeNamed(ctx context.Context, db inventory.DB, name string) (m Merged, ok bool, err error) {
	number, err := strconv.ParseInt(strings.TrimSpace(name), 10, 64)
	if err != nil {
		number = 0 // no part's
	}
	var id int64
	err = db.QueryRow(ctx, `
		SELECT id FROM part WHERE merged_into IS NOT NULL
		  AND (id = $2 OR gtin = $1 OR brand <> '' AND maker_code <> '' AND lower(maker_code) = lower($1)
		       OR id IN (SELECT m.merged FROM part_merge m JOIN offer ON offer.id = ANY(m.offers) WHERE m.split_at IS NULL AND lower(offer.code) = lower($1)))
		ORDER BY id = $2 DESC LIMIT 1`, strings.TrimSpace(name), number).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
		return Merged{}, false, nil
	}
	if err != nil {
		return Merged{}, false, fmt.Errorf("look for the merge of part %s: %w", name, err)
	}
	return mergeOf(ctx, db, id)
}
