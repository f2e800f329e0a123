//go:build container

package main

import (
	"bufio"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

// The server answers as long as the input is open, and no longer.
func TestServerEndsWithItsInput(t *testing.T) {
	image := os.Getenv("STEAD_TEST_POSTGRES_IMAGE")
	require.NotEmpty(t, image, "STEAD_TEST_POSTGRES_IMAGE names an image of PostgreSQL")
	in, hold := io.Pipe()
	read, out := io.Pipe()
	ended := make(chan error, 1)
	go func() {
		ended <- serve(t.Context(), image, in, out)
		out.Close()
	}()
	dsn, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		require.NoError(t, <-ended)
	}
	conn, err := pgx.Connect(t.Context(), strings.TrimSpace(dsn))
	require.NoError(t, err)
	require.NoError(t, conn.Close(t.Context()))
	require.NoError(t, hold.Close())
	require.NoError(t, <-ended)
	_, err = pgx.Connect(t.Context(), strings.TrimSpace(dsn))
	require.Error(t, err)
}

func TestNoSuchImage(t *testing.T) {
	require.Error(t, serve(t.Context(), "127.0.0.1:1/none:none", strings.NewReader(""), io.Discard))
}
