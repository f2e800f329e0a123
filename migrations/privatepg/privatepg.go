// Package privatepg runs a private Postgres for a workshop that has set up no database of its own.
//
// Nothing is installed and nothing listens on the network: the server is started on demand from the Postgres programs
// found on the machine, keeps its data in one directory and answers on a unix socket beside it. Several programs may
// [Open] the same directory at once. The first one in starts the server, the others join it, and the last one out stops
// it, or leaves it to a keeper that stops it a while later. A program that is killed gives up its share without having to
// say so.
//
// # What lies in the directory
//
//	data         the database cluster; data.new-… while it is first being made
//	socket       where the server answers, open to its owner only
//	gate.lock    held by whoever is starting or stopping the server at this moment
//	users.lock   shared by every program that uses the server; its time is when the last one left
//	keeper.lock  held by the keeper, as long as it lives
//	server.log   what the server and its tools said
//
// The locks are flocks, so the kernel frees them however a program ends. Whoever holds the gate and can have users.lock
// to itself is the last one, and stops the server.
//
// # Who owns the server
//
// Postgres refuses to run as root. For root the server therefore runs as the account postgres, else nobody, and its
// directory must be one that such an account can walk into: /var/lib/stead, never /root. For anybody else it runs as
// they are. Connections need no password, since only the owner and root can reach the socket.
//
// This package is unix only: elsewhere Open returns an *[UnsupportedError].
//
// It stands under migrations, not in the program, because the tests of every package run on a server from here.
package privatepg

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"time"

	"stead/migrations"
	"stead/migrations/filelock"
)

// superuser is the role that owns everything in the cluster, whatever the account that runs the server is called.
const superuser = "stead"

// patience bounds the wait for the gate: somebody else making, recovering or stopping the cluster.
const patience = 2 * time.Minute

// Options says where the server lives and how careful it is.
type Options struct {
	// Dir is the directory of the server. Empty means [DefaultDir].
	Dir string
	// Test makes a fast server for throwaway data: nothing is synced to disk, so a power cut may ruin it, and data
	// that will not start, or was made by another version of Postgres, is thrown away and made afresh.
	Test bool
	// Linger, if set, is how long the server stays after the last program has left it, so that the next one finds it
	// running. Keeper is then the command, for a directory, of a process that calls [Keep] with both.
	Linger time.Duration
	Keeper func(dir string) *exec.Cmd
	// Notice, if set, is told in a sentence what takes longer than usual: the first start.
	Notice func(string)
}

// Server is one program's share in a private Postgres.
type Server struct {
	dir     string
	test    bool
	linger  bool
	tools   tools
	account account
	gate    *filelock.Lock
	users   *filelock.Lock
	socket  string // directory of the socket of the running server

	reviving sync.Mutex
}

// UnsupportedError says that there is no private Postgres on this kind of machine.
type UnsupportedError struct {
	OS string
}

func (e *UnsupportedError) Error() string {
	return fmt.Sprintf("a private database cannot be run on %s: start one with `docker compose up -d` or name yours in DATABASE_URL", e.OS)
}

