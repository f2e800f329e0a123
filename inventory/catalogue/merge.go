package catalogue

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// Alike is two parts that may be one: of one family, nothing that is known of both differs, and the names are alike. A
// person says whether they are ([Merge]) or not ([Differ]).
type Alike struct {
	PartID  int64   `json:"part_id"`
	Name    string  `json:"name"`
	OtherID int64   `json:"other_id"`
	Other   string  `json:"other"`
	Shared  int     `json:"shared"` // dimensions that both have
	Names   float64 `json:"names"`  // how alike the names are, 0 to 1
}

// leastShared is how many dimensions two parts must have in common to be proposed as one, and leastNames how alike their
// names must be: wholesalers abbreviate differently, so the spec counts for more than the name.
const (
	leastShared = 2
	leastNames  = 0.15
)

// Likely are parts that a supplier sells which may be the same as parts that others sell, the likeliest first.
func Likely(ctx context.Context, db inventory.DB, supplierID int64, most int) ([]Alike, error) {
	rows, err := db.Query(ctx, `
		WITH mine AS (
		    SELECT DISTINCT part.* FROM offer JOIN part ON part.id = offer.part_id
		    WHERE offer.supplier_id = $1 AND offer.gone_at IS NULL
		)
		SELECT mine.id, mine.name, other.id, other.name, shared.n::int, similarity(mine.name, other.name)::float8
		FROM mine
		JOIN part other ON other.family = mine.family AND other.id <> mine.id AND part_marks(other.family, other.dims) && part_marks(mine.family, mine.dims)
		CROSS JOIN LATERAL (SELECT count(*) AS n FROM jsonb_object_keys(mine.dims) AS key WHERE other.dims ? key) AS shared
		WHERE dims_differ_in(mine.dims, other.dims) IS NULL
		  AND shared.n >= $2 AND similarity(mine.name, other.name) >= $3
		  AND (mine.gtin IS NULL OR other.gtin IS NULL)
		  AND (mine.maker_code = '' OR other.maker_code = '' OR lower(mine.maker_code) = lower(other.maker_code))
		  AND other.merged_into IS NULL
		  AND NOT EXISTS (SELECT FROM offer WHERE offer.part_id = other.id AND offer.supplier_id = $1 AND gone_at IS NULL)
		  AND EXISTS (SELECT FROM offer WHERE offer.part_id = other.id)
		  AND NOT EXISTS (SELECT FROM part_differs d WHERE d.a = LEAST(mine.id, other.id) AND d.b = GREATEST(mine.id, other.id))
		ORDER BY shared.n DESC, 6 DESC, mine.id, other.id
		LIMIT $4`, supplierID, leastShared, leastNames, most)
	if err != nil {
		return nil, fmt.Errorf("look for parts that may be one: %w", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Alike])
	if err != nil {
		return nil, fmt.Errorf("look for parts that may be one: %w", err)
	}
	return list, nil
}

// MergeError says why two parts cannot be made one.
type MergeError struct{ Says string }

func (e *MergeError) Error() string { return e.Says }

