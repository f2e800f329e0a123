package inventory_test

import (
	"context"
	"errors"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
)

// Ten forms made on one state of a job are sent at once: one is taken, the others are told what happened and by whom.
func TestOneOfManyOnTheSameState(t *testing.T) {
	db := testdb.New(t)
	var id int64
	require.NoError(t, db.QueryRow(t.Context(), `
		WITH c AS (INSERT INTO customer (name) VALUES ('Ines Falkner') RETURNING id),
		     b AS (INSERT INTO bike (customer_id, words) SELECT id, 'blue touring bike' FROM c RETURNING id)
		INSERT INTO job (bike_id) SELECT id FROM b RETURNING id`).Scan(&id))
	job := inventory.Subject{Kind: "job", ID: id}
	state, err := inventory.StateOf(t.Context(), db, job)
	require.NoError(t, err)
	require.Equal(t, 1, state, "it was booked in")

	var wait sync.WaitGroup
	outcomes := make(chan error, 10)
	for range cap(outcomes) {
		wait.Go(func() {
			ctx := inventory.By(t.Context(), "Bram Oakes", "changed the wish")
			_, _, err := inventory.Once(ctx, db, inventory.NewKey(), "change", func(ctx context.Context, tx pgx.Tx) (bool, error) {
				if err := inventory.LockUnchanged(ctx, tx, job, state); err != nil {
					return false, err
				}
				_, err := tx.Exec(ctx, `UPDATE job SET wish = wish || '!' WHERE id = $1`, id)
				return true, err
			})
			outcomes <- err
		})
	}
	wait.Wait()
	close(outcomes)
	taken := 0
	for err := range outcomes {
		var changed *inventory.ChangedError
		switch {
		case err == nil:
			taken++
		case errors.As(err, &changed):
			require.Len(t, changed.Since, 1)
			require.Equal(t, "Bram Oakes", changed.Since[0].By)
			require.Equal(t, "changed the wish", changed.Since[0].Words)
		default:
			require.NoError(t, err)
		}
	}
	require.Equal(t, 1, taken)
	all, err := inventory.Happenings(t.Context(), db, job, 0)
	require.NoError(t, err)
	require.Len(t, all, 2)
}
