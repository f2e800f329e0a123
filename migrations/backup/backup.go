// Package backup keeps a copy of a whole database in one file, and puts it back.
//
// The file is pg_dump's custom format: the database as it was at one moment, whatever others were doing to it,
// compressed, and readable by Postgres's own pg_restore without this program.
//
// A restore never leaves half a database. The file is read into a new database beside the old one, looked at, and only
// then do the two change names, both or neither. Postgres's programs are found by privatepg.Client: of the server's
// version, in $PG_BIN or wherever the machine's packages put them.
package backup

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"stead/migrations"
	"stead/migrations/filelock"
	"stead/migrations/privatepg"
)

// ClientMissingError says that pg_dump or pg_restore of the server's version is not on this machine.
type ClientMissingError struct {
	Program     string
	ServerMajor int
}

func (e *ClientMissingError) Error() string {
	return fmt.Sprintf("%s of PostgreSQL %d is not on this machine: install PostgreSQL's client programs of that version (on Debian: apt-get install postgresql-client-%d), or name their directory in PG_BIN",
		e.Program, e.ServerMajor, e.ServerMajor)
}

// Save writes the database named by dsn to a new file. A file of that name is an error, never overwritten, and a save
// that fails leaves none.
func Save(ctx context.Context, dsn, path string, told Told) error {
	if _, err := os.Stat(path); err == nil {
		return fmt.Errorf("save the backup: %s is there already: choose another name or move it away", path)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("save the backup: %w", err)
	}
	conn, err := connect(ctx, dsn, "")
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	dump, err := client(ctx, conn, "pg_dump")
	if err != nil {
		return err
	}

	stop := watch(told, func() (int64, int64, bool) { return dumped(ctx, conn) })
	defer stop() // before the connection is closed
	return migrations.DiskFull(save(ctx, dump, dsn, path), path)
}

// save writes the file beside its final place, so that the rename cannot fail for want of room, and readable to its
// owner only.
func save(ctx context.Context, dump program, dsn, path string) error {
	clearKilled(filepath.Dir(path))
	file, err := os.CreateTemp(filepath.Dir(path), unfinished+"*")
	if err != nil {
		return fmt.Errorf("save the backup: %w", err)
	}
	filelock.Try(file)           // so that it is not taken for left behind
	defer os.Remove(file.Name()) // gone already when all went well
	defer file.Close()
	cmd, err := dump.on(dsn, "", "--format=custom", "--no-owner", "--no-privileges")
	if err != nil {
		return err
	}
	cmd.Stdout = file
	if err := run(ctx, cmd); err != nil {
		return fmt.Errorf("save the backup: %w", err)
	}
	if err := file.Sync(); err != nil {
		return fmt.Errorf("save the backup: %w", err)
	}
	if err := file.Close(); err != nil {
		return fmt.Errorf("save the backup: %w", err)
	}
	if err := os.Rename(file.Name(), path); err != nil {
		return fmt.Errorf("save the backup: %w", err)
	}
	return nil
}

// unfinished begins the name of a backup that is being written.
const unfinished = ".stead-backup-"

// clearKilled removes what backups into a folder have left that were killed while they wrote. One that is being written
// is locked, by pg_dump too.
func clearKilled(folder string) {
	left, _ := filepath.Glob(filepath.Join(folder, unfinished+"*")) // the only error is a bad pattern
	for _, path := range left {
		file, err := os.Open(path)
		if err != nil {
			continue
		}
		if filelock.Try(file) {
			os.Remove(path)
		}
		file.Close()
	}
}

// connect opens one connection to the database of dsn, or to another one of the same server.
func connect(ctx context.Context, dsn, database string) (*pgx.Conn, error) {
	config, err := pgxpool.ParseConfig(dsn)
	if err != nil {
		return nil, fmt.Errorf("read the database address: %w", err)
	}
	if database != "" {
		config.ConnConfig.Database = database
	}
	conn, err := pgx.ConnectConfig(ctx, config.ConnConfig)
	if err != nil {
		return nil, fmt.Errorf("open the database: %w", err)
	}
	return conn, nil
}

// program is one of Postgres's client programs.
type program string

func client(ctx context.Context, conn *pgx.Conn, name string) (program, error) {
	var version int // 150018 for 15.18
	if err := conn.QueryRow(ctx, `SELECT current_setting('server_version_num')::int`).Scan(&version); err != nil {
		return "", fmt.Errorf("ask the server's version: %w", err)
	}
	major := version / 10000
	path, err := privatepg.Client(ctx, name, major)
	if errors.Is(err, privatepg.ErrNoClient) {
		return "", &ClientMissingError{Program: name, ServerMajor: major}
	}
	return program(path), err
}

// as readies the program to work on a database as another role.
func (p program) as(r *reader, dsn, database string, args ...string) (*exec.Cmd, error) {
	if r.role == "" {
		return p.on(dsn, database, args...)
	}
	a, err := readAddress(dsn)
	if err != nil {
		return nil, err
	}
	a.set("user", r.role)
	a.password = r.password
	return p.at(a, database, args...), nil
}

// on readies the program to work on the database of dsn, or on another one of the same server. The password goes by
// the environment: the arguments of a process are for everybody to read.
func (p program) on(dsn, database string, args ...string) (*exec.Cmd, error) {
	a, err := readAddress(dsn)
	if err != nil {
		return nil, err
	}
	return p.at(a, database, args...), nil
}

func (p program) at(a *address, database string, args ...string) *exec.Cmd {
	if database != "" {
		a.set("dbname", database)
	}
	cmd := exec.Command(string(p), append(args, "--no-password", "--dbname="+a.String())...)
	cmd.Env = append(os.Environ(), "LC_ALL=C")
	if a.password != "" {
		cmd.Env = append(cmd.Env, "PGPASSWORD="+a.password)
	}
	return cmd
}

// run runs the program to its end; an error says what the program complained of.
func run(ctx context.Context, cmd *exec.Cmd) error {
	var said strings.Builder
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		return err
	}
	stop := context.AfterFunc(ctx, func() { _ = cmd.Process.Kill() })
	defer stop()
	if err := cmd.Wait(); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		complaint, _, _ := strings.Cut(strings.TrimSpace(said.String()), "\n")
		return fmt.Errorf("%w: %s", err, complaint)
	}
	return nil
}
