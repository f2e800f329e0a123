//go:build unix

package main

import (
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/migrations"
	"stead/migrations/privatepg"
)

// TestServeOutlivesItsServer kills the private Postgres under the pages: the next page is answered, from a server that was
// started again on the same data.
func TestServeOutlivesItsServer(t *testing.T) {
	outside, err := os.MkdirTemp(privatepg.ThrowawayDir(), "revived")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(outside) })
	require.NoError(t, os.Chmod(outside, 0o755)) // root's server runs as somebody else
	dir := filepath.Join(outside, "stead")
	server, err := privatepg.Open(t.Context(), privatepg.Options{Dir: dir, Test: true})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, server.Close()) }) // the last one out stops it

	cmd := exec.Command(filepath.Join(build(t), "stead"), "serve", "--listen", "127.0.0.1:0")
	cmd.Env = append(os.Environ(), "DATABASE_URL=", "STEAD_DATA="+dir)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		_ = cmd.Process.Signal(syscall.SIGINT) // it leaves its server in good order
		_ = cmd.Wait()
	})
	at := addressSaid(t, out)

	first := postmaster(dir)
	require.NotZero(t, first)
	require.Equal(t, http.StatusNotFound, page(t, at))
	require.NoError(t, syscall.Kill(first, syscall.SIGKILL))
	// A page of the instant in which the server dies may say sorry; by the next one it runs again.
	require.Eventually(t, func() bool {
		return page(t, at) == http.StatusNotFound && postmaster(dir) != first
	}, time.Minute, 10*time.Millisecond)
}

// A server that somebody else runs is theirs to start.
func TestNobodyElsesServerIsRevived(t *testing.T) {
	t.Setenv("DATABASE_URL", "postgres://bench@127.0.0.1:1/workshop")
	database, err := databaseAddress(newServe(), migrations.DemoAddress)
	require.NoError(t, err)
	require.Equal(t, os.Getenv("DATABASE_URL"), database.dsn)
	require.Nil(t, database.revive)
}

// page asks for a page for which the database is asked: nobody was ever sent such a link.
func page(t *testing.T, at string) (status int) {
	r, err := http.Get(at + "/q/AAAAAAAAAAAAAAAAAAAAAAAAAA/photos/1")
	require.NoError(t, err)
	defer r.Body.Close()
	return r.StatusCode
}

// postmaster is the process of the server in a directory; 0 while there is none.
func postmaster(dir string) int {
	text, err := os.ReadFile(filepath.Join(dir, "data", "postmaster.pid"))
	if err != nil {
		return 0
	}
	number, _, _ := strings.Cut(string(text), "\n")
	pid, _ := strconv.Atoi(number) // a file half written is a server on its way
	return pid
}
