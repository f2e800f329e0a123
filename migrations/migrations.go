// Package migrations is the database's home: the schema, the way in, and the words for what can go wrong.
//
// The schema is the numbered SQL files of this folder (001_catalogue.sql, 002_..., no gap), embedded in the program.
// The program brings a database up to date itself, every time it opens one ([Open]): [Apply] runs the files that the
// database has not seen, each in a transaction of its own, under an advisory lock, so that any number of programs may
// start at once. The number of the last file run is kept in the table public.schema_version.
//
// Migrations only go forward. A file holds plain SQL and nothing else: no down section, no template (so that braces in
// an array literal are just braces). A file that a workshop's database may have seen is never edited; what it got
// wrong, the next file puts right.
//
// [Connect] is the one place that makes a connection pool; [Explain] turns what Postgres and the network say into a
// sentence for the person at the bench; [Backup] and [Restore] keep a copy of everything in one file.
//
// The private Postgres for a workshop that has set up no database is in privatepg, the databases of the tests in
// testdb. Both stand here because the tests of every package, not only the program, start a server through them.
package migrations

import (
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/tern/v2/migrate"
)

//go:embed *.sql
var files embed.FS

// versionTable names its schema, so that a search_path of the user's cannot make a second one.
const versionTable = "public.schema_version"

// downSeparator is tern's mark before a down section. We have none, and a file with one is refused rather than half read.
const downSeparator = "---- create above / drop below ----"

// NewerSchemaError says that a newer program has already migrated the database.
type NewerSchemaError struct {
	Database int // the schema version found in the database
	Program  int // the newest version this program knows
}

func (e *NewerSchemaError) Error() string {
	return fmt.Sprintf("the database was last used by a newer stead (its schema is version %d, this program knows up to %d): update this program, nothing was changed",
		e.Database, e.Program)
}

// ForeignError says that a database in which stead has never been holds tables of another program, or of somebody.
type ForeignError struct {
	Database string
	Tables   []string // by name; the first few
}

func (e *ForeignError) Error() string {
	return fmt.Sprintf("the database %s holds tables that are not stead's (%s): make an empty one with createdb and name that in "+Address+"; nothing was changed",
		e.Database, strings.Join(e.Tables, ", "))
}

// refuseForeign keeps stead out of what is somebody else's: its tables would stand among theirs, and a restore would later
// take all of them for its own. Tables of an extension are nobody's.
func refuseForeign(ctx context.Context, conn *pgx.Conn) error {
	foreign := &ForeignError{}
	err := conn.QueryRow(ctx, `
		SELECT current_database(), coalesce((array_agg(relname::text ORDER BY relname))[:3], '{}') FROM pg_class c
		WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p') AND relname <> 'schema_version'
		  AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = c.oid AND classid = 'pg_class'::regclass AND deptype = 'e')`).
		Scan(&foreign.Database, &foreign.Tables)
	if err != nil {
		return fmt.Errorf("look what the database holds: %w", err)
	}
	if len(foreign.Tables) == 0 {
		return nil
	}
	// Asked second: another program may be making these very tables, which come with their version.
	version, err := Version(ctx, conn)
	if err != nil || version != 0 {
		return err
	}
	return foreign
}

// Apply brings the database named by dsn up to the newest schema. It changes nothing in a database that is up to date,
// so a read-only copy can be opened too. An error leaves the database at the last file that ran whole.
// A database of a newer schema is a *[NewerSchemaError], one that was never stead's and holds tables a *[ForeignError].
func Apply(ctx context.Context, dsn string) error {
	return apply(ctx, dsn, files)
}

// Latest is the schema version that this program brings a database to.
func Latest() int {
	names, err := migrate.FindMigrations(files)
	if err != nil {
		// The files are part of the program; the package's test reads them.
		panic(err)
	}
	return len(names)
}

// Server is the version of the server and the size of the database, in words.
func Server(ctx context.Context, conn interface {
	QueryRow(ctx context.Context, sql string, args ...any) pgx.Row
}) (version, size string, err error) {
	err = conn.QueryRow(ctx, `SELECT current_setting('server_version'), pg_size_pretty(pg_database_size(current_database()))`).Scan(&version, &size)
	if err != nil {
		return "", "", fmt.Errorf("ask the server what it is: %w", err)
	}
	return version, size, nil
}

// Version is the schema version of the connected database: 0 when no migration has run there.
func Version(ctx context.Context, conn interface {
	QueryRow(ctx context.Context, sql string, args ...any) pgx.Row
}) (int, error) {
	var known bool
	if err := conn.QueryRow(ctx, `SELECT to_regclass($1) IS NOT NULL`, versionTable).Scan(&known); err != nil {
		return 0, fmt.Errorf("look for the schema version: %w", err)
	}
	if !known {
		return 0, nil
	}
	var version int
	if err := conn.QueryRow(ctx, `SELECT version FROM `+versionTable).Scan(&version); err != nil {
		return 0, fmt.Errorf("read the schema version: %w", err)
	}
	return version, nil
}

// Hash identifies the embedded files, names and contents: any edit gives another hash. Tests name their template
// database by it.
func Hash() string {
	names, err := migrate.FindMigrations(files)
	if err != nil {
		panic(err) // see Latest
	}
	h := sha256.New()
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			panic(err)
		}
		fmt.Fprintf(h, "%s %d\n", name, len(text))
		h.Write(text)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// ApplyTo brings an empty database up to an older version of the schema, as a program of that time did.
func ApplyTo(ctx context.Context, conn *pgx.Conn, version int) error {
	migrator, err := migrate.NewMigrator(ctx, conn, versionTable)
	if err != nil {
		return fmt.Errorf("prepare the schema: %w", err)
	}
	if err := load(migrator, files); err != nil {
		return err
	}
	if err := migrator.MigrateTo(ctx, int32(version)); err != nil {
		return fmt.Errorf("bring the schema to version %d: %w", version, err)
	}
	return nil
}

func apply(ctx context.Context, dsn string, files fs.FS) error {
	config, err := parse(dsn)
	if err != nil {
		return err
	}
	conn, err := pgx.ConnectConfig(ctx, config.ConnConfig)
	if err != nil {
		return fmt.Errorf("open the database: %w", err)
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if err := refuseForeign(ctx, conn); err != nil {
		return err
	}

	migrator, err := migrate.NewMigrator(ctx, conn, versionTable)
	if err != nil {
		return fmt.Errorf("prepare the schema: %w", err)
	}
	if err := load(migrator, files); err != nil {
		return err
	}
	err = migrator.Migrate(ctx)
	var bad migrate.BadVersionError
	if errors.As(err, &bad) {
		found, versionErr := migrator.GetCurrentVersion(ctx)
		if versionErr != nil {
			return fmt.Errorf("read the schema version: %w", versionErr)
		}
		return &NewerSchemaError{Database: int(found), Program: len(migrator.Migrations)}
	}
	if err != nil {
		return fmt.Errorf("bring the schema up to date: %w", err)
	}
	return nil
}

// load hands the files to the migrator as they are. The library's own loader would run each as a template first.
func load(migrator *migrate.Migrator, files fs.FS) error {
	names, err := migrate.FindMigrations(files)
	if err != nil {
		return fmt.Errorf("list the migrations: %w", err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			return fmt.Errorf("read migration: %w", err)
		}
		if strings.Contains(string(text), downSeparator) {
			return fmt.Errorf("migration %s has a down section: migrations only go forward", name)
		}
		migrator.AppendMigration(name, string(text), "")
	}
	return nil
}
