package post

import (
	"context"
	"crypto/x509"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// Postman hands over what is due. Several may be at it at once, in one program or in many.
type Postman struct {
	DB       *pgxpool.Pool
	Now      func() time.Time
	Password func(Server) (string, error) // of the server's account
	Roots    *x509.CertPool               // who vouches for servers; nil: whom this machine trusts
	Bounds   Bounds                       // zero: the usual ones
	Log      *slog.Logger
}

// pauses grow from try to try; the last goes on until patience ends. A server that asks to be tried later (greylisting)
// often takes the next try after some minutes.
var pauses = []time.Duration{time.Minute, 5 * time.Minute, 15 * time.Minute, 30 * time.Minute, time.Hour, 2 * time.Hour, 4 * time.Hour}

func pause(tries int) time.Duration { return pauses[min(max(tries, 1), len(pauses))-1] }

// look is how often a postman looks whether something is due: a thousandth of a second's work.
const look = 5 * time.Second

// Work hands over what is due until the context ends.
func (p *Postman) Work(ctx context.Context) {
	for ctx.Err() == nil {
		if _, err := p.Round(ctx); err != nil && ctx.Err() == nil && !errors.Is(err, ErrNoServer) {
			p.Log.Warn("the post could not be worked", "error", err)
		}
		select {
		case <-ctx.Done():
		case <-time.After(look):
		}
	}
}

// Round tries every message that is due once, and gives those that it has tried as they are now. Without a server it is
// [ErrNoServer].
func (p *Postman) Round(ctx context.Context) (tried []Message, err error) {
	if _, err := LoadServer(ctx, p.DB); err != nil {
		return nil, err
	}
	if err := p.findLeft(ctx); err != nil {
		return nil, err
	}
	until := p.Now()
	for {
		m, some, err := p.next(ctx, until)
		if err != nil || !some {
			return tried, err
		}
		tried = append(tried, m)
	}
}

// The number under which a message that is being handed over is locked for as long as its postman lives; it is of the
// session, so it ends with a postman's line to the database.
const holding = 7_001

// findLeft finds what a postman that is no more had begun to hand over. Whether the server took it nobody knows.
func (p *Postman) findLeft(ctx context.Context) error {
	_, err := p.DB.Exec(ctx, `
		UPDATE message SET state = 'unsure', answer = $2, changed_at = $3
		WHERE id IN (SELECT id FROM message WHERE state = 'handing over' FOR UPDATE SKIP LOCKED)
		  AND state = 'handing over' AND pg_try_advisory_xact_lock($1, id::int)`,
		holding, "the program ended before the server had answered, so it may have arrived", p.Now())
	if err != nil {
		return fmt.Errorf("look for post that was left: %w", err)
	}
	return nil
}

// next tries the message that has been due longest of those that nobody else is trying.
func (p *Postman) next(ctx context.Context, due time.Time) (m Message, some bool, err error) {
	conn, err := p.DB.Acquire(ctx)
	if err != nil {
		return m, false, fmt.Errorf("work the post: %w", err)
	}
	defer conn.Release()
	tx, err := conn.Begin(ctx)
	if err != nil {
		return m, false, fmt.Errorf("work the post: %w", err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx)) // nothing to do after a commit
	var l letter
	rows, err := tx.Query(ctx, `SELECT id, sender, recipient, content FROM message WHERE state = 'waiting' AND next_at <= $1 ORDER BY next_at, id LIMIT 1 FOR UPDATE SKIP LOCKED`, due)
	if err != nil {
		return m, false, fmt.Errorf("work the post: %w", err)
	}
	id, err := pgx.CollectExactlyOneRow(rows, func(row pgx.CollectableRow) (id int64, err error) {
		return id, row.Scan(&id, &l.from, &l.to, &l.content)
	})
	if errors.Is(err, pgx.ErrNoRows) {
		return m, false, nil
	}
	if err != nil {
		return m, false, fmt.Errorf("work the post: %w", err)
	}
	server, err := LoadServer(ctx, tx)
	if err != nil {
		return m, false, err
	}
	if _, err := tx.Exec(ctx, `SELECT pg_advisory_lock($1, $2::int)`, holding, id); err != nil {
		return m, false, fmt.Errorf("hold message %d: %w", id, err)
	}
	defer func() { // a line that is cut has let go
		_, _ = conn.Exec(context.WithoutCancel(ctx), `SELECT pg_advisory_unlock($1, $2::int)`, holding, id)
	}()

	marked := false
	out, err := p.try(ctx, server, l, func() error {
		if _, err := tx.Exec(ctx, `UPDATE message SET state = 'handing over', tries = tries + 1, changed_at = $2 WHERE id = $1`, id, p.Now()); err != nil {
			return fmt.Errorf("mark message %d: %w", id, err)
		}
		if err := tx.Commit(ctx); err != nil {
			return fmt.Errorf("mark message %d: %w", id, err)
		}
		marked = true
		return nil
	})
	if err != nil {
		return m, false, err
	}
	if !marked {
		if ctx.Err() != nil { // told to stop: it was not tried
			return m, false, ctx.Err()
		}
		if err := p.settle(ctx, tx, id, 1, out); err != nil {
			return m, false, err
		}
		if err := tx.Commit(ctx); err != nil {
			return m, false, fmt.Errorf("keep what came of message %d: %w", id, err)
		}
	} else if err := p.settleAfter(ctx, id, out); err != nil {
		return m, false, err
	}
	m, err = numbered(context.WithoutCancel(ctx), p.DB, id)
	return m, err == nil, err
}

// try hands a letter over.
func (p *Postman) try(ctx context.Context, s Server, l letter, mark func() error) (result, error) {
	password := ""
	if s.Account != "" {
		var err error
		if password, err = p.Password(s); err != nil {
			return result{Waiting, inWords(err), true}, nil
		}
	}
	bounds := p.Bounds
	if bounds == (Bounds{}) {
		bounds = usualBounds
	}
	return handOver(ctx, s, password, p.Roots, bounds, l, mark)
}

// settleTime bounds how long it is tried to keep what a server has answered.
const settleTime = 30 * time.Second

// settleAfter keeps what came of a message that was marked: the server has spoken, so the program's end does not stop
// it, and a line to the database that was cut is made anew. What cannot be kept is found later, as unsure.
func (p *Postman) settleAfter(ctx context.Context, id int64, out result) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), settleTime)
	defer cancel()
	for {
		err := pgx.BeginFunc(ctx, p.DB, func(tx pgx.Tx) error { return p.settle(ctx, tx, id, 0, out) })
		if err == nil {
			return nil
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(200 * time.Millisecond):
		}
	}
}

