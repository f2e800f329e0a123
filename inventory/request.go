package inventory

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
)

// NewKey makes a request key for a change that a person begins now. A caller that may repeat the change keeps the key.
func NewKey() string { return rand.Text() }

// OtherRequestError says that a request key was used before for something else.
type OtherRequestError struct {
	Key    string
	What   string // what is asked now
	Before string // what the key was used for
}

func (e *OtherRequestError) Error() string {
	return fmt.Sprintf("request %s was %q before and is %q now: give each request its own key", e.Key, e.Before, e.What)
}

// NotDoneError says that the connection was cut while a change was being committed, and that the database, asked by the
// request's key, has not done it and will not.
type NotDoneError struct {
	Key   string
	What  string
	cause error
}

func (e *NotDoneError) Error() string {
	return fmt.Sprintf("the connection to the database was cut before %s was done: nothing was changed", e.What)
}
func (e *NotDoneError) Unwrap() error { return e.cause }

// UncertainError says that the connection was cut while a change was being committed, and that the database could not be
// asked since whether it was done. [AskRequest] asks it later.
type UncertainError struct {
	Key   string
	What  string
	cause error
}

func (e *UncertainError) Error() string {
	return fmt.Sprintf("the connection to the database was cut while %s was being written, and it cannot be asked yet whether that was done", e.What)
}
func (e *UncertainError) Unwrap() error { return e.cause }

// attempts bounds how often Once begins anew when the database broke a deadlock.
const attempts = 5

type clockKey struct{}

// At tells the changes of a context what time it is in the shop; without it they are dated by the database's clock.
func At(ctx context.Context, now time.Time) context.Context {
	return context.WithValue(ctx, clockKey{}, now)
}

// Once does a person's change as one transaction under a request key. All of it happens or, with an error, none of it.
// A key seen before changes nothing: its first outcome is given again, and again is true. Two programs with one key at
// the same time wait for each other, and one of them does it. The outcome is kept as JSON, so T must survive that.
//
// The database may end a transaction to break a deadlock; then do is called anew, so it must change nothing but the
// database. The same key for another change is an *[OtherRequestError]. Where the connection is cut at the commit, the
// database is asked by the key: what was done is given as done, what was not is a *[NotDoneError], and what cannot be
// asked is an *[UncertainError]. With any other error nothing was changed.
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

	if now, ok := ctx.Value(clockKey{}).(time.Time); ok {
		if _, err := tx.Exec(ctx, `SELECT set_config('stead.clock', $1, true)`, now.Format(time.RFC3339Nano)); err != nil {
			return none, false, fmt.Errorf("%s: %w", what, err)
		}
	}
	// Waits for another transaction with the same key, then inserts nothing if that one has done it.
	who, _ := ctx.Value(doerKey{}).(doer)
	tag, err := tx.Exec(ctx, `INSERT INTO request (key, what, by_whom, words) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING`, key, what, who.by, who.words)
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

	if _, err := tx.Exec(ctx, `SELECT set_config('stead.request', $1, true)`, key); err != nil { // what it touches is its doing
		return none, false, fmt.Errorf("%s: %w", what, err)
	}
	if out, err = do(ctx, tx); err != nil {
		return none, false, err
	}
	outcome, err := json.Marshal(out)
	if err != nil {
		return none, false, fmt.Errorf("%s: keep the outcome: %w", what, err)
	}
	if _, err := tx.Exec(ctx, `UPDATE request SET outcome = $2 WHERE key = $1`, key, outcome); err != nil {
		return none, false, fmt.Errorf("%s: keep the outcome: %w", what, err)
	}
	if err := tx.Commit(ctx); err != nil {
		if err := afterCommit(ctx, pool, key, what, err); err != nil {
			return none, false, err
		}
	}
	return out, false, nil
}

// answerTime bounds how long the database is asked after a cut; goodbyeTime the same for a program that was told to stop.
const (
	answerTime  = 5 * time.Second
	goodbyeTime = 2 * time.Second
)

// afterCommit is what an error of a commit comes to: nil where the change was done all the same.
func afterCommit(ctx context.Context, pool *pgxpool.Pool, key, what string, cause error) error {
	var refusal *pgconn.PgError
	switch {
	case errors.Is(cause, pgx.ErrTxCommitRollback):
		return fmt.Errorf("%s: %w", what, cause)
	// A server that is being shut down (class 57) may say so after it has committed.
	case errors.As(cause, &refusal) && !strings.HasPrefix(refusal.Code, "57"):
		return fmt.Errorf("%s: %w", what, cause)
	}
	limit := answerTime
	if ctx.Err() != nil {
		limit = goodbyeTime
	}
	asking, cancel := context.WithTimeout(context.WithoutCancel(ctx), limit)
	defer cancel()
	for {
		r, err := AskRequest(asking, pool, key)
		switch {
		case err == nil && r != nil:
			return nil
		case err == nil:
			return &NotDoneError{Key: key, What: what, cause: cause}
		}
		select { // the server may be starting again
		case <-asking.Done():
			return &UncertainError{Key: key, What: what, cause: cause}
		case <-time.After(200 * time.Millisecond):
		}
	}
}

// Request is a change that was done.
type Request struct {
	Key    string    `json:"key"`
	What   string    `json:"what"`
	DoneAt time.Time `json:"done_at"`
}

// AskRequest asks the database for the change that was done under a key. nil says that none was, and that none will be by
// a transaction that has begun already: one that is still under way is waited for, as long as ctx lets it.
func AskRequest(ctx context.Context, pool *pgxpool.Pool, key string) (*Request, error) {
	tx, err := pool.Begin(ctx)
	if err != nil {
		return nil, fmt.Errorf("ask for request %s: %w", key, err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx)) // whatever is found, nothing is changed
	// To begin a request under the key waits for another that has.
	tag, err := tx.Exec(ctx, `INSERT INTO request (key, what) VALUES ($1, 'asked for') ON CONFLICT DO NOTHING`, key)
	if err != nil {
		return nil, fmt.Errorf("ask for request %s: %w", key, err)
	}
	if tag.RowsAffected() == 1 {
		return nil, nil
	}
	r := &Request{Key: key}
	if err := tx.QueryRow(ctx, `SELECT what, done_at FROM request WHERE key = $1`, key).Scan(&r.What, &r.DoneAt); err != nil {
		return nil, fmt.Errorf("ask for request %s: %w", key, err)
	}
	return r, nil
}
