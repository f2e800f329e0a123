package privatepg

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
)

// startTime bounds one start. A server that was cut off replays its log first, which may take a while.
const startTime = time.Minute

// lastGasp is how long the processes of a killed server may keep its memory: until then a new one will not start.
const lastGasp = 10 * time.Second

// greetingTime bounds the wait for a server's greeting. A server too busy to greet is not dead: the start that follows a
// wrong guess finds the data held, and asks again.
const greetingTime = 5 * time.Second

// testSettings trade every safety of the data for speed.
var testSettings = []string{
	"fsync=off", "full_page_writes=off", "synchronous_commit=off", "wal_level=minimal", "max_wal_senders=0",
	// Where the data is in memory, so is the log.
	"min_wal_size=32MB", "max_wal_size=256MB",
	// Many test programs share the server, each with a few pools.
	"max_connections=300",
}

// ensureRunning leaves with a server that answers. The caller holds the gate.
func (s *Server) ensureRunning(ctx context.Context, notice func(string)) error {
	if s.answers(ctx) {
		return nil
	}
	s.clearAttempts()
	dataMajor, err := readDataMajor(s.dataDir())
	if err != nil {
		return err
	}
	err = s.needTools(ctx)
	var version *VersionError
	if errors.As(err, &version) && s.test {
		if err := s.discardData(); err != nil {
			return err
		}
		dataMajor = 0
		err = s.needTools(ctx)
	}
	if err != nil {
		return err
	}
	if dataMajor == 0 {
		if notice != nil {
			notice(fmt.Sprintf("Setting up the database in %s (once, a few seconds).%s", s.dir, rootsPlace(s.dir)))
		}
		if err := s.initdb(ctx); err != nil {
			return err
		}
	}
	err = s.start(ctx)
	if err != nil && s.test && ctx.Err() == nil {
		// Test data is made without syncing, so a power cut may have ruined it; it holds nothing of worth.
		if err := s.discardData(); err != nil {
			return err
		}
		if err := s.initdb(ctx); err != nil {
			return err
		}
		err = s.start(ctx)
	}
	return err
}

// needTools finds the Postgres programs that fit the data. Joining a server that runs needs none, and asking them for
// their version takes longer than joining.
func (s *Server) needTools(ctx context.Context) error {
	if s.tools.dir != "" {
		return nil
	}
	dataMajor, err := readDataMajor(s.dataDir())
	if err != nil {
		return err
	}
	s.tools, err = findTools(ctx, s.dataDir(), dataMajor)
	return err
}

// readDataMajor is the version of Postgres that made the data; 0 when there is none.
func readDataMajor(dataDir string) (int, error) {
	path := filepath.Join(dataDir, "PG_VERSION")
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(dataDir); err == nil {
			return 0, &DirectoryError{Dir: dataDir, Problem: "holds no whole database (PG_VERSION is missing): restore it from a copy, or move it away to start afresh"}
		}
		return 0, nil
	}
	if err != nil {
		return 0, fmt.Errorf("read the database's version: %w", err)
	}
	major, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil || major <= 0 {
		return 0, &DirectoryError{Dir: dataDir, Problem: fmt.Sprintf("has no readable version in PG_VERSION (%q): restore it from a copy, or move it away to start afresh", text)}
	}
	return major, nil
}

// initdb makes the cluster under another name first, so that one whose making was cut short is never taken for whole.
// Each attempt has a name of its own: the tool of a program that was killed may still be at work on the last one.
func (s *Server) initdb(ctx context.Context) error {
	fresh, err := os.MkdirTemp(s.dir, "data.new-")
	if err != nil {
		return fmt.Errorf("make the database directory: %w", err)
	}
	if err := s.account.own(fresh); err != nil {
		return err
	}
	// Text sorts by code point, the same on every machine and in every version; letters beyond ASCII still count as
	// letters, which trigram search needs. macOS lacked C.UTF-8 for long.
	ctype := "C.UTF-8"
	if runtime.GOOS == "darwin" {
		ctype = "en_US.UTF-8"
	}
	args := []string{"-D", fresh, "-U", superuser, "-A", "trust", "--encoding=UTF8", "--locale=C", "--lc-ctype=" + ctype}
	if s.test {
		args = append(args, "--no-sync")
	}
	if err := s.run(ctx, "initdb", args...); err != nil {
		_ = os.RemoveAll(fresh) // the error says what is wrong; what is left goes with the next start
		return err
	}
	if err := os.Rename(fresh, s.dataDir()); err != nil {
		return fmt.Errorf("put the new database in place: %w", err)
	}
	return nil
}

// clearAttempts removes what first starts that were cut short have left. What an orphan still writes into is left to the
// next time.
func (s *Server) clearAttempts() {
	left, _ := filepath.Glob(s.dataDir() + ".new*") // the only error is a bad pattern
	for _, dir := range left {
		_ = os.RemoveAll(dir)
	}
}