// settle writes what came of a try; more is 1 where the try was not counted before. Where a message was taken for left
// meanwhile, what the server has said is the better knowledge.
func (p *Postman) settle(ctx context.Context, tx pgx.Tx, id int64, more int, out result) error {
	var tries int
	var made, until time.Time
	err := tx.QueryRow(ctx, `SELECT tries, made_at, until FROM message WHERE id = $1 AND state IN ('waiting', 'handing over', 'unsure') FOR UPDATE`, id).Scan(&tries, &made, &until)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil // somebody has settled it
	}
	if err != nil {
		return fmt.Errorf("keep what came of message %d: %w", id, err)
	}
	now, tries := p.Now(), tries+more
	next := now.Add(pause(tries))
	if out.state == Waiting && next.After(until) {
		out.state = GivenUp
		out.answer = fmt.Sprintf("not taken in %d tries since %s, at last: %s", tries, made.In(now.Location()).Format("2 January"), out.answer)
	}
	_, err = tx.Exec(ctx, `
		UPDATE message SET state = $2, tries = $3, next_at = $4, answer = $5, changed_at = $6,
		       content = CASE WHEN $2 = 'sent' THEN NULL ELSE content END
		WHERE id = $1`, id, out.state, tries, next, out.answer, now)
	if err == nil && out.server && out.state == Waiting {
		// The others would fare no better.
		_, err = tx.Exec(ctx, `UPDATE message SET next_at = $2 WHERE id IN (SELECT id FROM message WHERE state = 'waiting' AND next_at < $2 AND id <> $1 FOR UPDATE SKIP LOCKED)`, id, next)
	}
	if err != nil {
		return fmt.Errorf("keep what came of message %d: %w", id, err)
	}
	return nil
}
