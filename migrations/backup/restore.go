package backup

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"stead/migrations"
)

// Endings of the names that the fresh database has until the swap, and the old one after it.
const (
	restoring = "_restoring"
	replaced  = "_replaced"
)

// ownMark is the comment on a database that a restore has made or set aside. A restore drops none without it.
const ownMark = "stead restore: may be dropped"

// OccupiedError says that the database to restore into holds data already, which Restore was not told to replace.
type OccupiedError struct {
	Database string
	Tables   []string // those that hold something, by name
}

func (e *OccupiedError) Error() string {
	return fmt.Sprintf("the database %s holds data already (in %s)",
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

// ForeignError says that a database is none of stead's, so that a restore leaves it alone.
type ForeignError struct {
	Database string
}

func (e *ForeignError) Error() string {
	return fmt.Sprintf("the database %s stands in the way and is not stead's: rename or drop it if it is of no worth, or restore into another; nothing was changed", e.Database)
}

// NotABackupError says that a file is not one that Save wrote.
type NotABackupError struct {
	Path    string
	Problem string
}

func (e *NotABackupError) Error() string {
	return fmt.Sprintf("%s is not a whole backup of stead (%s): nothing was changed", e.Path, e.Problem)
}

// UnknownEndError says that the connection was cut while the databases changed names.
type UnknownEndError struct {
	Database string
	cause    error
}

func (e *UnknownEndError) Error() string {
	return fmt.Sprintf("the connection to the database was cut while the restored data took the place of the old in %s: either of the two may be there", e.Database)
}
func (e *UnknownEndError) Unwrap() error { return e.cause }

// Restore puts the backup in place of the database named by dsn, which need not exist yet. A database in which anybody
// has put something is replaced only when replace is set (*[OccupiedError] else), and the old one is then gone for good.
// One that is not stead's is never replaced (*[ForeignError]). Until the very end nothing of the old database changes;
// any error before leaves it as it was. While the restore is at work nobody else changes anything in it.
//
// What is in the file is not trusted: it is read by a role that can neither run programs nor read files of the server's
// machine, and a backup that brings code of its own, which would run later, is a *[StrangeError].
//
// A backup of a newer program than this is a *[migrations.NewerSchemaError]; one of an older program is put back as it
// was, and [migrations.Apply] then brings it up to date.
func Restore(ctx context.Context, dsn, path string, replace bool, told Told) error {
	if err := checkFormat(path); err != nil {
		return err
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
	restore, err := client(ctx, server, "pg_restore")
	if err != nil {
		return err
	}
	old, err := hold(ctx, server, dsn, target, replace)
	if err != nil {
		return err
	}
	defer old.letGo()

	fresh := target + restoring
	for _, name := range []string{fresh, target + replaced} {
		if err := dropOwn(ctx, server, name); err != nil {
			return err
		}
	}
	if err := createOwn(ctx, server, fresh); err != nil {
		return err
	}
	err = fill(ctx, restore, server, dsn, fresh, path, told)
	if err == nil {
		err = old.swap(ctx, server, fresh)
	}
	var unknown *UnknownEndError
	if err != nil && !errors.As(err, &unknown) {
		return errors.Join(err, dropOwn(context.WithoutCancel(ctx), server, fresh))
	}
	return err
}

// checkFormat reads the first five letters of pg_dump's custom format.
func checkFormat(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("open the backup: %w", err)
	}
	defer file.Close() // only read from
	magic := make([]byte, 5)
	if _, err := io.ReadFull(file, magic); err != nil || string(magic) != "PGDMP" {
		return &NotABackupError{Path: path, Problem: "it does not begin like one"}
	}
	return nil
}

// held is the database to be replaced, in which nobody else changes anything as long as it is held.
type held struct {
	name    string
	comment string    // on the database; the restored one keeps it
	inside  *pgx.Conn // in a transaction that holds a lock; nil where there is no such database
	replace bool
}

// hold makes sure that a database may be replaced and keeps others from changing it. Every change begins in the table
// request, so that a lock on this table is one on all of them.
func hold(ctx context.Context, server *pgx.Conn, dsn, name string, replace bool) (_ *held, err error) {
	h := &held{name: name, replace: replace}
	exists, err := databaseExists(ctx, server, name)
	if err != nil || !exists {
		return h, err
	}
	if h.comment, err = comment(ctx, server, name); err != nil {
		return nil, err
	}
	if h.inside, err = connect(ctx, dsn, ""); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			h.letGo()
		}
	}()
	if err := h.waitLeft(ctx, server); err != nil {
		return nil, err
	}
	var ours bool
	if err := h.inside.QueryRow(ctx, `SELECT to_regclass('public.request') IS NOT NULL`).Scan(&ours); err != nil {
		return nil, fmt.Errorf("look into database %s: %w", name, err)
	}
	if ours {
		if _, err := h.inside.Exec(ctx, `BEGIN; SET LOCAL lock_timeout = '5s'; LOCK TABLE public.request IN SHARE ROW EXCLUSIVE MODE`); err != nil {
			var refusal *pgconn.PgError
			if errors.As(err, &refusal) && refusal.Code == "55P03" { // lock_not_available
				return nil, &InUseError{Database: name, Programs: 1}
			}
			return nil, fmt.Errorf("hold database %s: %w", name, err)
		}
	}
	return h, h.checkReplaceable(ctx)
}

