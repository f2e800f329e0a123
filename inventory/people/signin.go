package people

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/alexedwards/argon2id"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// How often one may be wrong, and for how long that counts: an account may be guessed at from many addresses, and from one
// address many accounts.
const (
	Window         = 10 * time.Minute
	MostForAccount = 5
	MostForAddress = 20
)

// ErrWrong says that a name and a password, or a PIN, do not go together; never which of the two is wrong.
var ErrWrong = errors.New("the name and what was typed with it do not go together: try again")

// TooManyError says that there were too many wrong tries.
type TooManyError struct{ Until time.Time }

func (e *TooManyError) Error() string {
	return fmt.Sprintf("there were too many wrong tries: try again at %s", e.Until.Format("15:04"))
}

// hashing bounds how many hashes are reckoned at once: each takes 19 MiB.
var hashing = make(chan struct{}, 4)

// nobody is the hash against which the password of an unknown name is tried, so that it takes as long as a known one's.
var nobody = sync.OnceValues(func() (string, error) { return argon2id.CreateHash(rand.Text(), cost) })

// SignIn gives the person of a name and a password. It is [ErrWrong] where they do not go together, and a *[TooManyError]
// after too many such tries for the account or from the address.
func SignIn(ctx context.Context, pool *pgxpool.Pool, name, password, address string, now time.Time) (Person, error) {
	return try(ctx, pool, "password", name, password, address, now)
}

// ChangeHands gives the person of a name and a PIN, in the same way.
func ChangeHands(ctx context.Context, pool *pgxpool.Pool, name, pin, address string, now time.Time) (Person, error) {
	return try(ctx, pool, "pin", name, pin, address, now)
}

// try counts the try before it looks, so that a hundred at once are a hundred tries.
func try(ctx context.Context, pool *pgxpool.Pool, by, name, secret, address string, now time.Time) (Person, error) {
	name = strings.ToLower(strings.Join(strings.Fields(name), " "))
	if err := count(ctx, pool, name, address, now); err != nil {
		return Person{}, err
	}
	var p Person
	var hash string
	err := pool.QueryRow(ctx, `
		SELECT id, name, role, pin <> '', CASE $2 WHEN 'pin' THEN pin ELSE password END
		FROM person WHERE lower(name) = $1 AND left_at IS NULL`, name, by).Scan(&p.ID, &p.Name, &p.Role, &p.HasPIN, &hash)
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return Person{}, fmt.Errorf("sign in: %w", err)
	}
	known := err == nil && hash != ""
	select {
	case hashing <- struct{}{}:
	case <-ctx.Done():
		return Person{}, ctx.Err()
	}
	right, err := compare(secret, hash, known)
	<-hashing
	if err != nil {
		return Person{}, fmt.Errorf("sign in: %w", err)
	}
	if !right {
		return Person{}, ErrWrong
	}
	if _, err := pool.Exec(ctx, `DELETE FROM sign_in_try WHERE account = $1 AND address = $2 OR at < $3`, name, address, now.Add(-Window)); err != nil {
		return Person{}, fmt.Errorf("sign in: %w", err)
	}
	return p, nil
}

func compare(secret, hash string, known bool) (bool, error) {
	if !known {
		var err error
		if hash, err = nobody(); err != nil {
			return false, err
		}
	}
	right, err := argon2id.ComparePasswordAndHash(secret, hash)
	return right && known, err
}

// count books a try, and refuses it where there were too many.
func count(ctx context.Context, pool *pgxpool.Pool, account, address string, now time.Time) error {
	tx, err := pool.Begin(ctx)
	if err != nil {
		return fmt.Errorf("sign in: %w", err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx)) // nothing to do after a commit
	if _, err := tx.Exec(ctx, `LOCK TABLE sign_in_try IN SHARE ROW EXCLUSIVE MODE`); err != nil {
		return fmt.Errorf("sign in: %w", err)
	}
	var ofAccount, ofAddress []time.Time
	err = tx.QueryRow(ctx, `
		SELECT coalesce(array_agg(at ORDER BY at DESC) FILTER (WHERE account = $1), '{}'),
		       coalesce(array_agg(at ORDER BY at DESC) FILTER (WHERE address = $2), '{}')
		FROM sign_in_try WHERE at > $3`, account, address, now.Add(-Window)).Scan(&ofAccount, &ofAddress)
	if err != nil {
		return fmt.Errorf("sign in: %w", err)
	}
	for _, c := range []struct {
		tries []time.Time
		most  int
	}{{ofAccount, MostForAccount}, {ofAddress, MostForAddress}} {
		if len(c.tries) >= c.most {
			return &TooManyError{Until: c.tries[c.most-1].Add(Window).In(now.Location()).Truncate(time.Minute).Add(time.Minute)}
		}
	}
	if _, err := tx.Exec(ctx, `INSERT INTO sign_in_try (account, address, at) VALUES ($1, $2, $3)`, account, address, now); err != nil {
		return fmt.Errorf("sign in: %w", err)
	}
	if err := tx.Commit(ctx); err != nil {
		return fmt.Errorf("sign in: %w", err)
	}
	return nil
}
