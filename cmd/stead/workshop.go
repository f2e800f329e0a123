package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"stead/inventory"
	"stead/migrations"
	"stead/migrations/privatepg"
)

// workshopDatabase is the database of the private server. The demo's stands beside it under a name of its own, so that
// it never touches the workshop's.
const (
	workshopDatabase = "stead"
	demoSuffix       = "_demo"
)

// workshop is an open database with the way to leave it.
type workshop struct {
	*pgxpool.Pool
	dsn   string
	leave func()
}

// openWorkshop opens the database that the command is to work on and brings it up to date.
func openWorkshop(cmd *cobra.Command) (*workshop, error) {
	dsn, leave, err := databaseAddress(cmd)
	if err != nil {
		return nil, err
	}
	return open(cmd.Context(), dsn, leave)
}

// databaseAddress is the address of the database that the command is to work on, with its server running, and the way to
// leave the server again.
func databaseAddress(cmd *cobra.Command) (dsn string, leave func(), err error) {
	name, _ := cmd.Flags().GetString("database")
	if name == "demo" {
		return demoAddress(cmd)
	}
	if name == "" {
		name = os.Getenv("DATABASE_URL")
	}
	if name == "" {
		return privateAddress(cmd, workshopDatabase)
	}
	return name, func() {}, nil
}

// demoAddress is the address of the demo's own database, on the server that the workshop's would be on.
func demoAddress(cmd *cobra.Command) (dsn string, leave func(), err error) {
	server, name, err := demoName(cmd)
	if err != nil {
		return "", nil, err
	}
	if server == "" {
		return privateAddress(cmd, name)
	}
	dsn, err = migrations.EnsureDatabase(cmd.Context(), server, name)
	return dsn, func() {}, err
}

// demoName is the address of the workshop's database, none for that of the private server, and the name of the demo's.
func demoName(cmd *cobra.Command) (workshop, name string, err error) {
	workshop, _ = cmd.Flags().GetString("database")
	if workshop == "" || workshop == "demo" {
		workshop = os.Getenv("DATABASE_URL")
	}
	if workshop == "" {
		return "", workshopDatabase + demoSuffix, nil
	}
	address, err := pgx.ParseConfig(workshop)
	if err != nil {
		return "", "", fmt.Errorf("read the database address: %w", err)
	}
	if address.Database == "" {
		return workshop, address.User + demoSuffix, nil
	}
	return workshop, address.Database + demoSuffix, nil
}

// emptyDemo is the demo's database with nothing in it.
func emptyDemo(cmd *cobra.Command) (dsn string, leave func(), err error) {
	_, name, err := demoName(cmd)
	if err != nil {
		return "", nil, err
	}
	if dsn, leave, err = demoAddress(cmd); err != nil {
		return "", nil, err
	}
	if err := migrations.Empty(cmd.Context(), dsn, name); err != nil {
		leave()
		return "", nil, err
	}
	return dsn, leave, nil
}

func privateAddress(cmd *cobra.Command, database string) (dsn string, leave func(), err error) {
	server, err := startPrivate(cmd)
	if err != nil {
		return "", nil, err
	}
	leave = func() {
		if err := server.Close(); err != nil {
			fmt.Fprintln(cmd.ErrOrStderr(), "stead:", err)
		}
	}
	if dsn, err = server.EnsureDatabase(cmd.Context(), database); err != nil {
		leave()
		return "", nil, err
	}
	return dsn, leave, nil
}

// startPrivate starts or joins the private server. Where no Postgres is installed and somebody sits at the terminal,
// it offers to install one.
func startPrivate(cmd *cobra.Command) (*privatepg.Server, error) {
	options := privatepg.Options{Notice: func(s string) { fmt.Fprintln(cmd.ErrOrStderr(), s) }}
	server, err := privatepg.Open(cmd.Context(), options)
	var none *privatepg.NoBinariesError
	if errors.As(err, &none) && term.IsTerminal(int(os.Stdin.Fd())) {
		switch err := privatepg.Install(cmd.Context(), cmd.InOrStdin(), cmd.ErrOrStderr()); {
		case errors.Is(err, privatepg.ErrNotInstalled):
			return nil, none // it says how
		case err != nil:
			return nil, err
		}
		return privatepg.Open(cmd.Context(), options)
	}
	return server, err
}

// open brings a database up to date and connects to it. It takes over the way to leave its server.
func open(ctx context.Context, dsn string, leave func()) (*workshop, error) {
	w := &workshop{dsn: dsn, leave: leave}
	err := migrations.Apply(ctx, dsn)
	if err == nil {
		w.Pool, err = migrations.Connect(ctx, dsn)
	}
	if err != nil {
		w.close()
		return nil, err
	}
	return w, nil
}

// close leaves the database. The last program out stops a private server.
func (w *workshop) close() {
	if w.Pool != nil {
		w.Pool.Close()
	}
	w.leave()
}

// inWorkshop makes a command's work from a function on the open database.
func inWorkshop(do func(cmd *cobra.Command, w *workshop, args []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		w, err := openWorkshop(cmd)
		if err != nil {
			return err
		}
		defer w.close()
		return do(cmd, w, args)
	}
}

// change does a user's change as one transaction under the request key that the user gave, or a new one.
func change[T any](cmd *cobra.Command, w *workshop, what string, do func(ctx context.Context, tx pgx.Tx, key string) (T, error)) (T, error) {
	key, _ := cmd.Flags().GetString("request")
	if key == "" {
		key = inventory.NewKey()
	}
	out, again, err := inventory.Once(cmd.Context(), w.Pool, key, what, func(ctx context.Context, tx pgx.Tx) (T, error) {
		return do(ctx, tx, key)
	})
	if again && err == nil {
		fmt.Fprintf(cmd.ErrOrStderr(), "request %q was carried out before: nothing was changed\n", key)
	}
	return out, err
}

// now is the moment at which the program runs; tests set STEAD_NOW so that dates on paper stand still.
func now() time.Time {
	if s := os.Getenv("STEAD_NOW"); s != "" {
		if t, err := time.Parse(time.RFC3339, s); err == nil {
			return t
		}
	}
	return time.Now()
}
