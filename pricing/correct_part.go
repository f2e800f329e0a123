package pricing

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// CorrectPart corrects a part of the catalogue, as [inventory.CorrectPart] does. An open quote with the part among its
// options no longer holds: what it rests on has changed.
func CorrectPart(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand, change func(*inventory.Part) error) (inventory.Part, error) {
	part, err := inventory.CorrectPart(ctx, tx, id, hand, change)
	if err != nil {
		return part, err
	}
	rows, err := tx.Query(ctx, `
		SELECT job_id FROM quote WHERE state = 'open' AND document @> jsonb_build_object('options', jsonb_build_array(jsonb_build_object('parts', jsonb_build_array(jsonb_build_object('part_id', $1::bigint)))))
		ORDER BY job_id`, id)
	var jobs []int64
	if err == nil {
		jobs, err = pgx.CollectRows(rows, pgx.RowTo[int64])
	}
	if err != nil {
		return part, fmt.Errorf("looking for quotes of part %d: %w", id, err)
	}
	for _, job := range jobs {
		state, err := lockJob(ctx, tx, job)
		if err != nil {
			return part, err
		}
		if err := unquote(ctx, tx, job, state, Inspected); err != nil {
			return part, err
		}
	}
	return part, nil
}