// discardData is for test data only, and only when no server answers. One that still lingers ends by itself when it
// finds its pid file gone.
func (s *Server) discardData() error {
	if err := os.RemoveAll(s.dataDir()); err != nil {
		return fmt.Errorf("throw away old test data: %w", err)
	}
	return nil
}

// stillHeld is the SQLSTATE lock_file_exists, with which a server refuses to start while another has the data.
const stillHeld = "F0001"

// start starts the server and waits until it answers. After a kill the last processes of the old server may hold its
// memory for a moment, and a server that another program was stopping or starting when it died may still be at it: then
// the new one refuses, and we try again.
func (s *Server) start(ctx context.Context) error { return s.startWithin(ctx, lastGasp) }

func (s *Server) startWithin(ctx context.Context, gasp time.Duration) error {
	socket, err := s.socketDir()
	if err != nil {
		return err
	}
	if err := s.forgetNumber(); err != nil {
		return err
	}
	giveUp := time.Now().Add(gasp)
	for {
		err := s.startOnce(ctx, socket)
		if err == nil || !strings.Contains(err.Error(), stillHeld) {
			return err
		}
		if time.Now().After(giveUp) {
			return s.held(err)
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(50 * time.Millisecond):
		}
		if s.answers(ctx) { // the other one got there
			return nil
		}
	}
}

// HeldError says that a server has the data and does not answer.
type HeldError struct {
	Dir     string
	Process string // its number
	cause   error
}

func (e *HeldError) Error() string {
	return fmt.Sprintf("the database in %s does not answer, and the program that runs it (process %s) is still there: wait a moment, then repeat the command; if it stays so, end that process or start the machine anew", e.Dir, e.Process)
}
func (e *HeldError) Unwrap() error { return e.cause }

func (s *Server) held(cause error) error {
	text, err := os.ReadFile(filepath.Join(s.dataDir(), "postmaster.pid"))
	if err != nil { // it has ended at this moment
		return cause
	}
	number, _, _ := strings.Cut(string(text), "\n")
	return &HeldError{Dir: s.dir, Process: strings.TrimSpace(number), cause: cause}
}

// nobodysNumber is a process number that no system gives.
const nobodysNumber = 1<<31 - 2

// forgetNumber mends the pid file of a server that was killed when its number is some other program's by now, which the
// new server would take for the old one. The file stays but for the number: by the rest of it the new server makes sure
// that no process of the old one is left.
func (s *Server) forgetNumber() error {
	path := filepath.Join(s.dataDir(), "postmaster.pid")
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("read the pid file of the database: %w", err)
	}
	number, rest, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || pid <= 0 || !alive(pid) || mayServe(pid, s.dataDir()) {
		return nil // the server judges that for itself
	}
	if err := os.WriteFile(path, []byte(strconv.Itoa(nobodysNumber)+"\n"+rest), 0o600); err != nil {
		return fmt.Errorf("mend the pid file of the database: %w", err)
	}
	return nil
}

// mayServe tells whether a process may be the server of a data directory: a server stands in it. Where that cannot be
// seen it may be.
func mayServe(pid int, dataDir string) bool {
	stands, err := os.Readlink(fmt.Sprintf("/proc/%d/cwd", pid))
	if err == nil {
		real, err := filepath.EvalSymlinks(dataDir)
		return err != nil || stands == real || stands == dataDir
	}
	command, err := exec.Command("ps", "-p", strconv.Itoa(pid), "-o", "command=").Output()
	return err != nil || strings.Contains(string(command), "postgres")
}

func (s *Server) startOnce(ctx context.Context, socket string) error {
	log, err := s.openLog()
	if err != nil {
		return err
	}
	defer log.Close()
	info, err := log.Stat()
	if err != nil {
		return fmt.Errorf("look at the server log: %w", err)
	}
	settings := []string{"listen_addresses=", "port=" + port, "unix_socket_permissions=0700",
		"log_line_prefix=%m %e "}
	if s.test {
		settings = append(settings, testSettings...)
	}
	args := []string{"-D", s.dataDir(), "-k", socket}
	for _, setting := range settings {
		args = append(args, "-c", setting)
	}
	// Not CommandContext: the server outlives this call, and often this program.
	cmd := exec.Command(s.tools.path("postgres"), args...)
	s.dress(cmd, log)
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("start the database: %w", err)
	}
	ctx, cancel := context.WithTimeout(ctx, startTime)
	defer cancel()
	running, exited := context.WithCancel(ctx) // one that is gone is not asked whether it answers
	go func() {
		_ = cmd.Wait() // its log says why
		exited()
	}()
	for {
		select {
		case <-running.Done():
			if ctx.Err() != nil {
				return fmt.Errorf("the database in %s is still starting, see server.log there: %w", s.dir, ctx.Err())
			}
			return fmt.Errorf("the database in %s does not start: %s", s.dir, s.logSince(info.Size()))
		case <-time.After(5 * time.Millisecond):
		}
		if s.answers(running) {
			return nil
		}
	}
}

