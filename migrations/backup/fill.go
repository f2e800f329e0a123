package backup

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/migrations"
)

// StrangeError says that a backup brings what no migration of this program makes: code that would run by itself.
type StrangeError struct {
	Path   string
	Things []string // "function grab()"
}

func (e *StrangeError) Error() string {
	few := e.Things[:min(3, len(e.Things))]
	return fmt.Sprintf("%s brings things that stead does not make and that could run by themselves (%s): it is not to be trusted; nothing was changed", e.Path, strings.Join(few, ", "))
}

// fill reads the backup into the fresh database and makes sure that this program can work with it.
func fill(ctx context.Context, restore program, server *pgx.Conn, dsn, fresh, path string, told Told) (err error) {
	reader, err := newReader(ctx, server, fresh)
	if err != nil {
		return err
	}
	defer func() {
		ctx := context.WithoutCancel(ctx)
		if err != nil { // a role stays as long as it owns what it has read
			err = errors.Join(err, dropOwn(ctx, server, fresh))
		}
		_ = reader.end(ctx) // one that is left is dropped by a later restore
	}()
	file, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("open the backup: %w", err)
	}
	defer file.Close() // only read from
	cmd, err := restore.as(reader, dsn, fresh, "--exit-on-error", "--single-transaction", "--no-owner", "--no-privileges")
	if err != nil {
		return err
	}
	cmd.Stdin = file
	stop := watch(told, func() (int64, int64, bool) { return taken(file) })
	err = run(ctx, cmd)
	stop()
	if err != nil {
		if ctx.Err() != nil {
			return fmt.Errorf("read the backup: %w", err)
		}
		if full := migrations.DiskFull(err, "the database"); errors.As(full, new(*migrations.DiskFullError)) {
			return full
		}
		return &NotABackupError{Path: path, Problem: err.Error()}
	}
	conn, err := connect(ctx, dsn, fresh)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx)) // before the swap: a database with a connection keeps its name
	if err := reader.handOver(ctx, conn); err != nil {
		return err
	}
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
	return checkAsMigrated(ctx, server, conn, dsn, fresh, path, version)
}

// checkAsMigrated compares all code in the restored database with that of one which the program itself has brought to the
// same version: what the restored one has beyond it is not the program's.
func checkAsMigrated(ctx context.Context, server, restored *pgx.Conn, dsn, fresh, path string, version int) error {
	// Within the limit on names: the ending is shorter than the one that databaseName leaves room for.
	model := strings.TrimSuffix(fresh, restoring) + "_model"
	if err := dropOwn(ctx, server, model); err != nil {
		return err
	}
	if err := createOwn(ctx, server, model); err != nil {
		return err
	}
	defer dropOwn(context.WithoutCancel(ctx), server, model)
	conn, err := connect(ctx, dsn, model)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if err := migrations.ApplyTo(ctx, conn, version); err != nil {
		return err
	}
	known, err := codeOf(ctx, conn)
	if err != nil {
		return err
	}
	found, err := codeOf(ctx, restored)
	if err != nil {
		return err
	}
	var strange []string
	for text, thing := range found {
		if _, ok := known[text]; !ok {
			strange = append(strange, thing)
		}
	}
	if len(strange) > 0 {
		return &StrangeError{Path: path, Things: strange}
	}
	return nil
}

