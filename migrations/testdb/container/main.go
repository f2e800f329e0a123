//go:build container

package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/testcontainers/testcontainers-go"
	"github.com/testcontainers/testcontainers-go/modules/postgres"
	"github.com/testcontainers/testcontainers-go/wait"
)

// slow bounds the way to an answer, with the image fetched before.
const slow = 2 * time.Minute

func main() {
	// From a terminal an interrupt comes to all: the tests end by it, and with them the input. When they are killed nobody
	// reads any more what the engine's client says meanwhile.
	signal.Ignore(os.Interrupt, syscall.SIGPIPE)
	if err := serve(context.Background(), os.Args[1], os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// serve starts a server of an image, prints its address as a line, and ends it with the input.
func serve(ctx context.Context, image string, in io.Reader, out io.Writer) error {
	container, err := postgres.Run(ctx, image,
		postgres.WithDatabase("stead"), postgres.WithUsername("stead"), postgres.WithPassword("stead"),
		testcontainers.WithWaitStrategyAndDeadline(slow,
			// The image starts its server twice, the first time only to make the database.
			wait.ForLog("database system is ready to accept connections").WithOccurrence(2).WithStartupTimeout(slow),
			wait.ForListeningPort("5432/tcp").WithStartupTimeout(slow)))
	if err == nil {
		var dsn string
		if dsn, err = container.ConnectionString(ctx, "sslmode=disable"); err == nil {
			fmt.Fprintln(out, dsn)
			_, err = io.Copy(io.Discard, in)
		}
	}
	// A container may exist even after an error, started but never ready.
	if endErr := testcontainers.TerminateContainer(container); endErr != nil {
		return fmt.Errorf("a container was left behind: %w (%v)", endErr, err)
	}
	return err
}
