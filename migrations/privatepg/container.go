package privatepg

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
)

// ErrNoEngine is what OpenContainer returns when no container engine answers on this machine.
var ErrNoEngine = errors.New("no container engine answers")

// containerName is the same each time, so that later commands find the container, and who looks through their containers
// sees whose it is.
const containerName = "stead-demo"

// engineTime bounds one question to the container engine; readyTime the first start of a server in it, with the image
// fetched before.
const (
	engineTime = 20 * time.Second
	readyTime  = 2 * time.Minute
)

// OpenContainer gives the address of a Postgres in a container, for data of no worth: where the machine has no Postgres
// programs but a container engine that answers. The container is made the first time, from the image that
// STEAD_POSTGRES_IMAGE names (postgres:17), answers on this machine only, and stays until somebody removes it.
func OpenContainer(ctx context.Context, notice func(string)) (dsn string, err error) {
	engine, err := findEngine(ctx)
	if err != nil {
		return "", err
	}
	made, err := engine.ask(ctx, engineTime, "ps", "-a", "--filter", "name=^"+containerName+"$", "--format", "{{.State}}")
	if err != nil {
		return "", err
	}
	switch state := strings.ToLower(made); {
	case state == "":
		image := os.Getenv("STEAD_POSTGRES_IMAGE")
		if image == "" {
			image = "postgres:17"
		}
		if notice != nil {
			notice(fmt.Sprintf("This machine has no PostgreSQL, so the demo's runs in a container of %s (`%s rm -f -v %s` ends it).", image, engine, containerName))
		}
		if _, err := engine.ask(ctx, 10*time.Minute, "run", "-d", "--name", containerName, "-p", "127.0.0.1::5432",
			"-e", "POSTGRES_USER="+superuser, "-e", "POSTGRES_DB="+superuser, "-e", "POSTGRES_PASSWORD="+rand.Text(), image); err != nil {
			return "", err
		}
	case !strings.HasPrefix(state, "running") && !strings.HasPrefix(state, "up"):
		if _, err := engine.ask(ctx, engineTime, "start", containerName); err != nil {
			return "", err
		}
	}
	if dsn, err = engine.address(ctx); err != nil {
		return "", err
	}
	return dsn, waitAnswer(ctx, dsn)
}

// EngineAnswers tells whether there is a container engine for OpenContainer.
func EngineAnswers(ctx context.Context) bool {
	_, err := findEngine(ctx)
	return err == nil
}

// engine is the program that speaks with a container engine.
type engine string

func findEngine(ctx context.Context) (engine, error) {
	for _, name := range []string{"docker", "podman"} {
		if _, err := exec.LookPath(name); err != nil {
			continue
		}
		if _, err := engine(name).ask(ctx, engineTime, "info"); err == nil {
			return engine(name), nil
		}
	}
	return "", ErrNoEngine
}

// ask runs one command of the engine and gives what it answers.
func (e engine) ask(ctx context.Context, limit time.Duration, args ...string) (string, error) {
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	cmd := exec.CommandContext(ctx, string(e), args...)
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		complaint := strings.Split(strings.TrimSpace(said.String()), "\n")
		return "", fmt.Errorf("%s %s: %w: %s", e, args[0], err, complaint[len(complaint)-1])
	}
	return strings.TrimSpace(string(out)), nil
}

// address asks the engine where the container answers and with which password it was made.
func (e engine) address(ctx context.Context) (string, error) {
	where, err := e.ask(ctx, engineTime, "port", containerName, "5432/tcp")
	if err != nil {
		return "", err
	}
	where, _, _ = strings.Cut(where, "\n") // one line for each kind of address
	settings, err := e.ask(ctx, engineTime, "inspect", "-f", "{{range .Config.Env}}{{println .}}{{end}}", containerName)
	if err != nil {
		return "", err
	}
	for line := range strings.Lines(settings) {
		if password, ok := strings.CutPrefix(strings.TrimSpace(line), "POSTGRES_PASSWORD="); ok {
			u := url.URL{Scheme: "postgres", User: url.UserPassword(superuser, password), Host: where, Path: "/" + superuser, RawQuery: "sslmode=disable"}
			return u.String(), nil
		}
	}
	return "", fmt.Errorf("the container %s is not the demo's: remove or rename it", containerName)
}

func waitAnswer(ctx context.Context, dsn string) error {
	ctx, cancel := context.WithTimeout(ctx, readyTime)
	defer cancel()
	for {
		conn, err := pgx.Connect(ctx, dsn)
		if err == nil {
			return conn.Close(ctx)
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("the database in the container %s does not answer: %w", containerName, err)
		case <-time.After(200 * time.Millisecond):
		}
	}
}
