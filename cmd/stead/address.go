package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/migrations"
	"stead/migrations/privatepg"
)

// workshopDatabase is the database of the private server. The demo's stands beside it under a name of its own, so that
// it never touches the workshop's.
const (
	workshopDatabase = "stead"
	demoSuffix       = "_demo"
)

// lease is a database whose server runs for as long as a command wants it.
type lease struct {
	dsn    string
	leave  func()                      // gives its share in the server up again
	revive func(context.Context) error // starts the server again where it has died; nil where it is not ours to start
	demo   bool                        // the demo's, which may not be there
}

// foreign is a database whose server somebody else runs.
func foreign(dsn string) lease { return lease{dsn: dsn, leave: func() {}} }

// demoWord names the demo's database wherever an address may stand.
const demoWord = "demo"

// addressGiven is the address that the command was given, by its flag or by the environment; "" for none.
func addressGiven(cmd *cobra.Command) string {
	if name, _ := cmd.Flags().GetString("database"); name != "" {
		return name
	}
	return os.Getenv("DATABASE_URL")
}

// addressBy is what the address was given by; "" where none was.
func addressBy(root *cobra.Command) string {
	name, _ := root.PersistentFlags().GetString("database")
	inherited := os.Getenv("DATABASE_URL")
	switch {
	case name != "" && (name != demoWord || inherited == ""):
		return "--database"
	case inherited != "":
		return "DATABASE_URL"
	}
	return ""
}

// byWhichAddress says in a sentence about the address what it was given by, where that is known.
func byWhichAddress(sentence, by string) string {
	if by == "" {
		return sentence
	}
	return strings.Replace(sentence, migrations.Address, by, 1)
}

// databaseAddress is the database that the command is to work on, with its server running. The demo's is found by findDemo.
func databaseAddress(cmd *cobra.Command, findDemo inServer) (lease, error) {
	name := addressGiven(cmd)
	if name == demoWord {
		database, err := demoAddress(cmd, findDemo)
		database.demo = true
		return database, err
	}
	if name == "" {
		return privateAddress(cmd, workshopDatabase, false, migrations.EnsureDatabase)
	}
	return foreign(name), nil
}

// inServer finds a database on a server by its name, or makes it.
type inServer func(ctx context.Context, server, name string) (dsn string, err error)

// demoAddress is the demo's own database, on the server that the workshop's would be on.
func demoAddress(cmd *cobra.Command, find inServer) (lease, error) {
	server, name, err := demoName(cmd)
	if err != nil {
		return lease{}, err
	}
	if server == "" {
		return privateAddress(cmd, name, true, find)
	}
	dsn, err := find(cmd.Context(), server, name)
	return foreign(dsn), err
}

// demoName is the address of the workshop's database, none for that of the private server, and the name of the demo's.
func demoName(cmd *cobra.Command) (workshop, name string, err error) {
	workshop = addressGiven(cmd)
	if workshop == demoWord {
		workshop = os.Getenv("DATABASE_URL")
	}
	if workshop == "" || workshop == demoWord {
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
func emptyDemo(cmd *cobra.Command) (lease, error) {
	server, name, err := demoName(cmd)
	if err != nil {
		return lease{}, err
	}
	database, err := demoAddress(cmd, migrations.EnsureDatabase)
	if err != nil {
		return lease{}, err
	}
	if err := migrations.EmptyDemo(cmd.Context(), database.dsn, name, server == ""); err != nil {
		database.leave()
		return lease{}, err
	}
	return database, nil
}

func privateAddress(cmd *cobra.Command, database string, demo bool, find inServer) (lease, error) {
	server, err := startPrivate(cmd, demo)
	var none *privatepg.NoBinariesError
	if demo && errors.As(err, &none) && none.PGBin == "" {
		return containerAddress(cmd, database, none, find)
	}
	if err != nil {
		return lease{}, err
	}
	leave := func() {
		if err := server.Close(); err != nil {
			fmt.Fprintln(cmd.ErrOrStderr(), "stead:", err)
		}
	}
	dsn, err := find(cmd.Context(), server.DSN("postgres"), database)
	if err != nil {
		leave()
		return lease{}, err
	}
	return lease{dsn: dsn, leave: leave, revive: server.Revive}, nil
}

// containerAddress is the demo's database in a container, where the machine has nothing better.
func containerAddress(cmd *cobra.Command, database string, none error, find inServer) (lease, error) {
	server, err := privatepg.OpenContainer(cmd.Context(), func(s string) { fmt.Fprintln(cmd.ErrOrStderr(), s) })
	if errors.Is(err, privatepg.ErrNoEngine) {
		return lease{}, none // it says how
	}
	if err != nil {
		return lease{}, fmt.Errorf("%w; and the demo cannot run in a container: %w", none, err)
	}
	dsn, err := find(cmd.Context(), server, database)
	return foreign(dsn), err
}

// linger is how long the private server stays after the last command: a person gives several, minutes apart.
const linger = 3 * time.Minute

// keeper is the process that ends the private server then; see newDBKeep.
func keeper(dir string) *exec.Cmd {
	program, err := os.Executable()
	if err != nil {
		program = os.Args[0]
	}
	return exec.Command(program, "db", "keep", dir)
}

// newDBKeep is no command for a person: the program starts itself with it.
func newDBKeep() *cobra.Command {
	return &cobra.Command{Use: "keep DIRECTORY", Hidden: true, Args: exactly("DIRECTORY"),
		Short: "End the private server when nobody has used it for a while",
		RunE:  func(cmd *cobra.Command, args []string) error { return privatepg.Keep(cmd.Context(), args[0], linger) }}
}

// startPrivate starts or joins the private server. Where no Postgres is installed, it is after a yes: one given beforehand
// with --yes, or at the terminal. The demo rather runs in a container than ask.
func startPrivate(cmd *cobra.Command, demo bool) (*privatepg.Server, error) {
	options := privatepg.Options{
		Linger: linger, Keeper: keeper,
		Notice: func(s string) { fmt.Fprintln(cmd.ErrOrStderr(), s) },
	}
	server, err := privatepg.Open(cmd.Context(), options)
	var none *privatepg.NoBinariesError
	if !errors.As(err, &none) || none.PGBin != "" {
		return server, err
	}
	agreed, _ := cmd.Flags().GetBool("yes") // false where there is no such flag
	if demo && !agreed && privatepg.EngineAnswers(cmd.Context()) {
		return nil, none
	}
	switch err := privatepg.Install(cmd.Context(), os.Stdin, os.Stderr, agreed); {
	case errors.Is(err, privatepg.ErrNotInstalled):
		return nil, none // it says how
	case err != nil:
		return nil, err
	}
	return privatepg.Open(cmd.Context(), options)
}
