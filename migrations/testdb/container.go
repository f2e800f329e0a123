package testdb

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"

	"stead/migrations/privatepg"
)

// defaultImage is the newest release that the workshop's compose file runs too.
const defaultImage = "postgres:17"

// openContainer has a program of its own start a server in a container, which ends with close, or with this program: the
// one that holds it, by its input, is this.
func openContainer(ctx context.Context) (*server, error) {
	image := os.Getenv("STEAD_TEST_POSTGRES_IMAGE")
	if image == "" {
		image = defaultImage
	}
	failed := func(err error) error {
		return fmt.Errorf("start the test server in a container of %s (STEAD_TEST_POSTGRES_IMAGE names another image, STEAD_TEST_DATABASE_URL a server that runs already): %w", image, err)
	}
	if !privatepg.EngineAnswers(ctx) {
		return nil, failed(privatepg.ErrNoEngine)
	}
	cmd := exec.Command("go", "run", "-tags", "container", "stead/migrations/testdb/container", image)
	var said strings.Builder
	cmd.Stderr = &said
	hold, err := cmd.StdinPipe()
	if err != nil {
		return nil, failed(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, failed(err)
	}
	if err := cmd.Start(); err != nil {
		return nil, failed(err)
	}
	end := func() error {
		if err := errors.Join(hold.Close(), cmd.Wait()); err != nil {
			return fmt.Errorf("%w: %s", err, strings.TrimSpace(said.String()))
		}
		return nil
	}
	dsn, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		return nil, failed(errors.Join(end(), err))
	}
	return &server{dsn: strings.TrimSpace(dsn), close: end}, nil
}
