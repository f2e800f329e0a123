package catalogue

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// Alike is two parts that may be one: of one family, nothing that is known of both differs, and the names are alike. A person
// says whether they are ([Merge]) or not ([Differ]).
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
		WHERE mine.dims || other.dims = other.dims || mine.dims
		  AND shared.n >= $2 AND similarity(mine.name, other.name) >= $3
		  AND (mine.gtin IS NULL OR other.gtin IS NULL)
		  AND (mine.maker_code = '' OR other.maker_code = '' OR lower(mine.maker_code) = lower(other.maker_code))
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

// Merge makes one part of two: the other's offers become the kept one's, and its later lists go there too. The other
// stays in the catalogue for what was said of it before; with pieces on the shelf it cannot be merged away, nor twice.
func Merge(ctx context.Context, tx pgx.Tx, keep, other int64) (mergeID int64, err error) {
	var keepFamily, otherFamily string
	var onHand int
	for _, id := range []int64{keep, other} {
		m, merged, err := MergeOf(ctx, tx, id)
		if err != nil {
			return 0, err
		}
		if merged {
			return 0, &MergeError{fmt.Sprintf("part %d is one with part %d already: name that part", id, m.PartID)}
		}
	}
	err = tx.QueryRow(ctx, `
		SELECT k.family, o.family, COALESCE((SELECT on_hand FROM shelf WHERE part_id = o.id), 0)
		FROM part k, part o WHERE k.id = $1 AND o.id = $2`, keep, other).Scan(&keepFamily, &otherFamily, &onHand)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return 0, &MergeError{fmt.Sprintf("parts %d and %d are not both in the catalogue", keep, other)}
	case err != nil:
		return 0, fmt.Errorf("merge parts %d and %d: %w", keep, other, err)
	case keep == other:
		return 0, &MergeError{"a part cannot be merged with itself"}
	case keepFamily != otherFamily:
		return 0, &MergeError{fmt.Sprintf("part %d is a %s and part %d a %s: they are not one", keep, keepFamily, other, otherFamily)}
	case onHand > 0:
		return 0, &MergeError{fmt.Sprintf("%d pieces of part %d are on the shelf: keep that part, and merge the other into it", onHand, other)}
	}
	err = tx.QueryRow(ctx, `
		WITH moved AS (UPDATE offer SET part_id = $1 WHERE part_id = $2 RETURNING id),
		     passed AS (UPDATE part_merge SET kept = $1 WHERE kept = $2 AND split_at IS NULL)
		INSERT INTO part_merge (kept, merged, offers) SELECT $1, $2, COALESCE(array_agg(id ORDER BY id), '{}') FROM moved
		RETURNING id`, keep, other).Scan(&mergeID)
	if err != nil {
		return 0, fmt.Errorf("merge parts %d and %d: %w", keep, other, err)
	}
	return mergeID, nil
}

// Split undoes a merge: the offers that moved then, and are still where they went, go back.
func Split(ctx context.Context, tx pgx.Tx, mergeID int64) error {
	tag, err := tx.Exec(ctx, `
		WITH undone AS (UPDATE part_merge SET split_at = now() WHERE id = $1 AND split_at IS NULL RETURNING kept, merged, offers)
		UPDATE offer SET part_id = undone.merged FROM undone
		WHERE offer.id = ANY (undone.offers) AND offer.part_id = undone.kept`, mergeID)
	if err != nil {
		return fmt.Errorf("undo merge %d: %w", mergeID, err)
	}
	if tag.RowsAffected() > 0 {
		return nil
	}
	var known bool
	if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM part_merge WHERE id = $1)`, mergeID).Scan(&known); err != nil {
		return fmt.Errorf("undo merge %d: %w", mergeID, err)
	}
	if !known {
		return &MergeError{fmt.Sprintf("there is no merge %d", mergeID)}
	}
	return nil
}

// Differ notes that two parts are not one, so that they are not proposed again.
func Differ(ctx context.Context, tx pgx.Tx, a, b int64) error {
	if a == b {
		return &MergeError{"a part does not differ from itself"}
	}
	_, err := tx.Exec(ctx, `INSERT INTO part_differs (a, b) VALUES (LEAST($1::bigint, $2), GREATEST($1::bigint, $2)) ON CONFLICT DO NOTHING`, a, b)
	if err != nil {
		return fmt.Errorf("note that parts %d and %d differ: %w", a, b, err)
	}
	return nil
}