// letGo gives the database back to everybody.
func (h *held) letGo() {
	if h.inside != nil {
		ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		h.inside.Close(ctx)
	}
}

// leaving is how long a program that has ended may take to be gone from a busy server.
const leaving = 2 * time.Second

// waitLeft is checkUnused, but lets those go that are leaving already.
func (h *held) waitLeft(ctx context.Context, server *pgx.Conn) error {
	for until := time.Now().Add(leaving); ; {
		err := h.checkUnused(ctx, server)
		if !errors.As(err, new(*InUseError)) || time.Now().After(until) {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// checkUnused says who else is connected.
func (h *held) checkUnused(ctx context.Context, server *pgx.Conn) error {
	var others int
	err := server.QueryRow(ctx, `SELECT count(*) FROM pg_stat_activity WHERE datname = $1 AND backend_type = 'client backend' AND pid <> $2`,
		h.name, h.inside.PgConn().PID()).Scan(&others)
	if err != nil {
		return fmt.Errorf("see who uses the database: %w", err)
	}
	if others > 0 {
		return &InUseError{Database: h.name, Programs: others}
	}
	return nil
}

// checkReplaceable looks at what is there.
func (h *held) checkReplaceable(ctx context.Context) error {
	tables, err := occupied(ctx, h.inside)
	switch {
	case err != nil:
		return err
	case len(tables) == 0:
		return nil
	}
	version, err := migrations.Version(ctx, h.inside)
	switch {
	case err != nil:
		return err
	case version == 0:
		return &ForeignError{Database: h.name}
	case !h.replace:
		return &OccupiedError{Database: h.name, Tables: tables}
	}
	return nil
}

// swap gives the fresh database the name of the old one, in one transaction, and drops the old one. The rename holds the
// old database against new connections before it waits for ours to leave, so that nobody slips in between.
func (h *held) swap(ctx context.Context, server *pgx.Conn, fresh string) error {
	old := h.name + replaced
	tx, err := server.Begin(ctx)
	if err != nil {
		return fmt.Errorf("put the restored database in place: %w", err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx)) // nothing to do after a commit
	if h.inside != nil {
		if err := h.rename(ctx, tx, server.PgConn().PID(), old); err != nil {
			return err
		}
	}
	_, err = tx.Exec(ctx, `ALTER DATABASE `+quote(fresh)+` RENAME TO `+quote(h.name)+`; COMMENT ON DATABASE `+quote(h.name)+` IS `+literal(h.comment))
	if err != nil {
		return fmt.Errorf("put the restored database in place: %w", err)
	}
	if err := tx.Commit(ctx); err != nil {
		var refusal *pgconn.PgError
		if errors.As(err, &refusal) || errors.Is(err, pgx.ErrTxCommitRollback) {
			return fmt.Errorf("put the restored database in place: %w", err)
		}
		return &UnknownEndError{Database: h.name, cause: err}
	}
	if err := dropOwn(ctx, server, old); err != nil {
		return fmt.Errorf("the backup is restored, but the old database %s still takes room: %w", old, err)
	}
	return nil
}

// rename sets the old database aside, and marks it as what may be dropped.
func (h *held) rename(ctx context.Context, tx pgx.Tx, pid uint32, old string) error {
	watch, err := pgx.ConnectConfig(ctx, tx.Conn().Config())
	if err != nil {
		return fmt.Errorf("open the database: %w", err)
	}
	defer watch.Close(context.WithoutCancel(ctx))
	renamed := make(chan error, 1)
	go func() {
		_, err := tx.Exec(ctx, `ALTER DATABASE `+quote(h.name)+` RENAME TO `+quote(old)+`; COMMENT ON DATABASE `+quote(old)+` IS `+literal(ownMark))
		renamed <- err
	}()
	// The rename has locked the database when it is seen to; it then waits some seconds for us to leave.
	for locked := false; !locked; {
		select {
		case err := <-renamed:
			return h.renameError(err)
		case <-time.After(5 * time.Millisecond):
		}
		err := watch.QueryRow(ctx, `
			SELECT EXISTS (SELECT FROM pg_locks WHERE pid = $1 AND granted AND mode = 'AccessExclusiveLock' AND classid = 'pg_database'::regclass
				AND objid = (SELECT oid FROM pg_database WHERE datname = $2))`, pid, h.name).Scan(&locked)
		if err != nil {
			return errors.Join(fmt.Errorf("hold database %s: %w", h.name, err), <-renamed)
		}
	}
	// From here on nobody comes in any more. Who is in already may wait for our lock with a change that would be lost.
	if err := h.checkUnused(ctx, watch); err != nil {
		<-renamed // it does not happen as long as we stay
		return err
	}
	h.letGo()
	return h.renameError(<-renamed)
}

func (h *held) renameError(err error) error {
	var refusal *pgconn.PgError
	if errors.As(err, &refusal) && refusal.Code == "55006" { // object_in_use: somebody came in meanwhile
		return &InUseError{Database: h.name, Programs: 1}
	}
	if err != nil {
		return fmt.Errorf("put the restored database in place: %w", err)
	}
	return nil
}

// withSchema are the tables of which some rows come with the schema.
var withSchema = []string{"bill_series", "shelf_policy", "shop"}

// occupied lists the tables with at least one row that somebody has put there: not the number of the schema, nor the
// settings of a shop in which nothing was ever done.
func occupied(ctx context.Context, conn *pgx.Conn) ([]string, error) {
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
	if !slices.ContainsFunc(full, func(table string) bool { return !slices.Contains(withSchema, table) }) {
		return nil, nil // every change leaves a row in request
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

// comment is what is noted on a database; "" for nothing.
func comment(ctx context.Context, server *pgx.Conn, name string) (string, error) {
	var text *string
	err := server.QueryRow(ctx, `SELECT shobj_description(oid, 'pg_database') FROM pg_database WHERE datname = $1`, name).Scan(&text)
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return "", fmt.Errorf("look at database %s: %w", name, err)
	}
	if text == nil {
		return "", nil
	}
	return *text, nil
}

// createOwn makes a database that is marked as a restore's own from its beginning.
func createOwn(ctx context.Context, server *pgx.Conn, name string) error {
	if _, err := server.Exec(ctx, `CREATE DATABASE `+quote(name)+` TEMPLATE template0`); err != nil {
		return fmt.Errorf("make a database for the backup: %w", err)
	}
	if _, err := server.Exec(ctx, `COMMENT ON DATABASE `+quote(name)+` IS `+literal(ownMark)); err != nil {
		return fmt.Errorf("mark the database for the backup: %w", err)
	}
	return nil
}

// dropOwn removes a database that a restore, this one or one cut short, has made or set aside. One that is another's is a
// *[ForeignError]; an empty one without the mark was made by a restore that was killed before it could mark it.
func dropOwn(ctx context.Context, server *pgx.Conn, name string) error {
	exists, err := databaseExists(ctx, server, name)
	if err != nil || !exists {
		return err
	}
	mark, err := comment(ctx, server, name)
	if err != nil {
		return err
	}
	if mark != ownMark {
		empty, err := holdsNothing(ctx, server, name)
		if err != nil {
			return err
		}
		if !empty {
			return &ForeignError{Database: name}
		}
	}
	if _, err := server.Exec(ctx, `DROP DATABASE IF EXISTS `+quote(name)+` WITH (FORCE)`); err != nil {
		return fmt.Errorf("drop database %s: %w", name, err)
	}
	return nil
}

// holdsNothing tells whether a database has no table, view or function of anybody's.
func holdsNothing(ctx context.Context, server *pgx.Conn, name string) (bool, error) {
	config := server.Config().Copy()
	config.Database = name
	conn, err := pgx.ConnectConfig(ctx, config)
	if err != nil {
		return false, fmt.Errorf("look into database %s: %w", name, err)
	}
	defer conn.Close(context.WithoutCancel(ctx))
	var empty bool
	err = conn.QueryRow(ctx, `
		SELECT NOT EXISTS (SELECT FROM pg_class WHERE relnamespace NOT IN (SELECT oid FROM pg_namespace WHERE nspname LIKE 'pg\_%' OR nspname = 'information_schema'))
		   AND NOT EXISTS (SELECT FROM pg_proc WHERE pronamespace NOT IN (SELECT oid FROM pg_namespace WHERE nspname LIKE 'pg\_%' OR nspname = 'information_schema'))`).Scan(&empty)
	if err != nil {
		return false, fmt.Errorf("look into database %s: %w", name, err)
	}
	return empty, nil
}

func quote(name string) string { return pgx.Identifier{name}.Sanitize() }

// literal is a text, NULL for none, as it stands in SQL where no parameter may.
func literal(text string) string {
	if text == "" {
		return "NULL"
	}
	return `'` + strings.ReplaceAll(text, `'`, `''`) + `'`
}
