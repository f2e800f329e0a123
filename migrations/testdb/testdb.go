// Package testdb gives tests a real Postgres with the whole schema in it.
//
// A package that uses it says so once:
//
//	func TestMain(m *testing.M) { testdb.Main(m) }
//
// Then each test takes what it needs:
//
//   - [Tx], a transaction that is rolled back when the test ends. It costs about a millisecond: the usual choice.
//   - [New], a database of the test's own, cloned from a template, dropped when the test ends. It costs a tenth of a
//     second or more: for tests of commits, locks and concurrency, and of programs that connect by themselves (the
//     address is pool.Config().ConnString()). [NewFilled] is one with something in it that is costly to put in.
//
// # Which server
//
// STEAD_TEST_DATABASE_URL names one (its role needs CREATEDB). Without it a private server is started from the Postgres
// programs on the machine, in a fixed directory of the user's, in memory where there is room
// ([privatepg.ThrowawayDir]), shared by all packages that are tested at once. Without such programs, or with
// STEAD_TEST_DATABASE=container, a container is started for each package, of the image STEAD_TEST_POSTGRES_IMAGE
// (postgres:17 unless set). Without any of these a test fails and says what to do: a database test that is skipped has
// never run.
//
// # Which databases
//
// The template's name carries the hash of the migrations, so an edited migration makes a new one. A run that was killed
// leaves databases behind; the next run, of any package, finds and drops them.
//
// The package stands under migrations because the tests of every package use it; the program never does.
package testdb

import (
	"context"
	"fmt"
	"os"
	"runtime/debug"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"stead/migrations"
)

// slow bounds each step on the way to a database; a first start in a container is the longest.
const slow = 2 * time.Minute

// goodbye is how long a test's pool may take to close.
const goodbye = time.Minute

// shared is what the tests of this program have in common. It is made by the first test that wants a database.
var shared struct {
	sync.Mutex
	inMain bool
	run    *run
	err    error
	txPool *pgxpool.Pool
}

// Main runs the tests of a package and then lets go of the server. It is the whole of TestMain.
func Main(m *testing.M) {
	os.Exit(Run(m))
}

// Run is Main for a TestMain with something to clear up of its own: it returns the exit code.
func Run(m *testing.M) int {
	debug.SetGCPercent(400) // tests keep little of what they allocate: collecting it less often saves them a tenth of their time
	shared.Lock()
	shared.inMain = true
	shared.Unlock()
	code := m.Run()
	if err := closeShared(); err != nil {
		fmt.Fprintln(os.Stderr, "testdb:", err)
		if code == 0 {
			code = 1
		}
	}
	return code
}

// New makes a database of the test's own with the schema and nothing else in it, and drops it when the test ends.
func New(t testing.TB) *pgxpool.Pool {
	t.Helper()
	r := theRun(t)
	return open(t, r, r.template())
}

// filled are the databases that [NewFilled] copies, by what is in them. Each is held for as long as it is filled.
var filled struct {
	sync.Mutex
	name map[string]string
}

// NewFilled is [New] with what fill has put in. It is put in once in this program's run, under the name of what it is, and
// copied for each test: fill gets the address of the database and leaves it again.
func NewFilled(t testing.TB, what string, fill func(dsn string)) *pgxpool.Pool {
	t.Helper()
	r := theRun(t)
	filled.Lock()
	defer filled.Unlock()
	name, done := filled.name[what]
	if !done {
		ctx, cancel := context.WithTimeout(t.Context(), slow)
		defer cancel()
		var err error
		if name, err = r.clone(ctx); err != nil {
			t.Fatalf("testdb: %v", err)
		}
		fill(r.dsn(name)) // a test that fails here leaves nothing that another would take for whole
		if filled.name == nil {
			filled.name = map[string]string{}
		}
		filled.name[what] = name
	}
	return open(t, r, name)
}

// open copies a database for a test.
func open(t testing.TB, r *run, from string) *pgxpool.Pool {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), slow)
	defer cancel()
	name, err := r.cloneOf(ctx, from)
	if err != nil {
		t.Fatalf("testdb: %v", err)
	}
	pool, err := connect(ctx, r.dsn(name))
	if err != nil {
		t.Fatalf("testdb: %v", err)
	}
	t.Cleanup(func() {
		if !closeWithin(pool, goodbye) {
			t.Errorf("testdb: the test has not given back a connection: a transaction neither committed nor rolled back, or rows not closed")
		}
		ctx, cancel := context.WithTimeout(context.Background(), slow)
		defer cancel()
		if err := r.drop(ctx, name); err != nil {
			t.Errorf("testdb: %v", err)
		}
	})
	return pool
}

