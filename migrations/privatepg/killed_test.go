//go:build unix

package privatepg

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

func TestLingeringServerOfAKilledProgram(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	p := startProcess(t, dir, nil, lingerEnv+"=1")
	p.waitOpen(t)
	p.kill(t)
	require.Eventually(t, func() bool {
		_, err := os.Stat(filepath.Join(dir, "data", "postmaster.pid"))
		return errors.Is(err, os.ErrNotExist)
	}, 5*time.Minute, 50*time.Millisecond)
}

func TestKeeperKilled(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	var keeper *exec.Cmd
	options := Options{Dir: dir, Test: true, Linger: testLinger, Keeper: func(dir string) *exec.Cmd {
		keeper = testKeeper(dir)
		return keeper
	}}
	s, err := Open(t.Context(), options)
	require.NoError(t, err)
	require.NoError(t, keeper.Process.Kill())
	require.Eventually(t, func() bool { return !s.kept() }, 5*time.Minute, 10*time.Millisecond)
	require.NoError(t, s.Close())
	requireStopped(t, dir)
}

func TestProgramKilled(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	p := startProcess(t, dir, nil)
	p.waitOpen(t)
	p.kill(t)
	require.FileExists(t, filepath.Join(dir, "data", "postmaster.pid"), "the server outlives a killed program")
	s := open(t, dir)
	require.NoError(t, s.Close())
	requireStopped(t, dir)
}

func TestServerKilled(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	s := open(t, dir)
	conn, err := pgx.Connect(t.Context(), s.DSN("postgres"))
	require.NoError(t, err)
	// A process of the server's in the middle of something keeps the old memory for a moment.
	busy := make(chan error, 1)
	go func() {
		_, err := conn.Exec(context.WithoutCancel(t.Context()), `SELECT count(*) FROM generate_series(1, 8000000)`)
		busy <- err
	}()
	time.Sleep(20 * time.Millisecond)
	killed := pidOf(t, s)
	require.NoError(t, syscall.Kill(killed, syscall.SIGKILL))

	other := open(t, dir)
	require.NotEqual(t, killed, pidOf(t, other))
	<-busy
	require.NoError(t, s.Revive(t.Context()))
	require.Equal(t, pidOf(t, other), pidOf(t, s), "the first program finds the new server")

	require.NoError(t, syscall.Kill(pidOf(t, s), syscall.SIGKILL))
	require.NoError(t, s.Revive(t.Context()))
	require.NoError(t, s.Close())
	require.NoError(t, other.Close())
	requireStopped(t, dir)
}

// TestServerStandsStill has a server that neither answers nor ends: the sentence names its process, and the data is left
// to it.
func TestServerStandsStill(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	s := open(t, dir)
	stands := pidOf(t, s)
	require.NoError(t, syscall.Kill(stands, syscall.SIGSTOP))
	t.Cleanup(func() { _ = syscall.Kill(stands, syscall.SIGCONT) }) // where the test has failed before it
	err := s.startWithin(t.Context(), 0)
	var held *HeldError
	require.ErrorAs(t, err, &held)
	require.Equal(t, strconv.Itoa(stands), held.Process)
	require.ErrorContains(t, err, "the database in "+dir+" does not answer")
	require.NoError(t, syscall.Kill(stands, syscall.SIGCONT))
	require.NoError(t, s.Revive(t.Context()))
	require.Equal(t, stands, pidOf(t, s))
	require.NoError(t, s.Close())
	requireStopped(t, dir)
}

func TestProgramAndServerKilled(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	p := startProcess(t, dir, nil)
	p.waitOpen(t)
	text, err := os.ReadFile(filepath.Join(dir, "data", "postmaster.pid"))
	require.NoError(t, err)
	line, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(line)
	require.NoError(t, err)
	p.kill(t)
	require.NoError(t, syscall.Kill(pid, syscall.SIGKILL))

	s := open(t, dir)
	require.NotEqual(t, pid, pidOf(t, s))
	require.NoError(t, s.Close())
	requireStopped(t, dir)
}

func TestClosingAfterTheServerDied(t *testing.T) {
	t.Parallel()
	s := open(t, readyDir(t))
	require.NoError(t, syscall.Kill(pidOf(t, s), syscall.SIGKILL))
	require.NoError(t, s.Close())
}
