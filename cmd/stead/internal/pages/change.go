package pages

import (
	"context"
	"regexp"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// aKey is what a request key of a form looks like: see inventory.NewKey.
var aKey = regexp.MustCompile(`^[A-Z2-7]{26}$`)

// change does what a form asks, once, as one transaction under the form's request key, and not on a subject that has
// changed since the form was made. words say for the history what is done, after the name of who does it: "closed the
// job". A form that is sent again gives the first outcome again.
func change[T any](v *visit, words string, do func(ctx context.Context, tx pgx.Tx, key string) (T, error)) (T, error) {
	subject, some, err := v.subject()
	if err != nil {
		var none T
		return none, err
	}
	return once(v, words, func(ctx context.Context, tx pgx.Tx, key string) (out T, err error) {
		if some {
			if err := inventory.LockUnchanged(ctx, tx, subject, v.typed.state); err != nil {
				return out, err
			}
		}
		return do(ctx, tx, key)
	})
}

// once is a change that is right whatever has happened to its subject since the form was made.
func once[T any](v *visit, words string, do func(ctx context.Context, tx pgx.Tx, key string) (T, error)) (out T, err error) {
	t := v.typed
	if !aKey.MatchString(t.key) {
		return out, &statusError{400, "the form is not whole: open the page again"}
	}
	ctx := inventory.By(inventory.At(v.ctx, v.now), v.name(), words)
	out, _, err = inventory.Once(ctx, v.s.DB, t.key, t.what(), func(ctx context.Context, tx pgx.Tx) (T, error) { return do(ctx, tx, t.key) })
	return out, err
}

// do is a change of which nothing is to be known but that it was done.
func (v *visit) do(words string, do func(ctx context.Context, tx pgx.Tx, key string) error) error {
	_, err := change(v, words, func(ctx context.Context, tx pgx.Tx, key string) (bool, error) { return true, do(ctx, tx, key) })
	return err
}

// name is who makes the change.
func (v *visit) name() string {
	if v.holder != "" {
		return v.holder + ", by the link"
	}
	return v.person.Name
}
