package migrations

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// EnsureDatabase makes a database of this name, unless there is one, on the server that dsn leads to, and returns the
// address of it. The role needs CREATEDB.
func EnsureDatabase(ctx context.Context, dsn, name string) (string, error) {
	conn, exists, err := lookFor(ctx, dsn, name)
	if err != nil {
		return "", err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if !exists {
		_, err := conn.Exec(ctx, `CREATE DATABASE `+pgx.Identifier{name}.Sanitize())
		// Two programs may have looked at the same moment; the loser sees one of these two codes.
		var pgErr *pgconn.PgError
		if err != nil && !(errors.As(err, &pgErr) && (pgErr.Code == "42P04" || pgErr.Code == "23505")) {
			return "", fmt.Errorf("make database %s: %w", name, err)
		}
	}
	return inDatabase(dsn, name)
}

// lookFor connects to the server that dsn leads to and looks whether it has a database of this name.
func lookFor(ctx context.Context, dsn, name string) (conn *pgx.Conn, exists bool, err error) {
	if conn, err = connectOnce(ctx, dsn); err != nil {
		return nil, false, err
	}
	if err := conn.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, name).Scan(&exists); err != nil {
		conn.Close(context.WithoutCancel(ctx))
		return nil, false, fmt.Errorf("look for database %s: %w", name, err)
	}
	return conn, exists, nil
}

// NoDemoError says that the demo workshop was never made on a server.
type NoDemoError struct{ Database string }

func (e *NoDemoError) Error() string {
	return fmt.Sprintf("there is no demo workshop yet: no database %s", e.Database)
}

// DemoAddress is the address of the demo's database on the server that dsn leads to. Whoever opens it learns by [NoDemo]
// whether it is there: to look first would cost each command a connection.
func DemoAddress(_ context.Context, dsn, name string) (string, error) { return inDatabase(dsn, name) }

// FindDemo is [DemoAddress] of a database that is there, else a *[NoDemoError]. It does not open it: a backup is put back
// into a database to which nobody is connected.
func FindDemo(ctx context.Context, dsn, name string) (string, error) {
	conn, exists, err := lookFor(ctx, dsn, name)
	if err != nil {
		return "", err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if !exists {
		return "", &NoDemoError{name}
	}
	return inDatabase(dsn, name)
}

// NoDemo is the error of opening the demo's database, a *[NoDemoError] where there is none: whoever asks for the demo is not
// shown an empty shop in its stead.
func NoDemo(err error, address string) error {
	var pgErr *pgconn.PgError
	if !errors.As(err, &pgErr) || pgErr.Code != "3D000" { // invalid_catalog_name
		return err
	}
	config, parseErr := parse(address)
	if parseErr != nil {
		return err
	}
	return &NoDemoError{config.ConnConfig.Database}
}

// demoMark is the comment on a database that the demo has made, or found empty. It empties no other.
const demoMark = "stead demo: emptied by each `stead demo`"

// ForeignDemoError says that a database with the demo's name is not the demo's.
type ForeignDemoError struct {
	Database string
}

func (e *ForeignDemoError) Error() string {
	return fmt.Sprintf("the database %s holds data and is not marked as the demo's, so it is left alone", e.Database)
}

// EmptyDemo throws away all that is in the demo's database. It empties one only that carries the demo's mark, or holds
// nothing, which it marks then: any other is a *[ForeignDemoError]. So that no slip can empty another, it is told the
// name and refuses any address that leads elsewhere. On a private server (ours) every database is stead's own.
func EmptyDemo(ctx context.Context, dsn, name string, ours bool) error {
	conn, err := connectOnce(ctx, dsn)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	var found, mark string
	var empty bool
	if err := conn.QueryRow(ctx, `
		SELECT current_database(), coalesce(shobj_description(oid, 'pg_database'), ''),
		       NOT EXISTS (SELECT FROM pg_class WHERE relnamespace NOT IN (SELECT oid FROM pg_namespace WHERE nspname LIKE 'pg\_%' OR nspname = 'information_schema'))
		FROM pg_database WHERE datname = current_database()`).Scan(&found, &mark, &empty); err != nil {
		return fmt.Errorf("empty database %s: %w", name, err)
	}
	switch {
	case found != name:
		return fmt.Errorf("the address leads to database %s and not to %s: nothing was thrown away", found, name)
	case mark == demoMark:
	case !empty && !ours:
		return &ForeignDemoError{Database: name}
	default:
		if _, err := conn.Exec(ctx, `COMMENT ON DATABASE `+pgx.Identifier{name}.Sanitize()+` IS '`+demoMark+`'`); err != nil {
			return fmt.Errorf("mark database %s as the demo's: %w", name, err)
		}
	}
	if _, err := conn.Exec(ctx, `DROP SCHEMA IF EXISTS public CASCADE; CREATE SCHEMA public`); err != nil {
		return fmt.Errorf("empty database %s: %w", name, err)
	}
	return nil
}

func connectOnce(ctx context.Context, dsn string) (*pgx.Conn, error) {
	config, err := parse(dsn)
	if err != nil {
		return nil, err
	}
	conn, err := pgx.ConnectConfig(ctx, config.ConnConfig)
	if err != nil {
		return nil, fmt.Errorf("open the database: %w", err)
	}
	return conn, nil
}

// inDatabase is an address with another database of the same server, in whichever of its two forms it is written.
func inDatabase(dsn, name string) (string, error) {
	if !strings.HasPrefix(dsn, "postgres://") && !strings.HasPrefix(dsn, "postgresql://") {
		return dsn + " dbname=" + name, nil // of two settings the later one counts
	}
	u, err := url.Parse(dsn)
	if err != nil {
		return "", fmt.Errorf("read the database address: %w", err)
	}
	u.Path, u.RawPath = "/"+name, ""
	query := u.Query()
	query.Del("dbname")
	u.RawQuery = query.Encode()
	return u.String(), nil
}
