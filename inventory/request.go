package inventory

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
)

// NewKey makes a request key for a change that a person begins now. A caller that may repeat the change keeps the key.
func NewKey() string { return uuid.NewString() }

// OtherRequestError says that a request key was used before for something else.
type OtherRequestError struct {
	Key    string
	What   string // what is asked now
	Before string // what the key was used for
}

func (e *OtherRequestError) Error() string {
	return fmt.Sprintf("request %s was %q before and is %q now: give each request its own key", e.Key, e.Before, e.What)
}

// attempts bounds how often Once begins anew when the database broke a deadlock.
const attempts = 5

// Once does a person's change as one transaction under a request key. All of it happens or, with an error, none of it.
// A key seen before changes nothing: its first outcome is given again, and again is true. Two programs with one key at
// the same time wait for each other, and one of them does it. The outcome is kept as JSON, so T must survive that.
//
// The database may end a transaction to break a deadlock; then do is called anew, so it must change nothing but the
// database. The same key for another change is an *[OtherRequestError].
func Once[T any](ctx context.Context, pool *pgxpool.Pool, key, what string, do func(context.Context, pgx.Tx) (T, error)) (out T, again bool, err error) {
	if key == "" || what == "" {
		return out, false, errors.New("a request needs a key and a name")
	}
	for attempt := 1; ; attempt++ {
		out, again, err = once(ctx, pool, key, what, do)
		var pg *pgconn.PgError
		if attempt == attempts || !errors.As(err, &pg) || pg.Code != deadlockDetected {
			return out, again, err
		}
		// Lets the other transaction, which was waiting, go first.
		select {
		case <-ctx.Done():
			return out, again, err
		case <-time.After(time.Duration(attempt) * 50 * time.Millisecond):
		}
	}
}

const deadlockDetected = "40P01"

func once[T any](ctx context.Context, pool *pgxpool.Pool, key, what string, do func(context.Context, pgx.Tx) (T, error)) (out T, again bool, err error) {
	var none T
	tx, err := pool.Begin(ctx)
	if err != nil {
		return none, false, fmt.Errorf("%s: %w", what, err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx)) // nothing to do after a commit

	// Waits for another transaction with the same key, then inserts nothing if that one has done it.
	tag, err := tx.Exec(ctx, `INSERT INTO request (key, what) VALUES ($1, $2) ON CONFLICT DO NOTHING`, key, what)
	if err != nil {
		return none, false, fmt.Errorf("%s: %w", what, err)
	}
	if tag.RowsAffected() == 0 {
		var before string
		var outcome []byte
		if err := tx.QueryRow(ctx, `SELECT what, outcome FROM request WHERE key = $1`, key).Scan(&before, &outcome); err != nil {
			return none, false, fmt.Errorf("%s: read the request's first outcome: %w", what, err)
		}
		if before != what {
			return none, false, &OtherRequestError{Key: key, What: what, Before: before}
		}
		if err := json.Unmarshal(outcome, &out); err != nil {
			return none, false, fmt.Errorf("%s: read the request's first outcome: %w", what, err)
		}
		return out, true, nil
	}

	if out, err = do(ctx, tx); err != nil {
		return none, false, explain(err)
	}
	outcome, err := json.Marshal(out)
	if err != nil {
		return none, false, fmt.Errorf("%s: keep the outcome: %w", what, err)
	}
	if _, err := tx.Exec(ctx, `UPDATE request SET outcome = $2 WHERE key = $1`, key, outcome); err != nil {
		return none, false, fmt.Errorf("%s: keep the outcome: %w", what, err)
	}
	if err := tx.Commit(ctx); err != nil {
		return none, false, fmt.Errorf("%s: %w", what, err)
	}
	return out, false, nil
}
