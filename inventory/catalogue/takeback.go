package catalogue

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// remember keeps what the supplier offered before a load, so that the load can be taken back. Only the last one can.
func (l Load) remember(ctx context.Context, tx pgx.Tx, loadID int64) error {
	for _, sql := range []string{
		`DELETE FROM offer_before USING list_load WHERE list_load.id = load_id AND supplier_id = $2 AND load_id <> $1`,
		`DELETE FROM part_before USING list_load WHERE list_load.id = load_id AND supplier_id = $2 AND load_id <> $1`,
		`UPDATE list_load SET waiting_before = NULL, unread_before = NULL WHERE supplier_id = $2 AND id <> $1 AND waiting_before IS NOT NULL`,
		`INSERT INTO offer_before (load_id, offer_id, part_id, description, gtin, pack, minimum_packs, stock, as_of, gone_at, listed, from_packs, prices, due_on)
		 SELECT $1, id, part_id, description, gtin, pack, minimum_packs, stock, as_of, gone_at, listed,
		        ARRAY(SELECT from_packs FROM price_break WHERE offer_id = offer.id ORDER BY from_packs),
		        ARRAY(SELECT price FROM price_break WHERE offer_id = offer.id ORDER BY from_packs), due_on
		 FROM offer WHERE supplier_id = $2`,
		`UPDATE list_load SET
		     waiting_before = COALESCE((SELECT jsonb_agg(to_jsonb(w)) FROM list_waiting w WHERE w.supplier_id = $2), '[]'),
		     unread_before = COALESCE((SELECT jsonb_agg(to_jsonb(u)) FROM list_unread u WHERE u.supplier_id = $2), '[]')
		 WHERE id = $1`,
	} {
		if _, err := tx.Exec(ctx, sql, loadID, l.SupplierID); err != nil {
			return fmt.Errorf("remember what was before: %w", err)
		}
	}
	return nil
}

