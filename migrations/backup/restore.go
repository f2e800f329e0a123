package backup

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"stead/migrations"
)

// Endings of the names that the fresh database has until the swap, and the old one after it.
const (
	restoring = "_restoring"
	replaced  = "_replaced"
)

// OccupiedError says that the database to restore into holds data already, which Restore was not told to replace.
type OccupiedError struct {
	Database string
	Tables   []string // those that hold something, by name
}

func (e *OccupiedError) Error() string {
	return fmt.Sprintf("the database %s holds data already (in %s): save it with `stead db backup` if it is of worth, then repeat the restore with --replace",
		e.Database, strings.Join(e.Tables, ", "))
}

// InUseError says that other programs use the database, so that it cannot change its name now.
type InUseError struct {
	Database string
	Programs int
}

func (e *InUseError) Error() string {
	return fmt.Sprintf("the database %s is in use by other programs (connections: %d): close them, then restore again; nothing was changed",
		e.Database, e.Programs)
}

// NotABackupError says that a file is not one that Save wrote.
type NotABackupError struct {
	Path    string
	Problem string
}

func (e *NotABackupError) Error() string {
	return fmt.Sprintf("%s is not a whole backup of stead (%s): nothing was changed", e.Path, e.Problem)
}

// Restore puts the backup in place of the database named by dsn, which need not exist yet. A database in which any table
// has a row is replaced only when replace is set (*[OccupiedError] else), and the old one is then gone for good.
// Until the very end nothing of the old database changes; any error before leaves it as it was.
//
// A backup of a newer program than this is a *[migrations.NewerSchemaError]; one of an older program is put back as it
// was, and [migrations.Apply] then brings it up to date.
func Restore(ctx context.Context, dsn, path string, replace bool) error {
	file, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("open the backup: %w", err)
	}
	defer file.Close()
	// The first five letters of pg_dump's custom format.
	magic := make([]byte, 5)
	if _, err := io.ReadFull(file, magic); err != nil || string(magic) != "PGDMP" {
		return &NotABackupError{Path: path, Problem: "it does not begin like one"}
	}

	target, err := databaseName(dsn)
	if err != nil {
		return err
	}
	server, err := connect(ctx, dsn, "postgres")
	if err != nil {
		return err
	}
	defer server.Close(context.WithoutCancel(ctx))
	exists, err := databaseExists(ctx, server, target)
	if err != nil {
		return err
	}
	if exists {
		if err := mayReplace(ctx, server, dsn, target, replace); err != nil {
			return err
		}
	}
	restore, err := client(ctx, server, "pg_restore")
	if err != nil {
		return err
	}

	fresh := target + restoring
	if err := drop(ctx, server, fresh); err != nil {
		return err
	}
	if _, err := server.Exec(ctx, `CREATE DATABASE `+quote(fresh)+` TEMPLATE template0`); err != nil {
		return fmt.Errorf("make a database for the backup: %w", err)
	}
	if err := fill(ctx, restore, dsn, fresh, path); err != nil {
		return errors.Join(err, drop(context.WithoutCancel(ctx), server, fresh))
	}
	if err := swap(ctx, server, target, fresh, exists); err != nil {
		return errors.Join(err, drop(context.WithoutCancel(ctx), server, fresh))
	}
	return nil
}

// fill reads the backup into the fresh database and makes sure that this program can work with it.
func fill(ctx context.Context, restore program, dsn, fresh, path string) error {
	cmd, err := restore.on(dsn, fresh, "--exit-on-error", "--single-transaction", "--no-owner", "--no-privileges", path)
	if err != nil {
		return err
	}
	if err := run(ctx, cmd); err != nil {
		if ctx.Err() != nil {
			return fmt.Errorf("read the backup: %w", err)
		}
		return &NotABackupError{Path: path, Problem: err.Error()}
	}
	conn, err := connect(ctx, dsn, fresh)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx)) // before the swap: a database with a connection keeps its name
	version, err := migrations.Version(ctx, conn)
	if err != nil {
		return err
	}
	if version == 0 {
		return &NotABackupError{Path: path, Problem: "it is of another program's database"}
	}
	if version > migrations.Latest() {
		return &migrations.NewerSchemaError{Database: version, Program: migrations.Latest()}
	}
	return nil
}

