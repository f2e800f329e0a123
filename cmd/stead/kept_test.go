package main

import (
	"context"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5/pgxpool"

	"stead/migrations"
)

// kept are databases that stay open from one command of a test to the next: a server takes longer to begin a connection
// than to answer most commands.
var kept struct {
	sync.Mutex
	pools map[string]*pgxpool.Pool // by address; nil while nothing is kept
}

// keepDatabasesOpen does so until the test has ended.
func keepDatabasesOpen(t *testing.T) {
	kept.pools = map[string]*pgxpool.Pool{}
	openDatabase, closeDatabase = openKept, func(*pgxpool.Pool) {}
	t.Cleanup(func() {
		closeKept("")
		openDatabase, closeDatabase, kept.pools = migrations.Open, (*pgxpool.Pool).Close, nil
	})
}

// openKept is migrations.Open for a database that may be open already. One that has been emptied, replaced or taken away
// since is opened anew.
func openKept(ctx context.Context, dsn string, revive func(context.Context) error) (*pgxpool.Pool, error) {
	kept.Lock()
	defer kept.Unlock()
	if pool := kept.pools[dsn]; pool != nil {
		if version, err := migrations.Version(ctx, pool); err == nil && version == migrations.Latest() {
			return pool, nil
		}
		pool.Close()
		delete(kept.pools, dsn)
	}
	pool, err := migrations.Open(context.WithoutCancel(ctx), dsn, revive)
	if err == nil {
		kept.pools[dsn] = pool
	}
	return pool, err
}

// closeKept closes those of a name, and of names that begin with it, before somebody wants them to himself.
func closeKept(name string) {
	kept.Lock()
	defer kept.Unlock()
	for dsn, pool := range kept.pools {
		if strings.HasPrefix(pool.Config().ConnConfig.Database, name) {
			pool.Close() // it waits for whatever a command has not given back
			delete(kept.pools, dsn)
		}
	}
}

// alone reports whether a command wants its database to itself: one that saves it, restores it, fills it anew or goes on
// using it.
func alone(args []string) bool {
	return len(args) > 0 && (args[0] == "db" || args[0] == "demo" || args[0] == "serve")
}
