package inventory

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// DB is what a pool, a connection and a transaction have in common. What only reads takes a DB; what changes something
// takes a pgx.Tx.
type DB interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
	QueryRow(ctx context.Context, sql string, args ...any) pgx.Row
	Exec(ctx context.Context, sql string, args ...any) (pgconn.CommandTag, error)
	Begin(ctx context.Context) (pgx.Tx, error)
}

// Collect runs a query and reads all its rows.
func Collect[T any](ctx context.Context, db DB, read pgx.RowToFunc[T], sql string, args ...any) ([]T, error) {
	rows, err := db.Query(ctx, sql, args...)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, read)
}

// collectOne runs a query that gives one row; without one the error is pgx.ErrNoRows.
func collectOne[T any](ctx context.Context, db DB, read pgx.RowToFunc[T], sql string, args ...any) (T, error) {
	rows, err := db.Query(ctx, sql, args...)
	if err != nil {
		var none T
		return none, err
	}
	return pgx.CollectExactlyOneRow(rows, read)
}
