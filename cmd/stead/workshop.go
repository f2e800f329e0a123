package main

import (
	"context"
	"os"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/spf13/cobra"

	"stead/inventory"
	"stead/migrations"
)

// workshop is the database that a command works on. It is opened when it is first asked something: a command judges its
// arguments before that, so a slip of the pen starts no server and is told at once.
type workshop struct {
	address func() (lease, error)
	dsn     string        // once it is open
	pool    *pgxpool.Pool // nil before
	leave   func()
	tried   bool // a change was begun
	allDay  bool // it is to outlive its server, which is started again where it is ours and has died
}

// openDatabase and closeDatabase open and close what a command works on. Tests that run a thousand commands in one process
// keep it open from one to the next.
var openDatabase, closeDatabase = migrations.Open, (*pgxpool.Pool).Close

// open finds the database, brings it up to date and connects to it, the first time that it is called.
func (w *workshop) open(ctx context.Context) (*pgxpool.Pool, error) {
	if w.pool != nil {
		return w.pool, nil
	}
	database, err := w.address()
	if err != nil {
		return nil, err
	}
	if !w.allDay {
		database.revive = nil // asking it costs a short command a connection
	}
	if w.pool, err = openDatabase(ctx, database.dsn, database.revive); err != nil {
		database.leave()
		if database.demo {
			err = migrations.NoDemo(err, database.dsn)
		}
		return nil, err
	}
	w.dsn, w.leave = database.dsn, database.leave
	zone, err := inventory.LoadZone(ctx, w.pool)
	if err != nil {
		return nil, err
	}
	clock.zone.Store(zone)
	return w.pool, nil
}

// close leaves the database. The last program out stops a private server.
func (w *workshop) close() {
	if w.pool != nil {
		closeDatabase(w.pool)
		w.leave()
	}
}

// Query, QueryRow, Exec and Begin make a workshop an [inventory.DB].

func (w *workshop) Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error) {
	pool, err := w.open(ctx)
	if err != nil {
		return nil, err
	}
	return pool.Query(ctx, sql, args...)
}

func (w *workshop) QueryRow(ctx context.Context, sql string, args ...any) pgx.Row {
	pool, err := w.open(ctx)
	if err != nil {
		return noRow{err}
	}
	return pool.QueryRow(ctx, sql, args...)
}

func (w *workshop) Exec(ctx context.Context, sql string, args ...any) (pgconn.CommandTag, error) {
	pool, err := w.open(ctx)
	if err != nil {
		return pgconn.CommandTag{}, err
	}
	return pool.Exec(ctx, sql, args...)
}

func (w *workshop) Begin(ctx context.Context) (pgx.Tx, error) {
	pool, err := w.open(ctx)
	if err != nil {
		return nil, err
	}
	return pool.Begin(ctx)
}

// noRow is the row that a database which cannot be opened has.
type noRow struct{ err error }

func (r noRow) Scan(...any) error { return r.err }

// inWorkshop makes a command's work from a function on the database.
func inWorkshop(do func(cmd *cobra.Command, w *workshop, args []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		w := &workshop{address: func() (lease, error) { return databaseAddress(cmd, migrations.DemoAddress) }}
		defer w.close()
		w.hangClock(cmd.Context())
		err := do(cmd, w, args)
		if err != nil && doneBefore(cmd, w) {
			return nil
		}
		return err
	}
}

// clock is the shop's: where it hangs is known when the shop's database is open.
var clock struct {
	zone atomic.Pointer[time.Location]
	open atomic.Pointer[func()] // opens the database of the command that runs
}

// zone is where the shop is. Whoever asks opens its database; where that fails, which the command is about to meet
// itself, it is where this machine is.
func zone() *time.Location {
	if open := clock.open.Swap(nil); open != nil {
		(*open)()
	}
	if z := clock.zone.Load(); z != nil {
		return z
	}
	return time.Local
}

// hangClock hangs the clock in a shop that is about to be opened.
func (w *workshop) hangClock(ctx context.Context) {
	open := func() { _, _ = w.open(ctx) }
	clock.zone.Store(nil)
	clock.open.Store(&open)
}

// now is the moment at which the program runs, by the clock on the shop's wall: there is one today, the shop's. Tests set
// STEAD_NOW so that dates on paper stand still.
func now() time.Time {
	if s := os.Getenv("STEAD_NOW"); s != "" {
		if t, err := time.Parse(time.RFC3339, s); err == nil {
			return t.In(zone())
		}
	}
	return time.Now().In(zone())
}
