package post

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"stead/inventory"
)

// StateError says that what is asked of a message does not go with what has become of it.
type StateError struct {
	ID    int64
	State State
	Can   string // what can be done
}

func (e *StateError) Error() string { return fmt.Sprintf("message %d is %s: %s", e.ID, e.State, e.Can) }

// lockNotAvailable is what PostgreSQL says of a row that somebody else has locked.
const lockNotAvailable = "55P03"

// locked is a message that nobody else changes meanwhile. One that a postman is trying just now is not waited for: a server
// may be slow.
func locked(ctx context.Context, tx pgx.Tx, id int64) (Message, error) {
	m, err := one(ctx, tx, `SELECT `+columns+` FROM message m WHERE m.id = $1 FOR UPDATE NOWAIT`, id)
	var refusal *pgconn.PgError
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return Message{}, &inventory.UnknownError{Kind: inventory.OfMessage, Name: fmt.Sprint(id)}
	case errors.As(err, &refusal) && refusal.Code == lockNotAvailable:
		return Message{}, &StateError{id, HandingOver, "wait until the server has answered"}
	}
	if err != nil {
		return Message{}, fmt.Errorf("read message %d: %w", id, err)
	}
	return m, nil
}

// Now lets a message that waits be tried at once.
func Now(ctx context.Context, tx pgx.Tx, id int64, now time.Time) error {
	m, err := locked(ctx, tx, id)
	if err != nil {
		return err
	}
	if m.State != Waiting {
		return &StateError{id, m.State, "only what waits can be sent sooner"}
	}
	return set(ctx, tx, id, `next_at = least(next_at, $2)`, now)
}

// Again sends a message once more that was refused, given up, or may or may not have arrived: a person says so. It keeps its
// Message-ID, by which many programs show a second copy once.
func Again(ctx context.Context, tx pgx.Tx, id int64, now time.Time) error {
	m, err := locked(ctx, tx, id)
	if err != nil {
		return err
	}
	switch m.State {
	case Refused, GivenUp, Unsure:
		return set(ctx, tx, id, `state = 'waiting', next_at = $2, until = $3, changed_at = $2`, now, now.Add(patience))
	case Waiting:
		return &StateError{id, m.State, "it is tried again by itself"}
	}
	return &StateError{id, m.State, "what has left is not sent again; write anew"}
}

// Cancel takes a message out of the queue.
func Cancel(ctx context.Context, tx pgx.Tx, id int64, now time.Time) error {
	m, err := locked(ctx, tx, id)
	if err != nil {
		return err
	}
	switch m.State {
	case Waiting, Refused, GivenUp, Unsure:
		return set(ctx, tx, id, `state = 'cancelled', content = NULL, changed_at = $2`, now)
	}
	return &StateError{id, m.State, "it cannot be called back"}
}

// Withdraw takes out of the queue what waits there about a job and no longer holds, such as a quote that a newer one
// replaced. One that a postman is trying just now goes its way: what it leads to says that it was replaced.
func Withdraw(ctx context.Context, tx pgx.Tx, jobID int64, what, why string) error {
	_, err := tx.Exec(ctx, `
		UPDATE message SET state = 'cancelled', content = NULL, answer = $3, changed_at = now()
		WHERE id IN (SELECT id FROM message WHERE job_id = $1 AND what = $2 AND state = 'waiting' FOR UPDATE SKIP LOCKED)`, jobID, what, why)
	if err != nil {
		return fmt.Errorf("withdraw %s of job %d from the post: %w", what, jobID, err)
	}
	return nil
}

// Arrived settles a message that may have arrived: somebody has asked, and it has.
func Arrived(ctx context.Context, tx pgx.Tx, id int64, by string, now time.Time) error {
	m, err := locked(ctx, tx, id)
	if err != nil {
		return err
	}
	if m.State != Unsure {
		return &StateError{id, m.State, "nobody needs to ask whether it arrived"}
	}
	return set(ctx, tx, id, `state = 'sent', content = NULL, answer = $3, changed_at = $2`, now, "it arrived, says "+by)
}

func set(ctx context.Context, tx pgx.Tx, id int64, what string, args ...any) error {
	if _, err := tx.Exec(ctx, `UPDATE message SET `+what+` WHERE id = $1`, append([]any{id}, args...)...); err != nil {
		return fmt.Errorf("change message %d: %w", id, err)
	}
	return nil
}
