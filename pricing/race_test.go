package pricing

import (
	"context"
	"errors"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/substitution/inspection"
)

// begin makes a workshop that is committed, for tests in which several programs work at once.
func begin(t *testing.T, setUp func(w *workshop)) *pgxpool.Pool {
	t.Helper()
	pool := testdb.New(t)
	tx, err := pool.Begin(t.Context())
	require.NoError(t, err)
	setUp(newWorkshop(t, tx))
	require.NoError(t, tx.Commit(t.Context()))
	return pool
}

// approving is a decision for the only version, with every difference accepted, as its own request.
func approving(ctx context.Context, pool *pgxpool.Pool, key string, job int64) error {
	_, _, err := inventory.Once(ctx, pool, key, "approve", func(ctx context.Context, tx pgx.Tx) (Quote, error) {
		return Approve(ctx, tx, Decision{JobID: job, Version: 1, Option: "closest", By: "Ines Falkner", Accept: []string{"all"}}, nil, now)
	})
	return err
}

// Six jobs were quoted the same two rings on the shelf; two get them, the others are told.
func TestApprovalsRaceForTheLastPieces(t *testing.T) {
	var black inventory.Part
	var jobs []int64
	pool := begin(t, func(w *workshop) {
		black = w.part("black ring 50T", "chainring", blackRing, "33.49")
		w.shelve(black, 2)
		for range 6 {
			jobs = append(jobs, w.ringJob(Limits{}))
			w.quote(jobs[len(jobs)-1])
		}
	})
	var got, refused atomic.Int64
	var group errgroup.Group
	for _, job := range jobs {
		group.Go(func() error {
			err := approving(t.Context(), pool, inventory.NewKey(), job)
			var short *inventory.NotEnoughError
			switch {
			case err == nil:
				got.Add(1)
			case errors.As(err, &short):
				refused.Add(1)
				if !jobNumber.MatchString(err.Error()) { // who holds them
					return err
				}
			default:
				return err
			}
			return nil
		})
	}
	require.NoError(t, group.Wait())
	require.EqualValues(t, 2, got.Load())
	require.EqualValues(t, 4, refused.Load())
	stock, err := inventory.StockOf(t.Context(), pool, []int64{black.ID})
	require.NoError(t, err)
	require.Equal(t, inventory.Stock{OnHand: 2, Reserved: 2}, stock[black.ID])
	var approved, held, decided int
	require.NoError(t, pool.QueryRow(t.Context(), `
		SELECT (SELECT count(*) FROM job WHERE state = 'approved'), (SELECT count(*) FROM reservation), (SELECT count(*) FROM approval)`).Scan(&approved, &held, &decided))
	require.Equal(t, []int{2, 2, 2}, []int{approved, held, decided}, "of a refused approval nothing is kept")
	requireLedgerAddsUp(t, t.Context(), pool)
}

// A double click, and another click on top: approved once.
func TestApproveTwiceAtOnce(t *testing.T) {
	var job int64
	pool := begin(t, func(w *workshop) {
		ringsOffered(w)
		job = w.ringJob(Limits{})
		w.quote(job)
	})
	key := inventory.NewKey()
	var refused atomic.Int64
	var group errgroup.Group
	for i := range 6 {
		group.Go(func() error {
			if i > 0 {
				return approving(t.Context(), pool, key, job)
			}
			if err := approving(t.Context(), pool, inventory.NewKey(), job); err != nil {
				refused.Add(1)
			}
			return nil
		})
	}
	err := group.Wait()
	if refused.Load() == 0 { // the other key was first, so those of the one key are told so
		require.ErrorContains(t, err, "is approved already")
	} else {
		require.NoError(t, err)
	}
	claims, err := inventory.ClaimsOfJob(t.Context(), pool, job)
	require.NoError(t, err)
	require.Len(t, claims, 1)
}

// Two hands place the same list: one does, the other is told to plan again.
func TestPlaceTheSameListAtOnce(t *testing.T) {
	pool := begin(t, func(w *workshop) { ringsAndChains(w) })
	list, err := ordering.Plan(t.Context(), pool, ordering.Policy{}, now)
	require.NoError(t, err)
	var got, refused atomic.Int64
	var group errgroup.Group
	for range 4 {
		group.Go(func() error {
			_, _, err := inventory.Once(t.Context(), pool, inventory.NewKey(), "order", func(ctx context.Context, tx pgx.Tx) ([]inventory.Order, error) {
				return ordering.Place(ctx, tx, list, nil, now)
			})
			if err == nil {
				got.Add(1)
				return nil
			}
			refused.Add(1)
			if !strings.Contains(err.Error(), "plan the order again") {
				return err
			}
			return nil
		})
	}
	require.NoError(t, group.Wait())
	require.EqualValues(t, 1, got.Load())
	orders, err := inventory.Orders(t.Context(), pool, true)
	require.NoError(t, err)
	require.Len(t, orders, 1)
}

