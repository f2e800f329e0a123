package inventory

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// Subject is a thing whose changes are told one by one: {"job", 101}, {"order", 501}, {"shop", 0}.
type Subject struct {
	Kind Kind
	ID   int64
}

// Everything is all subjects together.
var Everything = Subject{}

// String is how a subject is named where changes are listened to: "job 101".
func (s Subject) String() string { return fmt.Sprintf("%s %d", s.Kind, s.ID) }

// Happening is a change that touched a subject.
type Happening struct {
	At    time.Time `json:"at"`
	By    string    `json:"by,omitempty"`    // a person's name; absent: somebody at the terminal
	Words string    `json:"words,omitempty"` // "closed the job"; absent: see What
	What  string    `json:"what,omitempty"`  // the request as it was given, a command
}

type doerKey struct{}

type doer struct{ by, words string }

// By tells the changes of a context who makes them, and what they are in words that go on after the name: "closed the
// job". Without it they are those of whoever gave the command.
func By(ctx context.Context, who, words string) context.Context {
	return context.WithValue(ctx, doerKey{}, doer{who, words})
}

// StateOf is how often a subject has been touched; of a part, which a list changes by the thousand, a digest of what is
// said of it. Two equal answers say that nothing has changed in between.
func StateOf(ctx context.Context, db DB, s Subject) (int, error) {
	sql, args := `SELECT count(*) FROM touched WHERE kind = $1 AND id = $2`, []any{s.Kind, s.ID}
	switch {
	case s == Everything:
		sql, args = `SELECT coalesce(max(seq), 0) FROM touched`, nil
	case s.Kind == OfPart:
		sql, args = `
			SELECT hashtext(concat_ws('|',
				(SELECT (family, brand, maker_code, name, dims, origins, notes, gtin, retail, retail_by, reorder_level, reorder_to, bin_id, merged_into)::text FROM part WHERE id = $1),
				(SELECT hand::text FROM ordered_by_hand hand WHERE part_id = $1), (SELECT room::text FROM shelf_limit room WHERE part_id = $1)))`, []any{s.ID}
	}
	var n int
	if err := db.QueryRow(ctx, sql, args...).Scan(&n); err != nil {
		return 0, fmt.Errorf("ask what was done to %s: %w", s, err)
	}
	return n, nil
}

// Happenings is what was done to a subject after a state, the first change first; after 0 it is all.
func Happenings(ctx context.Context, db DB, s Subject, after int) ([]Happening, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Happening], `
		SELECT t.at, coalesce(r.by_whom, ''), coalesce(r.words, ''), coalesce(r.what, '')
		FROM touched t LEFT JOIN request r ON r.key = t.request
		WHERE t.kind = $1 AND t.id = $2 ORDER BY t.seq OFFSET $3`, s.Kind, s.ID, after)
	if err != nil {
		return nil, fmt.Errorf("ask what was done to %s: %w", s, err)
	}
	return all, nil
}

// ChangedError says that a subject is no more as it was when somebody looked at it.
type ChangedError struct {
	Subject Subject
	Since   []Happening
}

func (e *ChangedError) Error() string {
	return fmt.Sprintf("%s has changed since you looked at it: look again", e.Subject)
}

// LockUnchanged keeps others from a subject until the transaction ends, and gives a *[ChangedError] if it is no more in the
// state that somebody has looked at.
func LockUnchanged(ctx context.Context, tx pgx.Tx, s Subject, state int) error {
	if s.Kind == OfJob {
		if err := Lock(ctx, tx, []int64{s.ID}, nil); err != nil {
			return err
		}
	} else if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock(hashtext($1), $2)`, s.Kind, int32(s.ID)); err != nil {
		return fmt.Errorf("keep %s to oneself: %w", s, err)
	}
	if s.Kind == OfPart {
		return unchangedPart(ctx, tx, s, state)
	}
	since, err := Happenings(ctx, tx, s, state)
	if err != nil {
		return err
	}
	if len(since) > 0 {
		return &ChangedError{Subject: s, Since: since}
	}
	return nil
}

// unchangedPart is a *[ChangedError] where something else is said of a part than when somebody looked at it.
func unchangedPart(ctx context.Context, tx pgx.Tx, s Subject, state int) error {
	if _, err := tx.Exec(ctx, `SELECT FROM part WHERE id = $1 FOR NO KEY UPDATE`, s.ID); err != nil {
		return fmt.Errorf("lock %s: %w", s, err)
	}
	now, err := StateOf(ctx, tx, s)
	if err != nil {
		return err
	}
	if now != state {
		return &ChangedError{Subject: s}
	}
	return nil
}
