package testdb

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

// sameServer is the server of this program's own run, for another run that must not close it.
func sameServer(t *testing.T) *server {
	t.Helper()
	return &server{dsn: theRun(t).server.dsn, close: func() error { return nil }}
}

func exists(t *testing.T, conn *pgx.Conn, database string) bool {
	t.Helper()
	var yes bool
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, database).Scan(&yes))
	return yes
}

// TestLeftoversAreSwept plays a killed program, whose lock the server has freed, and one that lives, both of another
// version of the migrations than ours.
func TestLeftoversAreSwept(t *testing.T) {
	dsn := theRun(t).server.dsn
	living, err := pgx.Connect(t.Context(), dsn)
	require.NoError(t, err)
	defer living.Close(context.WithoutCancel(t.Context()))
	const deadHash, livingHash, run = 0xdeadbeef, 0x7eadbeef, 0xfeedf00d
	_, err = living.Exec(t.Context(), `SELECT pg_advisory_lock($1, $2)`, int32(livingHash), asInt32(run))
	require.NoError(t, err)

	var dead, alive []string
	for _, ending := range []string{"", fmt.Sprintf("_%08x_1", run)} {
		dead = append(dead, fmt.Sprintf("%s%08x%s", prefix, deadHash, ending))
		alive = append(alive, fmt.Sprintf("%s%08x%s", prefix, livingHash, ending))
	}
	for _, name := range append(dead, alive...) {
		_, err := living.Exec(t.Context(), `CREATE DATABASE `+name)
		require.NoError(t, err)
	}
	another, err := startRun(t.Context(), sameServer(t))
	require.NoError(t, err)
	defer func() { require.NoError(t, another.close(context.WithoutCancel(t.Context()))) }()
	for _, name := range dead {
		require.False(t, exists(t, living, name), name)
	}
	for _, name := range alive {
		require.True(t, exists(t, living, name), name)
		_, err := living.Exec(t.Context(), `DROP DATABASE `+name)
		require.NoError(t, err)
	}
}

// asInt32 keeps the bits: advisory locks are numbered with signed integers.
func asInt32(n uint32) int32 { return int32(n) }

func TestTwoRunsAtOnce(t *testing.T) {
	t.Parallel()
	server := sameServer(t)
	results := make(chan error)
	for range 2 {
		go func() {
			r, err := startRun(t.Context(), server)
			if err == nil {
				_, err = r.clone(t.Context())
			}
			if err == nil {
				err = r.close(t.Context())
			}
			results <- err
		}()
	}
	require.NoError(t, <-results)
	require.NoError(t, <-results)
}

// TestNoServer runs a test of this package where there is none to be had: it must fail and name the way out.
func TestNoServer(t *testing.T) {
	t.Parallel()
	// Elsewhere than the server that is running now, which it would join.
	elsewhere, err := os.MkdirTemp("", "testdb")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(elsewhere) })
	require.NoError(t, os.Chmod(elsewhere, 0o755))
	nothing := "PATH=" + elsewhere // no Postgres programs, no container engine
	for name, c := range map[string]struct {
		env  []string
		want string
	}{
		"no programs":              {[]string{"TMPDIR=" + elsewhere, "PG_BIN=" + t.TempDir(), nothing, "STEAD_TEST_DATABASE=", "STEAD_TEST_DATABASE_URL="}, "STEAD_TEST_DATABASE_URL"},
		"a container asked for":    {[]string{nothing, "STEAD_TEST_DATABASE=container", "STEAD_TEST_DATABASE_URL="}, "STEAD_TEST_DATABASE_URL"},
		"a choice of no meaning":   {[]string{"STEAD_TEST_DATABASE=bottle", "STEAD_TEST_DATABASE_URL="}, `is "bottle"`},
		"an address of no meaning": {[]string{"STEAD_TEST_DATABASE_URL=localhost"}, "must have the form postgres://"},
		"a server that is down":    {[]string{"STEAD_TEST_DATABASE_URL=postgres://u@127.0.0.1:1/d"}, "connect to the test server"},
	} {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command(os.Args[0], "-test.run=^TestNewHasTheSchema$")
			cmd.Env = append(os.Environ(), c.env...)
			out, err := cmd.CombinedOutput()
			require.Error(t, err, "%s", out)
			require.Contains(t, string(out), c.want)
		})
	}
}