// Merge makes one part of two: the other's offers become the kept one's, and its later lists go there too, and so does
// all that is under way: what is on order, what jobs wait for, and the level at which it is ordered again. The other
// stays in the catalogue for what was said of it before; with pieces on the shelf it cannot be merged away, nor twice.
// Two that differ in a dimension are not one.
func Merge(ctx context.Context, tx pgx.Tx, keep, other int64) (mergeID int64, err error) {
	for _, id := range []int64{keep, other} {
		m, merged, err := mergeOf(ctx, tx, id)
		if err != nil {
			return 0, err
		}
		if merged {
			return 0, &MergeError{fmt.Sprintf("part %d is one with part %d already: name that part", id, m.PartID)}
		}
	}
	if err := lockWaiting(ctx, tx, keep, other); err != nil {
		return 0, err
	}
	var keepFamily, otherFamily, dimension, kept, others string
	var onHand int
	err = tx.QueryRow(ctx, `
		SELECT k.family, o.family, COALESCE(d, ''), COALESCE(k.dims ->> d, ''), COALESCE(o.dims ->> d, ''), COALESCE((SELECT on_hand FROM shelf WHERE part_id = o.id), 0)
		FROM part k CROSS JOIN part o CROSS JOIN LATERAL dims_differ_in(k.dims, o.dims) AS d WHERE k.id = $1 AND o.id = $2`, keep, other).
		Scan(&keepFamily, &otherFamily, &dimension, &kept, &others, &onHand)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return 0, &MergeError{fmt.Sprintf("parts %d and %d are not both in the catalogue", keep, other)}
	case err != nil:
		return 0, fmt.Errorf("merge parts %d and %d: %w", keep, other, err)
	case keep == other:
		return 0, &MergeError{fmt.Sprintf("both are part %d: a part cannot be merged with itself", keep)}
	case keepFamily != otherFamily:
		return 0, &MergeError{fmt.Sprintf("part %d is a %s and part %d a %s: they are not one", keep, keepFamily, other, otherFamily)}
	case dimension != "":
		return 0, &MergeError{fmt.Sprintf("part %d has %s %s and part %d %s: they are not one; if one of them was read wrongly, say so of its line first", keep, dimension, kept, other, others)}
	case onHand > 0:
		return 0, &MergeError{fmt.Sprintf("%d pieces of part %d are on the shelf: keep that part, and merge the other into it", onHand, other)}
	}
	err = tx.QueryRow(ctx, `
		WITH moved AS (UPDATE offer SET part_id = $1 WHERE part_id = $2 RETURNING id),
		     passed AS (UPDATE part_merge SET kept = $1 WHERE kept = $2 AND split_at IS NULL),
		     level AS (SELECT o.reorder_level, o.reorder_to FROM part o, part k
		               WHERE o.id = $2 AND k.id = $1 AND o.reorder_level IS NOT NULL AND k.reorder_level IS NULL)
		INSERT INTO part_merge (kept, merged, offers, reorder_level, reorder_to)
		SELECT $1, $2, COALESCE((SELECT array_agg(id ORDER BY id) FROM moved), '{}'), (SELECT reorder_level FROM level), (SELECT reorder_to FROM level)
		RETURNING id`, keep, other).Scan(&mergeID)
	if err != nil {
		return 0, fmt.Errorf("merge parts %d and %d: %w", keep, other, err)
	}
	for _, sql := range []string{
		`UPDATE part SET (reorder_level, reorder_to) = (m.reorder_level, m.reorder_to) FROM part_merge m WHERE m.id = $3 AND part.id = $1 AND m.reorder_level IS NOT NULL`,
		`UPDATE part SET reorder_level = NULL, reorder_to = NULL, merged_into = $1 WHERE id = $2 OR merged_into = $2`,
		`UPDATE order_line SET part_id = $1 WHERE part_id = $2 AND received + cancelled < packs * pack`,
		`UPDATE claim SET part_id = $1 WHERE part_id = $2 AND state IN ('wanted', 'ordered')`,
	} {
		if _, err := tx.Exec(ctx, `WITH given AS (SELECT $1::bigint, $2::bigint, $3::bigint) `+sql, keep, other, mergeID); err != nil {
			return 0, fmt.Errorf("merge parts %d and %d: %w", keep, other, err)
		}
	}
	return mergeID, nil
}

// lockWaiting locks the jobs that wait for either part, and the shelf rows of both, in the order that all changes of
// stock keep.
func lockWaiting(ctx context.Context, tx pgx.Tx, parts ...int64) error {
	rows, err := tx.Query(ctx, `SELECT DISTINCT job_id FROM claim WHERE part_id = ANY($1) AND state IN ('wanted', 'ordered')`, parts)
	if err != nil {
		return fmt.Errorf("read who waits for the parts: %w", err)
	}
	jobs, err := pgx.CollectRows(rows, pgx.RowTo[int64])
	if err != nil {
		return fmt.Errorf("read who waits for the parts: %w", err)
	}
	known, err := inventory.Parts(ctx, tx, parts)
	if err != nil {
		return err
	}
	return inventory.Lock(ctx, tx, jobs, slices.Collect(maps.Keys(known)))
}