// Four hands plan the refill of the shelf, each before any of them has ordered it: one orders it, and the others are told.
func TestPlaceTheRefillAtOnce(t *testing.T) {
	var chain inventory.Part
	pool := begin(t, func(w *workshop) {
		chain = w.part("chain 9-speed", "chain", chain9, "17.99")
		w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00"))
		w.keepOnShelf(chain, 2, 6)
	})
	var planned sync.WaitGroup
	planned.Add(4)
	var got atomic.Int64
	var group errgroup.Group
	for range 4 {
		group.Go(func() error {
			_, _, err := inventory.Once(t.Context(), pool, inventory.NewKey(), "order", func(ctx context.Context, tx pgx.Tx) ([]inventory.Order, error) {
				list, err := ordering.Plan(ctx, tx, ordering.Policy{}, now)
				planned.Done()
				if err != nil {
					return nil, err
				}
				planned.Wait()
				return ordering.Place(ctx, tx, list, nil, now)
			})
			if errors.As(err, new(*ordering.ChangedError)) {
				return nil
			}
			got.Add(1)
			return err
		})
	}
	require.NoError(t, group.Wait())
	require.EqualValues(t, 1, got.Load())
	stock, err := inventory.StockOf(t.Context(), pool, []int64{chain.ID})
	require.NoError(t, err)
	require.Equal(t, inventory.Stock{OnOrder: 6}, stock[chain.ID])
}

// Two jobs that hold the same two parts, reserved in opposite orders, are used at the same moment and do not wait for
// each other.
func TestUseAtOnce(t *testing.T) {
	var jobs []int64
	var parts []inventory.Part
	pool := begin(t, func(w *workshop) {
		parts = []inventory.Part{w.part("black ring 50T", "chainring", blackRing, "33.49"), w.part("chain 9-speed", "chain", chain9, "17.99")}
		for _, p := range parts {
			w.shelve(p, 2)
		}
		require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"chain", inspection.Clean, "clean chain", 10, pounds("8.00")}))
		for i := range 2 {
			job := w.bookIn(touringBike(t), Limits{})
			jobs = append(jobs, job)
			w.find(job, inspection.Clean, "chain")
			w.quote(job)
			w.approve(job, "no parts") // the parts are held by hand below, in the order that this is about
			places := []substitution.Place{"crank.outer-ring", "chain"}
			for k := range 2 {
				n := (i + k) % 2
				require.NoError(t, inventory.Reserve(t.Context(), w.tx, job, parts[n].ID, places[n], 1))
			}
		}
	})
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	defer cancel()
	var group errgroup.Group
	for _, job := range jobs {
		group.Go(func() error {
			key := inventory.NewKey()
			tx, err := pool.Begin(ctx) // not Once, which tries again after a deadlock
			if err != nil {
				return err
			}
			defer tx.Rollback(context.WithoutCancel(ctx))
			if _, err := tx.Exec(ctx, `INSERT INTO request (key, what) VALUES ($1, 'use')`, key); err != nil {
				return err
			}
			if _, err := UseHeld(ctx, tx, key, job); err != nil {
				return err
			}
			return tx.Commit(ctx)
		})
	}
	require.NoError(t, group.Wait())
	stock, err := inventory.StockOf(t.Context(), pool, []int64{parts[0].ID, parts[1].ID})
	require.NoError(t, err)
	require.Equal(t, map[int64]inventory.Stock{parts[0].ID: {}, parts[1].ID: {}}, stock)
}

// The same request a second time, at each step of a job, changes nothing and gives the first outcome.
func TestSameRequestTwice(t *testing.T) {
	var job int64
	var black inventory.Part
	pool := begin(t, func(w *workshop) {
		black, _ = ringsOffered(w)
		w.shelve(black, 1)
		job = w.ringJob(Limits{})
	})
	twice := func(what string, do func(ctx context.Context, tx pgx.Tx, key string) (string, error)) {
		t.Helper()
		key := inventory.NewKey()
		var outcomes []string
		for range 2 {
			out, _, err := inventory.Once(t.Context(), pool, key, what, func(ctx context.Context, tx pgx.Tx) (string, error) { return do(ctx, tx, key) })
			require.NoError(t, err, what)
			outcomes = append(outcomes, out)
		}
		require.Equal(t, outcomes[0], outcomes[1])
	}
	twice("quote", func(ctx context.Context, tx pgx.Tx, _ string) (string, error) {
		q, err := MakeQuote(ctx, tx, job, now)
		return onPaper(q.Options[0].Total)[0], err
	})
	twice("approve", func(ctx context.Context, tx pgx.Tx, _ string) (string, error) {
		q, err := Approve(ctx, tx, Decision{JobID: job, Version: 1, Option: "closest", By: "Ines Falkner"}, nil, now)
		return string(q.State), err
	})
	twice("use", func(ctx context.Context, tx pgx.Tx, key string) (string, error) {
		used, err := UseHeld(ctx, tx, key, job)
		return string(used[0].Place), err
	})
	twice("close", func(ctx context.Context, tx pgx.Tx, _ string) (string, error) {
		return "closed", CloseJob(ctx, tx, job, false, now)
	})

	var quotes, approvals, uses int
	require.NoError(t, pool.QueryRow(t.Context(), `
		SELECT (SELECT count(*) FROM quote), (SELECT count(*) FROM approval), (SELECT count(*) FROM movement WHERE reason = 'used')`).Scan(&quotes, &approvals, &uses))
	require.Equal(t, []int{1, 1, 1}, []int{quotes, approvals, uses})
}
