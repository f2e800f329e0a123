//go:build unix

package privatepg

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/migrations/filelock"
)

// Real processes are what this package is about: a test starts them by running its own program with helperEnv set.
const (
	helperEnv = "PRIVATEPG_TEST_HELPER"
	keeperEnv = "PRIVATEPG_TEST_KEEPER" // the program is then a server's keeper
	lingerEnv = "PRIVATEPG_TEST_LINGER" // the helper asks for one
)

// testLinger is how long a server of these tests stays where it stays at all.
const testLinger = 1500 * time.Millisecond

func testKeeper(dir string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), keeperEnv+"="+dir, helperEnv+"=")
	return cmd
}

func TestMain(m *testing.M) {
	if dir := os.Getenv(keeperEnv); dir != "" {
		if err := Keep(context.Background(), dir, testLinger); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	if dir := os.Getenv(helperEnv); dir != "" {
		if err := helper(dir); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	code := m.Run()
	if ready.dir != "" {
		os.RemoveAll(ready.dir)
	}
	os.Exit(code)
}

// helper is another program that uses the server until its standard input ends.
func helper(dir string) error {
	ctx := context.Background()
	options := Options{Dir: dir, Test: true}
	if os.Getenv(lingerEnv) != "" {
		options.Linger, options.Keeper = testLinger, testKeeper
	}
	s, err := Open(ctx, options)
	if err != nil {
		return err
	}
	dsn, err := s.EnsureDatabase(ctx, "stead")
	if err != nil {
		return err
	}
	if _, err := serverPID(ctx, dsn); err != nil {
		return err
	}
	fmt.Println("open")
	if _, err := io.Copy(io.Discard, os.Stdin); err != nil {
		return err
	}
	return s.Close()
}

type process struct {
	cmd   *exec.Cmd
	stdin io.Closer
	out   *bufio.Reader
}

// startProcess starts a helper and does not wait for it to be ready.
func startProcess(t *testing.T, dir string, as *syscall.Credential, env ...string) *process {
	t.Helper()
	// go test's own copy lies where only we may enter.
	program := filepath.Join(t.TempDir(), "helper")
	if as != nil {
		program = filepath.Join(reachable(t, ""), "helper") // a link stays on its disk
	}
	self, err := os.Executable()
	require.NoError(t, err)
	require.NoError(t, os.Link(self, program), "link the test program")
	cmd := exec.Command(program)
	cmd.Env = append(append(os.Environ(), helperEnv+"="+dir), env...)
	cmd.Dir = "/"
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: as}
	stdin, err := cmd.StdinPipe()
	require.NoError(t, err)
	stdout, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	return &process{cmd, stdin, bufio.NewReader(stdout)}
}

func (p *process) waitOpen(t *testing.T) {
	t.Helper()
	line, _ := p.out.ReadString('\n')
	require.Equal(t, "open\n", line)
}

func (p *process) end(t *testing.T) {
	t.Helper()
	require.NoError(t, p.stdin.Close())
	require.NoError(t, p.cmd.Wait())
}

func (p *process) kill(t *testing.T) {
	t.Helper()
	require.NoError(t, p.cmd.Process.Kill())
	_ = p.cmd.Wait() // says that it was killed
}

// emptyDir is a directory that the server's user can reach; root's t.TempDir is not.
func emptyDir(t *testing.T) string {
	t.Helper()
	return reachable(t, ThrowawayDir())
}

func reachable(t *testing.T, under string) string {
	t.Helper()
	dir, err := os.MkdirTemp(under, "privatepg")
	require.NoError(t, err)
	require.NoError(t, os.Chmod(dir, 0o755))
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// ready is a directory with data in it that nobody uses: copying it is ten times faster than initdb.
var ready struct {
	sync.Once
	dir string
}

// readyDir is a directory of the test's own with data in it.
func readyDir(t *testing.T) string {
	t.Helper()
	ready.Do(func() {
		dir, err := os.MkdirTemp(ThrowawayDir(), "privatepg")
		require.NoError(t, err)
		require.NoError(t, os.Chmod(dir, 0o755))
		ready.dir = dir
		require.NoError(t, open(t, filepath.Join(dir, "s")).Close())
	})
	dir := filepath.Join(emptyDir(t), "s")
	require.NoError(t, exec.Command("cp", "-a", filepath.Join(ready.dir, "s"), dir).Run())
	return dir
}

func open(t *testing.T, dir string) *Server {
	t.Helper()
	s, err := Open(t.Context(), Options{Dir: dir, Test: true})
	require.NoError(t, err)
	return s
}

// serverPID asks the server itself.
func serverPID(ctx context.Context, dsn string) (int, error) {
	conn, err := pgx.Connect(ctx, dsn)
	if err != nil {
		return 0, err
	}
	defer conn.Close(ctx)
	var pidFile string
	if err := conn.QueryRow(ctx, `SELECT pg_read_file('postmaster.pid')`).Scan(&pidFile); err != nil {
		return 0, err
	}
	line, _, _ := strings.Cut(pidFile, "\n")
	return strconv.Atoi(line)
}

func pidOf(t *testing.T, s *Server) int {
	t.Helper()
	pid, err := serverPID(t.Context(), s.DSN("postgres"))
	require.NoError(t, err)
	return pid
}

func requireStopped(t *testing.T, dir string) {
	t.Helper()
	require.NoFileExists(t, filepath.Join(dir, "data", "postmaster.pid"))
}

func needRoot(t *testing.T) {
	t.Helper()
	if os.Geteuid() != 0 {
		if os.Getenv("STEAD_CI") != "" {
			t.Fatal("continuous integration runs as root, so that root's own rules are tested")
		}
		t.Skip("about root only")
	}
}

func nobody(t *testing.T) *syscall.Credential {
	t.Helper()
	u, err := user.Lookup("nobody")
	require.NoError(t, err)
	uid, err := strconv.Atoi(u.Uid)
	require.NoError(t, err)
	gid, err := strconv.Atoi(u.Gid)
	require.NoError(t, err)
	return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
}

func TestFirstStart(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(emptyDir(t), "deep", "down")
	var notices []string
	opts := Options{Dir: dir, Notice: func(s string) { notices = append(notices, s) }}
	s, err := Open(t.Context(), opts)
	require.NoError(t, err)
	require.Len(t, notices, 1)
	require.Contains(t, notices[0], dir)

	dsn, err := s.EnsureDatabase(t.Context(), "stead")
	require.NoError(t, err)
	again, err := s.EnsureDatabase(t.Context(), "stead")
	require.NoError(t, err)
	require.Equal(t, dsn, again)

	conn, err := pgx.Connect(t.Context(), dsn)
	require.NoError(t, err)
	for setting, want := range map[string]string{
		"listen_addresses": "", // nothing on the network
		"fsync":            "on",
		"server_encoding":  "UTF8",
	} {
		var got string
		require.NoError(t, conn.QueryRow(t.Context(), `SELECT current_setting($1)`, setting).Scan(&got))
		require.Equal(t, want, got, setting)
	}
	require.NoError(t, conn.Close(t.Context()))

	require.NoError(t, s.Close())
	requireStopped(t, dir)

	s, err = Open(t.Context(), opts)
	require.NoError(t, err)
	require.Len(t, notices, 1, "nothing to tell the second time")
	require.NoError(t, s.Close())
}

func TestSeveralProgramsShareOneServer(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	var programs []*process
	for range 4 {
		programs = append(programs, startProcess(t, dir, nil))
	}
	for _, p := range programs {
		p.waitOpen(t)
	}
	s := open(t, dir)
	pid := pidOf(t, s)
	for _, p := range programs {
		p.end(t)
	}
	require.Equal(t, pid, pidOf(t, s), "the server stays while one program uses it")
	require.NoError(t, s.Close())
	requireStopped(t, dir)
}

func TestSeveralProgramsAfterAFirstStartCutShort(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(emptyDir(t), "s")
	half := filepath.Join(dir, "data.new")
	require.NoError(t, os.MkdirAll(filepath.Join(half, "base"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(half, "PG_VERSION"), []byte("15\n"), 0o600))
	one, other := startProcess(t, dir, nil), startProcess(t, dir, nil)
	one.waitOpen(t)
	other.waitOpen(t)
	one.end(t)
	other.end(t)
	requireStopped(t, dir)
	require.NoDirExists(t, half)
}

// TestFirstStartBesideAnOrphan plays the tool of a first start that was killed: it goes on writing where it was told to.
func TestFirstStartBesideAnOrphan(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(emptyDir(t), "s")
	require.NoError(t, os.MkdirAll(dir, 0o755))
	half, done := filepath.Join(dir, "data.new"), make(chan struct{})
	var orphan sync.WaitGroup
	orphan.Go(func() {
		for n := 0; ; n++ {
			select {
			case <-done:
				return
			default:
				_ = os.MkdirAll(filepath.Join(half, "base"), 0o755)
				_ = os.WriteFile(filepath.Join(half, "base", strconv.Itoa(n%50)), []byte("x"), 0o600)
			}
		}
	})
	s, err := Open(t.Context(), Options{Dir: dir, Test: true})
	close(done)
	orphan.Wait()
	require.NoError(t, err)
	require.NoError(t, s.Close())
	s = open(t, dir)
	require.NoError(t, s.Close())
	require.NoDirExists(t, half, "it goes with the next start")
}

// TestNumberLivesAgain kills a server and gives its number to another program of the same user, as a machine that was
// started again does.
func TestNumberLivesAgain(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	s := open(t, dir)
	require.NoError(t, syscall.Kill(pidOf(t, s), syscall.SIGKILL))
	other := exec.Command("sleep", "60")
	other.Dir = "/"
	s.account.dress(other)
	require.NoError(t, other.Start())
	defer func() {
		require.NoError(t, other.Process.Kill(), "it is let alone")
		other.Wait()
	}()
	path := filepath.Join(dir, "data", "postmaster.pid")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	_, rest, _ := strings.Cut(string(text), "\n")
	require.NoError(t, os.WriteFile(path, []byte(strconv.Itoa(other.Process.Pid)+"\n"+rest), 0o600))

	// Not for test data, which would be made afresh.
	again, err := Open(t.Context(), Options{Dir: dir})
	require.NoError(t, err)
	require.NoError(t, again.Close())
	require.NoError(t, s.Close())
}

func TestServerLingers(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	options := Options{Dir: dir, Test: true, Linger: testLinger, Keeper: testKeeper}
	s, err := Open(t.Context(), options)
	require.NoError(t, err)
	pid := pidOf(t, s)
	left := time.Now()
	require.NoError(t, s.Close())
	for range 3 { // every use begins the time anew
		time.Sleep(testLinger / 2)
		s, err := Open(t.Context(), options)
		require.NoError(t, err)
		if here := pidOf(t, s); time.Since(left) < testLinger { // else the machine was busy with something else
			require.Equal(t, pid, here, "the server has stayed")
		} else {
			pid = here
		}
		left = time.Now()
		require.NoError(t, s.Close())
	}
	require.Eventually(t, func() bool { return !alive(pid) }, 5*time.Minute, 50*time.Millisecond, "it ends by itself")
	requireStopped(t, dir)
	s, err = Open(t.Context(), options)
	require.NoError(t, err)
	require.NotEqual(t, pid, pidOf(t, s))
	require.NoError(t, s.Close())
	require.Eventually(t, func() bool { return !s.kept() }, 5*time.Minute, 50*time.Millisecond, "the keeper too")
}

func TestBusyGate(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	gate, err := filelock.Open(filepath.Join(dir, "gate.lock"))
	require.NoError(t, err)
	defer gate.Close()
	require.NoError(t, gate.Exclusive(t.Context()))
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	_, err = Open(ctx, Options{Dir: dir, Test: true})
	require.ErrorIs(t, err, context.DeadlineExceeded)
	require.ErrorContains(t, err, "another stead")
}

// smallDisk is a folder on a disk of its own of which all but a few pages are taken.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	needRoot(t)
	dir := emptyDir(t)
	out, err := exec.Command("mount", "-t", "tmpfs", "-o", "mode=0755,size="+size, "none", dir).CombinedOutput()
	if err != nil {
		if os.Getenv("STEAD_CI") != "" {
			t.Fatalf("continuous integration may mount: %s", out)
		}
		t.Skipf("nothing can be mounted here: %s", out)
	}
	t.Cleanup(func() { exec.Command("umount", "-l", dir).Run() })
	return dir
}

func TestNoPrograms(t *testing.T) {
	t.Setenv("PG_BIN", t.TempDir())
	_, err := Open(t.Context(), Options{Dir: filepath.Join(emptyDir(t), "s")})
	var none *NoBinariesError
	require.ErrorAs(t, err, &none)
	require.ErrorContains(t, err, "PG_BIN")
	require.False(t, errors.As(err, new(*VersionError)))
}

func TestProgramsOfPGBin(t *testing.T) {
	found, err := findTools(t.Context(), "", 0)
	require.NoError(t, err)
	t.Setenv("PG_BIN", found.dir)
	t.Setenv("PATH", "")
	again, err := findTools(t.Context(), "", found.major)
	require.NoError(t, err)
	require.Equal(t, found, again)
}

func TestLookingForProgramsGivenUp(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := findTools(ctx, "", 0)
	require.ErrorIs(t, err, context.Canceled)
	_, err = Client(ctx, "pg_dump", minMajor)
	require.ErrorIs(t, err, context.Canceled, "it is not said to be missing")
}

// TestOldPrograms uses stand-ins that only tell their version: an old Postgres is not to be had everywhere.
func TestOldPrograms(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"initdb", "pg_ctl", "postgres"} {
		script := "#!/bin/sh\necho 'postgres (PostgreSQL) 13.9'\n"
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(script), 0o755))
	}
	t.Setenv("PG_BIN", dir)
	_, err := findTools(t.Context(), "", 0)
	var none *NoBinariesError
	require.ErrorAs(t, err, &none)
	require.Equal(t, 13, none.OldMajor)
	_, err = findTools(t.Context(), "data", 16)
	var version *VersionError
	require.ErrorAs(t, err, &version)
	require.Equal(t, []int{13}, version.Found)
	found, err := findTools(t.Context(), "data", 13)
	require.NoError(t, err, "old data is still served by its own version")
	require.Equal(t, 13, found.major)
}
