package testdb

import (
	"context"
	"fmt"
	"os"

	"github.com/testcontainers/testcontainers-go"
	"github.com/testcontainers/testcontainers-go/modules/postgres"
	"github.com/testcontainers/testcontainers-go/wait"
)

// defaultImage is the newest release that the workshop's compose file runs too.
const defaultImage = "postgres:17"

// engineAnswers asks the container engine itself: a client alone on the machine says nothing.
func engineAnswers(ctx context.Context) bool {
	provider, err := testcontainers.NewDockerProvider()
	if err != nil {
		return false
	}
	defer provider.Close()
	return provider.Health(ctx) == nil
}

// openContainer starts a server in a container, ended by close; should this program be killed, the engine's reaper
// ends it.
func openContainer(ctx context.Context) (*server, error) {
	image := os.Getenv("STEAD_TEST_POSTGRES_IMAGE")
	if image == "" {
		image = defaultImage
	}
	container, err := postgres.Run(ctx, image,
		postgres.WithDatabase("stead"), postgres.WithUsername("stead"), postgres.WithPassword("stead"),
		testcontainers.WithWaitStrategyAndDeadline(slow,
			// The image starts its server twice, the first time only to make the database.
			wait.ForLog("database system is ready to accept connections").WithOccurrence(2).WithStartupTimeout(slow),
			wait.ForListeningPort("5432/tcp").WithStartupTimeout(slow)))
	if err != nil {
		// A container may exist even so, started but never ready.
		if endErr := testcontainers.TerminateContainer(container); endErr != nil {
			err = fmt.Errorf("%w (and its container was left behind: %v)", err, endErr)
		}
		return nil, fmt.Errorf("start the test server in a container of %s (STEAD_TEST_POSTGRES_IMAGE names another image, STEAD_TEST_DATABASE_URL a server that runs already): %w", image, err)
	}
	end := func() error { return testcontainers.TerminateContainer(container) }
	dsn, err := container.ConnectionString(ctx, "sslmode=disable")
	if err != nil {
		return nil, fmt.Errorf("find the test server in its container: %w", err)
	}
	return &server{dsn: dsn, close: end}, nil
}
