//go:build unix

package privatepg

import (
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

// TestContainer has a stand-in for the engine's program, which answers as the real one does and keeps what it was asked;
// the server behind it is real. The real engine is tried where there is one: `.ci/run`.
func TestContainer(t *testing.T) {
	s := open(t, readyDir(t))
	defer s.Close()
	_, err := s.EnsureDatabase(t.Context(), superuser)
	require.NoError(t, err)
	dir := t.TempDir()
	t.Setenv("PATH", dir+":/usr/bin:/bin")
	asked := filepath.Join(dir, "asked")
	script := fmt.Sprintf(`#!/bin/sh
echo "$@" >>%[1]s/asked
case $1 in
info) test -e %[1]s/down && exit 1 ;;
ps) cat %[1]s/state 2>/dev/null ;;
run) echo running >%[1]s/state ;;
start) echo running >%[1]s/state ;;
port) echo "$STEAD_TEST_WHERE" ;;
inspect) printf 'PATH=/bin\nPOSTGRES_PASSWORD=s3cret\n' ;;
esac
exit 0
`, dir)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "docker"), []byte(script), 0o755))
	require.NoError(t, os.Symlink("docker", filepath.Join(dir, "podman")))
	t.Setenv("STEAD_TEST_WHERE", "127.0.0.1:1")
	saw := func() string {
		text, err := os.ReadFile(asked)
		require.NoError(t, err)
		require.NoError(t, os.Remove(asked))
		return string(text)
	}
	e, err := findEngine(t.Context())
	require.NoError(t, err)
	require.Equal(t, engine("docker"), e)
	dsn, err := e.address(t.Context())
	require.NoError(t, err)
	u, err := url.Parse(dsn)
	require.NoError(t, err)
	require.Equal(t, "127.0.0.1:1", u.Host)
	password, _ := u.User.Password()
	require.Equal(t, "s3cret", password)
	saw()

	// The stand-in's address is a socket's folder, which no engine gives, so that a real server answers.
	t.Setenv("STEAD_TEST_WHERE", "")
	t.Setenv("PGHOST", s.socket)
	var said []string
	dsn, err = OpenContainer(t.Context(), func(s string) { said = append(said, s) })
	require.NoError(t, err)
	require.Len(t, said, 1)
	require.Contains(t, said[0], "`docker rm -f -v stead-demo` ends it")
	require.Contains(t, saw(), "run -d --name stead-demo -p 127.0.0.1::5432")
	conn, err := pgx.Connect(t.Context(), dsn)
	require.NoError(t, err)
	require.NoError(t, conn.Close(t.Context()))

	_, err = OpenContainer(t.Context(), func(s string) { said = append(said, s) })
	require.NoError(t, err)
	require.Len(t, said, 1, "it is there already")
	require.NotContains(t, saw(), "run ")

	require.NoError(t, os.WriteFile(filepath.Join(dir, "state"), []byte("exited\n"), 0o600))
	_, err = OpenContainer(t.Context(), nil)
	require.NoError(t, err)
	require.Contains(t, saw(), "start stead-demo")

	require.NoError(t, os.WriteFile(filepath.Join(dir, "down"), nil, 0o600))
	_, err = OpenContainer(t.Context(), nil)
	require.ErrorIs(t, err, ErrNoEngine)
	require.Equal(t, 2, strings.Count(saw(), "info"), "both programs are tried")
}