// Schema is the name of a database with the schema and nothing else in it, for [Copy]. Nobody may connect to it.
func Schema(t testing.TB) string {
	t.Helper()
	return theRun(t).template()
}

// Copy copies a database of this program's tests, to which nobody is connected. Its name is that of one that [New] made
// with an ending of the test's choice; it is dropped when the program's tests have ended, if not before.
func Copy(t testing.TB, from, to string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), slow)
	defer cancel()
	r := theRun(t)
	if !strings.HasPrefix(to, r.own()) {
		t.Fatalf("testdb: %s is no name of a database of this run", to)
	}
	if err := r.copy(ctx, from, to); err != nil {
		t.Fatalf("testdb: copy %s: %v", from, err)
	}
}

// Tx begins a transaction in a database that the tests of this program share, and rolls it back when the test ends.
// Nothing a test does in it is seen by any other, but two that insert the same key at once wait for each other.
func Tx(t testing.TB) pgx.Tx {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), slow)
	defer cancel()
	pool := theTxPool(ctx, t)
	tx, err := pool.Begin(ctx)
	if err != nil {
		t.Fatalf("testdb: begin: %v", err)
	}
	t.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), slow)
		defer cancel()
		if err := tx.Rollback(ctx); err != nil {
			t.Errorf("testdb: roll back (Tx belongs to the test, which must neither commit nor close it): %v", err)
		}
	})
	return tx
}

// theRun starts the shared run once. A failure is kept too: every test then says the same, at once.
func theRun(t testing.TB) *run {
	t.Helper()
	shared.Lock()
	defer shared.Unlock()
	if !shared.inMain {
		t.Fatal("testdb: add `func TestMain(m *testing.M) { testdb.Main(m) }` to this package, so that the server is let go of")
	}
	if shared.run == nil && shared.err == nil {
		shared.run, shared.err = begin()
	}
	if shared.err != nil {
		t.Fatalf("testdb: %v", shared.err)
	}
	return shared.run
}

// begin opens a server and starts a stay on it, which outlives the test that asks first.
func begin() (*run, error) {
	opening, opened := context.WithTimeout(context.Background(), slow)
	defer opened()
	server, err := openServer(opening)
	if err != nil {
		return nil, err
	}
	starting, started := context.WithTimeout(context.Background(), slow)
	defer started()
	return startRun(starting, server)
}

func theTxPool(ctx context.Context, t testing.TB) *pgxpool.Pool {
	t.Helper()
	r := theRun(t)
	shared.Lock()
	defer shared.Unlock()
	if shared.txPool == nil {
		name, err := r.clone(ctx)
		if err != nil {
			t.Fatalf("testdb: %v", err)
		}
		// The pool outlives the test, so it must not end with the test's context.
		pool, err := connect(context.WithoutCancel(ctx), r.dsn(name))
		if err != nil {
			t.Fatalf("testdb: %v", err)
		}
		shared.txPool = pool
	}
	return shared.txPool
}

// connect opens the program's own kind of pool. The size is raised where a machine has few cores, or parallel tests
// that each hold a transaction would wait for one another.
func connect(ctx context.Context, dsn string) (*pgxpool.Pool, error) {
	withSize, err := withParameter(dsn, "pool_max_conns", "16")
	if err != nil {
		return nil, err
	}
	return migrations.Connect(ctx, withSize)
}

// closeWithin closes a pool and tells whether it could: a pool waits for every connection that is out, for ever.
func closeWithin(pool *pgxpool.Pool, limit time.Duration) bool {
	closed := make(chan struct{})
	go func() {
		pool.Close()
		close(closed)
	}()
	select {
	case <-closed:
		return true
	case <-time.After(limit):
		return false
	}
}

func closeShared() error {
	shared.Lock()
	defer shared.Unlock()
	if shared.txPool != nil {
		shared.txPool.Close()
	}
	if shared.run == nil {
		return nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), slow)
	defer cancel()
	return shared.run.close(ctx)
}
