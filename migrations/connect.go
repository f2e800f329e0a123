package migrations

import (
	"context"
	"fmt"
	"strconv"

	pgxdecimal "github.com/jackc/pgx-shopspring-decimal"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// Connect opens a pool on the database named by dsn and makes sure that it answers. It is the only maker of pools, so
// that every connection of the program and of its tests behaves alike: numeric columns are shopspring decimals, and the
// server's own lists show the connection as stead.
func Connect(ctx context.Context, dsn string) (*pgxpool.Pool, error) { return connect(ctx, dsn, nil) }

func connect(ctx context.Context, dsn string, revive func(context.Context) error) (*pgxpool.Pool, error) {
	config, err := parse(dsn)
	if err != nil {
		return nil, err
	}
	// Compiling a query, or sharing it out among workers, costs more than our short ones take.
	config.ConnConfig.RuntimeParams["jit"] = "off"
	config.ConnConfig.RuntimeParams["max_parallel_workers_per_gather"] = "0"
	// A program that stands still in the middle of a change holds locks. The others are told so in the end and not kept
	// waiting for ever, and its change is given up before the shop has to look for it.
	config.ConnConfig.RuntimeParams["lock_timeout"] = lockTime
	config.ConnConfig.RuntimeParams["idle_in_transaction_session_timeout"] = idleTime
	config.AfterConnect = func(_ context.Context, conn *pgx.Conn) error {
		pgxdecimal.Register(conn.TypeMap())
		return nil
	}
	if revive != nil {
		config.BeforeConnect = func(ctx context.Context, _ *pgx.ConnConfig) error { return revive(ctx) }
		// A connection whose server has died is found out before it is used, not by the page that uses it.
		config.ShouldPing = func(context.Context, pgxpool.ShouldPingParams) bool { return true }
	}
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("open the database: %w", err)
	}
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, fmt.Errorf("open the database: %w", err)
	}
	return pool, nil
}

// Open is [Connect] for a program that is to work in the database: it is brought up to date first where it is not. One that
// is costs no second connection, which a server takes longer to begin than to answer a command.
//
// A program that outlives its server gives revive, which starts the server again where it has died: it is called before
// each new connection, and nil where the server is somebody else's.
func Open(ctx context.Context, dsn string, revive func(context.Context) error) (*pgxpool.Pool, error) {
	pool, err := connect(ctx, dsn, revive)
	if err != nil {
		return nil, err
	}
	version, err := Version(ctx, pool)
	if err == nil && version != Latest() {
		err = Apply(ctx, dsn)
	}
	if err != nil {
		pool.Close()
		return nil, err
	}
	return pool, nil
}

// How long one program waits for another's change, and how long a change may stand still between two statements: a list
// of orders may be planned for a minute within one.
const (
	lockTime = "20s"
	idleTime = "3min"
)

// parse reads an address in which there may be settings of the pool's (pool_max_conns, ...), even for a single
// connection: a user has but one DATABASE_URL.
func parse(dsn string) (*pgxpool.Config, error) {
	config, err := pgxpool.ParseConfig(dsn)
	if err != nil {
		return nil, fmt.Errorf("read the database address: %w", err)
	}
	if config.ConnConfig.RuntimeParams["application_name"] == "" {
		config.ConnConfig.RuntimeParams["application_name"] = "stead"
	}
	config.ConnConfig.RuntimeParams["stead.schema"] = strconv.Itoa(Latest()) // see 053_program.sql
	return config, nil
}