// rememberParts keeps the parts that the list says more of, or otherwise, as they were.
func (st stage) rememberParts(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	if st.loadID == 0 {
		return nil // an answer is changed by another answer
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO part_before
		SELECT DISTINCT $1::bigint, part.id, part.family, part.dims, part.origins, part.retail, part.retail_by, part.retail_as_of
		FROM matched JOIN part ON part.id IN (matched.part_id, matched.was_part)
		WHERE matched.mended OR NOT part.dims @> matched.dims
		   OR matched.retail > 0 AND (part.retail, part.retail_by) IS DISTINCT FROM (trim_scale(round(matched.retail / matched.pack, 6)), $2::bigint)`, st.loadID, st.supplierID)
	if err != nil {
		return fmt.Errorf("remember the parts: %w", err)
	}
	return nil
}

// TakenBack is a load that was taken back.
type TakenBack struct {
	File     string    `json:"file"`
	AsOf     time.Time `json:"as_of"`
	Restored int       `json:"restored"` // offers that are as they were before it
	Gone     int       `json:"gone"`     // offers that came with it
}

// TakeBackError says why the last load of a supplier cannot be taken back.
type TakeBackError struct{ Says string }

func (e *TakeBackError) Error() string { return e.Says }

// TakeBack undoes the last load of a supplier: offers, prices, what waits and what is unread are as before it, and so
// are parts that the list mended, but for what has been measured or said since. An offer that came with it and has been
// ordered or claimed since is gone, not forgotten.
func TakeBack(ctx context.Context, tx pgx.Tx, supplierID int64) (TakenBack, error) {
	var t TakenBack
	var id int64
	var loadedAt time.Time
	var kept bool
	if _, err := tx.Exec(ctx, `SELECT FROM supplier WHERE id = $1 FOR UPDATE`, supplierID); err != nil {
		return t, fmt.Errorf("take back a list: %w", err)
	}
	err := tx.QueryRow(ctx, `
		SELECT id, file, as_of, loaded_at, waiting_before IS NOT NULL FROM list_load
		WHERE supplier_id = $1 AND taken_back_at IS NULL ORDER BY as_of DESC, id DESC LIMIT 1`, supplierID).Scan(&id, &t.File, &t.AsOf, &loadedAt, &kept)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return t, &TakeBackError{"no list of this supplier's is loaded"}
	case err != nil:
		return t, fmt.Errorf("look for the last list: %w", err)
	case !kept:
		return t, &TakeBackError{fmt.Sprintf("what was before %s is not known any more: only the last load can be taken back, once; load the list that is right", t.File)}
	}
	for _, step := range []struct {
		into *int
		sql  string
	}{
		{nil, `DELETE FROM price_history USING offer WHERE offer.id = offer_id AND supplier_id = $2 AND price_history.as_of = $3`},
		{nil, `DELETE FROM retail_history USING offer WHERE offer.id = offer_id AND supplier_id = $2 AND retail_history.as_of = $3`},
		{nil, `INSERT INTO price_history (offer_id, as_of, pack, price)
		       SELECT offer_id, as_of, pack, prices[1] FROM offer_before WHERE load_id = $1 AND as_of = $3 AND listed AND cardinality(prices) > 0 ON CONFLICT DO NOTHING`},
		{&t.Restored, `UPDATE offer SET (part_id, description, gtin, pack, minimum_packs, stock, due_on, as_of, gone_at, listed) =
		         (b.part_id, b.description, b.gtin, b.pack, b.minimum_packs, b.stock, b.due_on, b.as_of, b.gone_at, b.listed)
		       FROM offer_before b WHERE b.load_id = $1 AND b.offer_id = offer.id AND (offer.as_of = $3 OR offer.gone_at = $3)`},
		{nil, `DELETE FROM price_break USING offer_before b, offer
		       WHERE b.load_id = $1 AND b.offer_id = price_break.offer_id AND offer.id = b.offer_id AND offer.as_of = b.as_of`},
		{nil, `INSERT INTO price_break (offer_id, from_packs, price)
		       SELECT b.offer_id, said.* FROM offer_before b JOIN offer ON offer.id = b.offer_id, unnest(b.from_packs, b.prices) AS said
		       WHERE b.load_id = $1 AND offer.as_of = b.as_of`},
		{&t.Gone, `UPDATE offer SET gone_at = now()
		       WHERE supplier_id = $2 AND listed AND as_of = $3 AND NOT EXISTS (SELECT FROM offer_before b WHERE b.load_id = $1 AND b.offer_id = offer.id)`},
		{nil, `DELETE FROM offer
		       WHERE supplier_id = $2 AND gone_at = now() AND as_of = $3
		         AND NOT EXISTS (SELECT FROM offer_before b WHERE b.offer_id = offer.id) AND NOT EXISTS (SELECT FROM price_history h WHERE h.offer_id = offer.id)
		         AND NOT EXISTS (SELECT FROM retail_history h WHERE h.offer_id = offer.id)
		         AND NOT EXISTS (SELECT FROM order_line l WHERE l.offer_id = offer.id) AND NOT EXISTS (SELECT FROM claim c WHERE c.offer_id = offer.id)`},
		// Of a part that was mended, what the list has added goes; what was measured or said since stays.
		{nil, `UPDATE part SET family = b.family, dims = b.dims, origins = b.origins FROM part_before b
		       WHERE b.load_id = $1 AND b.part_id = part.id AND b.family <> part.family AND part.said = '{}'`},
		{nil, `UPDATE part SET dims = part.dims - added.names, origins = part.origins - added.names
		       FROM (SELECT b.part_id, array_agg(key) AS names FROM part_before b JOIN part ON part.id = b.part_id, jsonb_object_keys(part.dims) AS key
		             WHERE b.load_id = $1 AND NOT b.dims ? key AND part.origins ->> key = 'supplier-text' GROUP BY b.part_id) AS added
		       WHERE part.id = added.part_id`},
		{nil, `UPDATE part SET (retail, retail_by, retail_as_of) = (b.retail, b.retail_by, b.retail_as_of) FROM part_before b
		       WHERE b.load_id = $1 AND b.part_id = part.id AND part.retail_by = $2 AND part.retail_as_of = $3`},
		{nil, `DELETE FROM part
		       WHERE added_at = $4 AND NOT EXISTS (SELECT FROM offer WHERE part_id = part.id) AND NOT EXISTS (SELECT FROM offer_before WHERE part_id = part.id)
		         AND NOT EXISTS (SELECT FROM part_before WHERE part_id = part.id) AND NOT EXISTS (SELECT FROM shelf WHERE part_id = part.id)
		         AND NOT EXISTS (SELECT FROM order_line WHERE part_id = part.id) AND NOT EXISTS (SELECT FROM claim WHERE part_id = part.id)
		         AND NOT EXISTS (SELECT FROM movement WHERE part_id = part.id) AND NOT EXISTS (SELECT FROM reservation WHERE part_id = part.id)
		         AND NOT EXISTS (SELECT FROM part_merge WHERE part.id IN (kept, merged)) AND NOT EXISTS (SELECT FROM part_differs WHERE part.id IN (a, b))
		         AND NOT EXISTS (SELECT FROM part other WHERE other.merged_into = part.id)`},
		{nil, `DELETE FROM list_waiting WHERE supplier_id = $2`},
		{nil, `DELETE FROM list_unread WHERE supplier_id = $2`},
		{nil, `INSERT INTO list_waiting SELECT w.* FROM list_load, jsonb_populate_recordset(NULL::list_waiting, waiting_before) AS w WHERE list_load.id = $1`},
		{nil, `INSERT INTO list_unread SELECT u.* FROM list_load, jsonb_populate_recordset(NULL::list_unread, unread_before) AS u WHERE list_load.id = $1`},
		{nil, `UPDATE list_load SET taken_back_at = now(), waiting_before = NULL, unread_before = NULL WHERE id = $1`},
		{nil, `DELETE FROM offer_before WHERE load_id = $1`},
		{nil, `DELETE FROM part_before WHERE load_id = $1`},
	} {
		// Each statement has the same four, whether it uses them or not.
		tag, err := tx.Exec(ctx, `WITH given AS (SELECT $1::bigint, $2::bigint, $3::timestamptz, $4::timestamptz) `+step.sql, id, supplierID, t.AsOf, loadedAt)
		if err != nil {
			return t, fmt.Errorf("take back %s: %w", t.File, err)
		}
		if step.into != nil {
			*step.into = int(tag.RowsAffected())
		}
	}
	return t, nil
}
