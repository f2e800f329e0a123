package testdb

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"stead/migrations/privatepg"
)

// server is where a run's databases are.
type server struct {
	dsn   string // a URL; of a database that is always there, in which databases are made and dropped
	close func() error
}

// openServer chooses the server; the package comment says how.
func openServer(ctx context.Context) (*server, error) {
	if dsn := os.Getenv("STEAD_TEST_DATABASE_URL"); dsn != "" {
		if _, err := withParameter(dsn, "", ""); err != nil {
			return nil, fmt.Errorf("STEAD_TEST_DATABASE_URL: %w", err)
		}
		return &server{dsn: dsn, close: func() error { return nil }}, nil
	}
	switch choice := os.Getenv("STEAD_TEST_DATABASE"); choice {
	case "container":
		return openContainer(ctx)
	case "":
	default:
		return nil, fmt.Errorf("STEAD_TEST_DATABASE is %q: the only choice it knows is container", choice)
	}
	private, err := openPrivate(ctx)
	var none *privatepg.NoBinariesError
	var unsupported *privatepg.UnsupportedError
	if errors.As(err, &none) || errors.As(err, &unsupported) {
		if privatepg.EngineAnswers(ctx) {
			return openContainer(ctx)
		}
		return nil, fmt.Errorf("these tests need a PostgreSQL: %w; for the tests the name is STEAD_TEST_DATABASE_URL, and a running container engine will do too", err)
	}
	return private, err
}

func openPrivate(ctx context.Context) (*server, error) {
	dir := filepath.Join(privatepg.ThrowawayDir(), "stead-test-"+strconv.Itoa(os.Geteuid()))
	s, err := privatepg.Open(ctx, privatepg.Options{Dir: dir, Test: true})
	if err != nil {
		return nil, err
	}
	return &server{dsn: s.DSN("postgres"), close: s.Close}, nil
}
