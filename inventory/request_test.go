package inventory

import (
	"context"
	"errors"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"stead/migrations/testdb"
)

func TestOnceDoesItOnce(t *testing.T) {
	pool, ctx := testdb.New(t), t.Context()
	key, called := NewKey(), 0
	add := func(ctx context.Context, tx pgx.Tx) (Part, error) {
		called++
		return AddPart(ctx, tx, ring(50, 110, "black"))
	}
	first, again, err := Once(ctx, pool, key, "add part", add)
	require.NoError(t, err)
	require.False(t, again)

	second, again, err := Once(ctx, pool, key, "add part", add)
	require.NoError(t, err)
	require.True(t, again)
	require.Equal(t, first, second)
	require.Equal(t, 1, called)

	_, _, err = Once(ctx, pool, key, "add supplier", add)
	require.EqualError(t, err, `request `+key+` was "add part" before and is "add supplier" now: give each request its own key`)
	require.ErrorAs(t, err, new(*OtherRequestError))
}

func TestOnceKeepsNothingOfAFailure(t *testing.T) {
	pool, ctx := testdb.New(t), t.Context()
	key, fail := NewKey(), errors.New("the customer rang off")
	add := func(ctx context.Context, tx pgx.Tx) (Part, error) {
		p, err := AddPart(ctx, tx, ring(50, 110, "black"))
		return p, errors.Join(err, fail)
	}
	_, _, err := Once(ctx, pool, key, "add part", add)
	require.ErrorIs(t, err, fail)
	var parts int
	require.NoError(t, pool.QueryRow(ctx, `SELECT count(*) FROM part`).Scan(&parts))
	require.Zero(t, parts)

	fail = nil
	_, again, err := Once(ctx, pool, key, "add part", add)
	require.NoError(t, err)
	require.False(t, again, "a failed request may be made again under its key")
}

func TestOnceAtTheSameTime(t *testing.T) {
	pool, ctx := testdb.New(t), t.Context()
	key := NewKey()
	var mu sync.Mutex
	first := 0
	ids := map[int64]bool{}
	var group errgroup.Group
	for range 12 {
		group.Go(func() error {
			p, again, err := Once(ctx, pool, key, "add part", func(ctx context.Context, tx pgx.Tx) (Part, error) {
				return AddPart(ctx, tx, ring(50, 110, "black"))
			})
			mu.Lock()
			defer mu.Unlock()
			ids[p.ID] = true
			if !again {
				first++
			}
			return err
		})
	}
	require.NoError(t, group.Wait())
	require.Len(t, ids, 1)
	require.Equal(t, 1, first)
	var parts int
	require.NoError(t, pool.QueryRow(ctx, `SELECT count(*) FROM part`).Scan(&parts))
	require.Equal(t, 1, parts)
}

// Two transactions that lock two shelf rows in opposite order wait for each other until the database ends one of them,
// which then begins anew.
func TestOnceBeginsAnewAfterADeadlock(t *testing.T) {
	pool, ctx := testdb.New(t), t.Context()
	parts, _, err := Once(ctx, pool, NewKey(), "add parts", func(ctx context.Context, tx pgx.Tx) ([]int64, error) {
		ids := []int64{addRing(t, tx).ID, addRing(t, tx).ID}
		return ids, Lock(ctx, tx, nil, ids) // which makes their shelf rows
	})
	require.NoError(t, err)

	var both sync.WaitGroup
	both.Add(2)
	lock := func(first, second int64) error {
		tries := 0
		_, _, err := Once(ctx, pool, NewKey(), "lock", func(ctx context.Context, tx pgx.Tx) (bool, error) {
			tries++
			if err := Lock(ctx, tx, nil, []int64{first}); err != nil {
				return false, err
			}
			if tries == 1 {
				both.Done()
				both.Wait()
			}
			return true, Lock(ctx, tx, nil, []int64{second})
		})
		return err
	}
	var group errgroup.Group
	group.Go(func() error { return lock(parts[0], parts[1]) })
	group.Go(func() error { return lock(parts[1], parts[0]) })
	require.NoError(t, group.Wait())
}