// Split undoes a merge: the offers that moved then, and are still where they went, go back with what is on order of them and
// what jobs were promised from them, and so does the level at which the part is ordered again.
func Split(ctx context.Context, tx pgx.Tx, mergeID int64) error {
	var kept, merged int64
	err := tx.QueryRow(ctx, `SELECT kept, merged FROM part_merge WHERE id = $1`, mergeID).Scan(&kept, &merged)
	if errors.Is(err, pgx.ErrNoRows) {
		return &MergeError{fmt.Sprintf("there is no merge %d", mergeID)}
	}
	if err != nil {
		return fmt.Errorf("undo merge %d: %w", mergeID, err)
	}
	if err := lockWaiting(ctx, tx, kept, merged); err != nil {
		return err
	}
	tag, err := tx.Exec(ctx, `
		UPDATE part SET (reorder_level, reorder_to) = (NULL, NULL) FROM part_merge m
		WHERE m.id = $1 AND m.split_at IS NULL AND part.id = m.kept AND m.reorder_level IS NOT NULL
		  AND (part.reorder_level, part.reorder_to) = (m.reorder_level, m.reorder_to)`, mergeID)
	if err != nil {
		return fmt.Errorf("undo merge %d: %w", mergeID, err)
	}
	back := `part.reorder_level`
	if tag.RowsAffected() > 0 {
		back = `m.reorder_level`
	}
	for _, sql := range []string{
		`UPDATE part SET merged_into = NULL, reorder_level = ` + back + `, reorder_to = ` + strings.Replace(back, "level", "to", 1) + `
		 FROM part_merge m WHERE m.id = $1 AND m.split_at IS NULL AND part.id = m.merged`,
		// Those that had been merged into it before go back with it.
		`UPDATE part SET merged_into = m.merged FROM part_merge m, part_merge earlier
		 WHERE m.id = $1 AND m.split_at IS NULL AND earlier.id < m.id AND earlier.split_at IS NULL AND earlier.kept = m.kept AND earlier.offers && m.offers
		   AND part.id = earlier.merged`,
		`UPDATE part_merge earlier SET kept = m.merged FROM part_merge m
		 WHERE m.id = $1 AND m.split_at IS NULL AND earlier.id < m.id AND earlier.split_at IS NULL AND earlier.kept = m.kept AND earlier.offers && m.offers`,
		`UPDATE order_line SET part_id = m.merged FROM part_merge m
		 WHERE m.id = $1 AND m.split_at IS NULL AND offer_id = ANY(m.offers) AND part_id = m.kept AND received + cancelled < packs * order_line.pack`,
		`UPDATE claim SET part_id = m.merged FROM part_merge m
		 WHERE m.id = $1 AND m.split_at IS NULL AND part_id = m.kept AND state IN ('wanted', 'ordered')
		   AND (CASE WHEN order_line_id IS NULL THEN offer_id ELSE (SELECT offer_id FROM order_line WHERE id = order_line_id) END) = ANY(m.offers)`,
		`UPDATE offer SET part_id = m.merged FROM part_merge m WHERE m.id = $1 AND m.split_at IS NULL AND offer.id = ANY(m.offers) AND offer.part_id = m.kept`,
		`UPDATE part_merge SET split_at = now() WHERE id = $1 AND split_at IS NULL`,
	} {
		if _, err := tx.Exec(ctx, sql, mergeID); err != nil {
			return fmt.Errorf("undo merge %d: %w", mergeID, err)
		}
	}
	return nil
}

// Differ notes that two parts are not one, so that they are not proposed again.
func Differ(ctx context.Context, tx pgx.Tx, a, b int64) error {
	if a == b {
		return &MergeError{"a part does not differ from itself"}
	}
	tag, err := tx.Exec(ctx, `INSERT INTO part_differs (a, b) VALUES (LEAST($1::bigint, $2), GREATEST($1::bigint, $2)) ON CONFLICT DO NOTHING`, a, b)
	if err != nil {
		return fmt.Errorf("note that parts %d and %d differ: %w", a, b, err)
	}
	if tag.RowsAffected() == 0 {
		return &MergeError{fmt.Sprintf("it was said before that parts %d and %d are two: nothing changed", a, b)}
	}
	return nil
}