// Open takes a share in the server of a directory, making its data and starting it as needed.
//
// Errors that a user can act on are sentences that say so: *[NoBinariesError], *[VersionError], *[DirectoryError],
// *[UnsupportedError].
func Open(ctx context.Context, opts Options) (_ *Server, err error) {
	if err := checkSupported(); err != nil {
		return nil, err
	}
	dir := opts.Dir
	if dir == "" {
		if dir, err = DefaultDir(); err != nil {
			return nil, err
		}
	}
	if dir, err = filepath.Abs(dir); err != nil {
		return nil, fmt.Errorf("find the database directory: %w", err)
	}
	s := &Server{dir: dir, test: opts.Test, linger: opts.Linger > 0}
	if s.account, err = serverAccount(s.dataDir()); err != nil {
		return nil, err
	}
	if err := prepareDir(dir, s.account); err != nil {
		return nil, err
	}

	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	if s.gate, err = filelock.Open(filepath.Join(dir, "gate.lock")); err != nil {
		return nil, err
	}
	if s.users, err = filelock.Open(filepath.Join(dir, "users.lock")); err != nil {
		s.gate.Close()
		return nil, err
	}
	defer func() {
		if err != nil {
			s.users.Close()
			s.gate.Close()
		}
	}()
	if err := s.gate.Exclusive(ctx); err != nil {
		return nil, fmt.Errorf("another stead has been busy starting or stopping the database in %s for too long: see server.log there: %w", dir, err)
	}
	defer s.gate.Release()
	// Nobody keeps users.lock exclusively without holding the gate, so this never waits.
	if err := s.users.Shared(ctx); err != nil {
		return nil, fmt.Errorf("join the users of the database in %s: %w", dir, err)
	}
	if err := s.ensureRunning(ctx, opts.Notice); err != nil {
		return nil, migrations.DiskFull(err, dir)
	}
	if s.linger {
		if err := s.startKeeper(opts.Keeper); err != nil {
			return nil, migrations.DiskFull(err, dir)
		}
	}
	return s, nil
}

// DSN is the address of a database of this server, for pgx and for Postgres's own programs.
func (s *Server) DSN(database string) string {
	query := url.Values{
		"host":    {s.socket},
		"port":    {port},
		"user":    {superuser},
		"sslmode": {"disable"},
	}
	// A path of the form /%2Fx is no database name that we make, so escaping is for honesty, not for need.
	return "postgres:///" + url.PathEscape(database) + "?" + query.Encode()
}

// EnsureDatabase makes a database of this name unless there is one, and returns its address.
func (s *Server) EnsureDatabase(ctx context.Context, name string) (string, error) {
	return migrations.EnsureDatabase(ctx, s.DSN("postgres"), name)
}

// Revive starts the server again if it has died under us. A program that runs all day calls it before each connection
// that it makes, from as many goroutines as it likes. A server that answers is left alone, so calling it needlessly costs
// a millisecond.
func (s *Server) Revive(ctx context.Context) error {
	// The gate keeps other programs out, not our own goroutines, who share the open file.
	s.reviving.Lock()
	defer s.reviving.Unlock()
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	if err := s.gate.Exclusive(ctx); err != nil {
		return fmt.Errorf("wait to start the database in %s: %w", s.dir, err)
	}
	defer s.gate.Release()
	return migrations.DiskFull(s.ensureRunning(ctx, nil), s.dir)
}

// Close gives up this share, and stops the server if it was the last one. The share is given up in any case: an error
// tells only that the server would not stop, and is fit to be shown as a warning. The data is safe either way.
func (s *Server) Close() error {
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	defer s.gate.Close()
	defer s.users.Close()
	if err := s.gate.Exclusive(ctx); err != nil {
		return fmt.Errorf("wait to leave the database in %s: %w", s.dir, err)
	}
	if !s.users.TryExclusive() {
		return nil // somebody else is using the server
	}
	if s.linger && s.kept() {
		now := time.Now()
		// Without the time of leaving, the keeper counts from when it last saw somebody.
		_ = os.Chtimes(filepath.Join(s.dir, "users.lock"), now, now)
		return nil
	}
	return s.stop(ctx)
}

func (s *Server) dataDir() string { return filepath.Join(s.dir, "data") }

func (s *Server) openLog() (*os.File, error) {
	path := filepath.Join(s.dir, "server.log")
	// The log is for finding out why the last start failed, not for history.
	const enough = 4 << 20
	if info, err := os.Stat(path); err == nil && info.Size() > enough {
		if err := os.Truncate(path, 0); err != nil {
			return nil, fmt.Errorf("shorten the server log: %w", err)
		}
	}
	log, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, fmt.Errorf("open the server log: %w", err)
	}
	return log, nil
}