// codeOf is all in a database that can run: by its whole text, and by a few words.
func codeOf(ctx context.Context, conn *pgx.Conn) (map[string]string, error) {
	rows, err := conn.Query(ctx, `
		WITH ours AS (SELECT oid FROM pg_namespace WHERE nspname NOT LIKE 'pg\_%' AND nspname <> 'information_schema'),
		     extended AS (SELECT classid, objid FROM pg_depend WHERE deptype = 'e')
		SELECT pg_get_functiondef(p.oid), 'function ' || p.oid::regprocedure::text FROM pg_proc p
		WHERE pronamespace IN (SELECT oid FROM ours) AND prokind IN ('f', 'p', 'w') AND ('pg_proc'::regclass, p.oid) NOT IN (SELECT * FROM extended)
		UNION ALL SELECT p.oid::regprocedure::text, 'aggregate ' || p.oid::regprocedure::text FROM pg_proc p
		WHERE pronamespace IN (SELECT oid FROM ours) AND prokind = 'a' AND ('pg_proc'::regclass, p.oid) NOT IN (SELECT * FROM extended)
		UNION ALL SELECT pg_get_triggerdef(oid), 'trigger ' || tgname FROM pg_trigger WHERE NOT tgisinternal
		UNION ALL SELECT pg_get_ruledef(r.oid), 'rule or view ' || ev_class::regclass::text FROM pg_rewrite r JOIN pg_class c ON c.oid = ev_class
		WHERE relnamespace IN (SELECT oid FROM ours)
		UNION ALL SELECT adrelid::regclass::text || ' ' || adnum || ' ' || pg_get_expr(adbin, adrelid), 'default of ' || adrelid::regclass::text FROM pg_attrdef
		UNION ALL SELECT conrelid::regclass::text || ' ' || conname || ' ' || pg_get_constraintdef(oid), 'constraint ' || conname FROM pg_constraint
		WHERE connamespace IN (SELECT oid FROM ours) AND contype IN ('c', 'x', 't')
		UNION ALL SELECT pg_get_indexdef(indexrelid), 'index ' || indexrelid::regclass::text FROM pg_index JOIN pg_class c ON c.oid = indexrelid
		WHERE relnamespace IN (SELECT oid FROM ours)
		UNION ALL SELECT 'policy ' || polname || ' ' || polrelid::regclass::text, 'policy ' || polname FROM pg_policy
		UNION ALL SELECT 'extension ' || extname, 'extension ' || extname FROM pg_extension
		UNION ALL SELECT 'event trigger ' || evtname, 'event trigger ' || evtname FROM pg_event_trigger
		UNION ALL SELECT 'operator ' || o.oid::regoperator::text, 'operator ' || o.oid::regoperator::text FROM pg_operator o
		WHERE oprnamespace IN (SELECT oid FROM ours) AND ('pg_operator'::regclass, o.oid) NOT IN (SELECT * FROM extended)
		UNION ALL SELECT 'cast ' || c.oid::text, 'cast' FROM pg_cast c WHERE c.oid >= 16384 AND ('pg_cast'::regclass, c.oid) NOT IN (SELECT * FROM extended)
		UNION ALL SELECT 'schema ' || nspname, 'schema ' || nspname FROM pg_namespace WHERE oid IN (SELECT oid FROM ours)
		UNION ALL SELECT 'type ' || t.oid::regtype::text, 'type ' || t.oid::regtype::text FROM pg_type t
		WHERE typtype IN ('d', 'r', 'b') AND typelem = 0 AND typnamespace IN (SELECT oid FROM ours) AND ('pg_type'::regclass, t.oid) NOT IN (SELECT * FROM extended)`)
	if err != nil {
		return nil, fmt.Errorf("look for code in the backup: %w", err)
	}
	defer rows.Close()
	out := map[string]string{}
	for rows.Next() {
		var text, thing string
		if err := rows.Scan(&text, &thing); err != nil {
			return nil, fmt.Errorf("look for code in the backup: %w", err)
		}
		out[text] = thing
	}
	return out, rows.Err()
}

// reader is the role that reads a backup: it owns the fresh database and can do nothing else. Where our own role is no
// more than that already, it is that one.
type reader struct {
	server   *pgx.Conn
	role     string // "" for our own
	password string
}

func newReader(ctx context.Context, server *pgx.Conn, database string) (*reader, error) {
	r := &reader{server: server}
	var mighty bool
	if err := server.QueryRow(ctx, `SELECT current_setting('is_superuser')::bool`).Scan(&mighty); err != nil {
		return nil, fmt.Errorf("look at our own role: %w", err)
	}
	if !mighty {
		return r, nil
	}
	r.dropExpired(ctx)
	r.role, r.password = "stead_reader_"+strings.ToLower(rand.Text()[:10]), rand.Text()
	if _, err := server.Exec(ctx, `CREATE ROLE `+quote(r.role)+` LOGIN PASSWORD `+literal(r.password)+` VALID UNTIL 'tomorrow'`); err != nil {
		return nil, fmt.Errorf("make a role to read the backup: %w", err)
	}
	if _, err := server.Exec(ctx, `ALTER DATABASE `+quote(database)+` OWNER TO `+quote(r.role)); err != nil {
		return nil, errors.Join(fmt.Errorf("make a role to read the backup: %w", err), r.end(ctx))
	}
	return r, nil
}

// dropExpired drops the roles of restores that were killed, a day later, when no restore is still at work with one.
func (r *reader) dropExpired(ctx context.Context) {
	rows, err := r.server.Query(ctx, `SELECT rolname FROM pg_roles WHERE rolname LIKE 'stead\_reader\_%' AND rolvaliduntil < now()`)
	if err != nil {
		return
	}
	expired, _ := pgx.CollectRows(rows, pgx.RowTo[string]) // what is not seen now is seen by the next one
	for _, role := range expired {
		_, _ = r.server.Exec(ctx, `DROP ROLE IF EXISTS `+quote(role)) // one that owns something stays
	}
}

// handOver gives all that was read to our own role.
func (r *reader) handOver(ctx context.Context, conn *pgx.Conn) error {
	if r.role == "" {
		return nil
	}
	if _, err := conn.Exec(ctx, `REASSIGN OWNED BY `+quote(r.role)+` TO CURRENT_USER; DROP OWNED BY `+quote(r.role)); err != nil {
		return fmt.Errorf("take over what was read: %w", err)
	}
	return nil
}

// end removes the role, after a failure with all that it has read.
func (r *reader) end(ctx context.Context) error {
	if r.role == "" {
		return nil
	}
	_, err := r.server.Exec(ctx, `DROP ROLE IF EXISTS `+quote(r.role))
	return err
}