// swap gives the fresh database the name of the old one, in one transaction, and drops the old one.
func swap(ctx context.Context, server *pgx.Conn, target, fresh string, exists bool) error {
	old := target + replaced
	if err := drop(ctx, server, old); err != nil {
		return err
	}
	err := pgx.BeginFunc(ctx, server, func(tx pgx.Tx) error {
		if exists {
			if _, err := tx.Exec(ctx, `ALTER DATABASE `+quote(target)+` RENAME TO `+quote(old)); err != nil {
				return err
			}
		}
		_, err := tx.Exec(ctx, `ALTER DATABASE `+quote(fresh)+` RENAME TO `+quote(target))
		return err
	})
	var refusal *pgconn.PgError
	if errors.As(err, &refusal) && refusal.Code == "55006" { // object_in_use: somebody came in meanwhile
		return &InUseError{Database: target, Programs: 1}
	}
	if err != nil {
		return fmt.Errorf("put the restored database in place: %w", err)
	}
	if err := drop(ctx, server, old); err != nil {
		return fmt.Errorf("the backup is restored, but the old database still takes room: %w", err)
	}
	return nil
}

// mayReplace looks at what is there before anything is done.
func mayReplace(ctx context.Context, server *pgx.Conn, dsn, target string, replace bool) error {
	if !replace {
		tables, err := occupied(ctx, dsn)
		if err != nil {
			return err
		}
		if len(tables) > 0 {
			return &OccupiedError{Database: target, Tables: tables}
		}
	}
	var others int
	err := server.QueryRow(ctx, `SELECT count(*) FROM pg_stat_activity WHERE datname = $1 AND backend_type = 'client backend'`, target).Scan(&others)
	if err != nil {
		return fmt.Errorf("see who uses the database: %w", err)
	}
	if others > 0 {
		return &InUseError{Database: target, Programs: others}
	}
	return nil
}

// occupied lists the tables with at least one row, other than the one that numbers the schema.
func occupied(ctx context.Context, dsn string) ([]string, error) {
	conn, err := connect(ctx, dsn, "")
	if err != nil {
		return nil, err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	rows, err := conn.Query(ctx, `
		SELECT format('%I.%I', schemaname, tablename), tablename::text FROM pg_tables
		WHERE schemaname NOT IN ('pg_catalog', 'information_schema') AND tablename <> 'schema_version'
		ORDER BY tablename`)
	if err != nil {
		return nil, fmt.Errorf("list the tables: %w", err)
	}
	type table struct{ Quoted, Name string }
	tables, err := pgx.CollectRows(rows, pgx.RowToStructByPos[table])
	if err != nil {
		return nil, fmt.Errorf("list the tables: %w", err)
	}
	var full []string
	for _, t := range tables {
		var any bool
		if err := conn.QueryRow(ctx, `SELECT EXISTS (SELECT FROM `+t.Quoted+`)`).Scan(&any); err != nil {
			return nil, fmt.Errorf("look into table %s: %w", t.Name, err)
		}
		if any {
			full = append(full, t.Name)
		}
	}
	return full, nil
}

func databaseName(dsn string) (string, error) {
	a, err := readAddress(dsn)
	if err != nil {
		return "", err
	}
	name := a.get("dbname")
	if name == "" {
		return "", errors.New("the database address names no database: end it in /name")
	}
	// Postgres cuts a name at 63 bytes. The names made from this one must stay apart from it.
	if len(name)+len(restoring) > 63 {
		return "", fmt.Errorf("the database name %s is too long for a restore: %d letters are the most", name, 63-len(restoring))
	}
	return name, nil
}

func databaseExists(ctx context.Context, server *pgx.Conn, name string) (bool, error) {
	var exists bool
	err := server.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, name).Scan(&exists)
	if err != nil {
		return false, fmt.Errorf("look for database %s: %w", name, err)
	}
	return exists, nil
}

// drop removes a database that only a restore, this one or one cut short, has made or set aside.
func drop(ctx context.Context, server *pgx.Conn, name string) error {
	if _, err := server.Exec(ctx, `DROP DATABASE IF EXISTS `+quote(name)+` WITH (FORCE)`); err != nil {
		return fmt.Errorf("drop database %s: %w", name, err)
	}
	return nil
}

func quote(name string) string { return pgx.Identifier{name}.Sanitize() }