// answers tells whether the server is up, and notes where its socket is. Only a whole greeting counts: the pid file
// outlives a killed server, and even its socket takes connections for another moment.
func (s *Server) answers(ctx context.Context) bool {
	text, err := os.ReadFile(filepath.Join(s.dataDir(), "postmaster.pid"))
	if err != nil {
		return false
	}
	// Lines of the file: pid, data directory, start time, port, socket directory, listen address, memory key, status.
	lines := strings.Split(string(text), "\n")
	if len(lines) < 8 || strings.TrimSpace(lines[7]) != "ready" {
		return false
	}
	s.socket = strings.TrimSpace(lines[4])
	ctx, cancel := context.WithTimeout(ctx, greetingTime)
	defer cancel()
	conn, err := pgconn.Connect(ctx, s.DSN("postgres"))
	if err == nil {
		_ = conn.Close(ctx)
		return true
	}
	// A refusal is an answer too (too many connections, say), unless the server is on its way up or down.
	var refusal *pgconn.PgError
	return errors.As(err, &refusal) && refusal.Code != "57P03"
}

// stop ends the server in good order. A server that is no longer there is stopped enough.
func (s *Server) stop(ctx context.Context) error {
	if _, err := os.Stat(filepath.Join(s.dataDir(), "postmaster.pid")); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err := s.needTools(ctx); err != nil {
		return fmt.Errorf("stop the database in %s: %w", s.dir, err)
	}
	// pg_ctl, not a signal of our own: it runs as the server's user, so that a stale number in the pid file can never
	// make root end somebody else's process.
	err := s.run(ctx, "pg_ctl", "stop", "-D", s.dataDir(), "-m", "fast", "-w", "-t", "60")
	if err != nil && s.answers(ctx) {
		return fmt.Errorf("the database in %s does not stop: %w", s.dir, err)
	}
	return nil
}

// run runs one of the server's tools to its end; an error carries what the tool said.
func (s *Server) run(ctx context.Context, tool string, args ...string) error {
	log, err := s.openLog()
	if err != nil {
		return err
	}
	defer log.Close()
	info, err := log.Stat()
	if err != nil {
		return fmt.Errorf("look at the server log: %w", err)
	}
	cmd := exec.CommandContext(ctx, s.tools.path(tool), args...)
	s.dress(cmd, log)
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("run %s for the database in %s: %w: %s", tool, s.dir, err, s.logSince(info.Size()))
	}
	return nil
}

// dress readies a command of the server's: its user, a place it may stand in, its output in the log. Never a pipe: the
// server keeps it open, and reading it to the end would wait as long as the server lives.
func (s *Server) dress(cmd *exec.Cmd, log *os.File) {
	s.account.dress(cmd)
	cmd.Dir = "/"
	cmd.Stdout, cmd.Stderr = log, log
	// PGDATA, PGOPTIONS and their kin are for the user's other servers.
	for _, entry := range os.Environ() {
		if !strings.HasPrefix(entry, "PG") && !strings.HasPrefix(entry, "LC_") {
			cmd.Env = append(cmd.Env, entry)
		}
	}
	cmd.Env = append(cmd.Env, "LC_ALL=C")
}

// logSince is the reason for a failure by what was logged after a point, on one line and not too long.
func (s *Server) logSince(offset int64) string {
	text, err := os.ReadFile(filepath.Join(s.dir, "server.log"))
	if err != nil || int64(len(text)) < offset {
		return "see server.log there"
	}
	return reason(string(text[offset:]))
}

// reason is what a log says of why a server or one of its tools ended. After the reason a server still tells of its own
// end, and before it those who asked too early are told so: both would hide it.
func reason(log string) string {
	const most = 4
	said := strings.Split(strings.TrimSpace(log), "\n")
	var why []string
	for _, line := range said {
		fatal := strings.Contains(line, " FATAL: ") || strings.Contains(line, " PANIC: ")
		explains := len(why) > 0 && (strings.Contains(line, " DETAIL: ") || strings.Contains(line, " HINT: "))
		if (fatal || explains) && !strings.Contains(line, " 57P03 ") { // cannot_connect_now
			why = append(why, line)
		}
	}
	if len(why) > 0 {
		return strings.Join(why[:min(most, len(why))], "; ")
	}
	return strings.Join(said[max(0, len(said)-most):], "; ")
}
