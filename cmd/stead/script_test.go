package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/terminal"
	"stead/migrations/testdb"
)

// TestMain keeps what the program remembers out of the data folder of whoever runs the tests.
func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "stead")
	if err != nil {
		panic(err)
	}
	os.Setenv("STEAD_DATA", dir)
	code := testdb.Run(m)
	os.RemoveAll(dir)
	os.Exit(code)
}

// build makes the program in a folder and returns the folder. The scripts call it hundreds of times, and the test
// binary, which could stand in for it, takes three times as long to start.
func build(t *testing.T) string {
	dir := t.TempDir()
	out, err := exec.Command("go", "build", "-o", dir, ".").CombinedOutput()
	require.NoError(t, err, "%s", out)
	return dir
}

// TestScripts runs the whole program as text. Each script has an empty database of its own, DATABASE_URL, the project's
// testdata at TESTDATA, and stands on Wednesday 2 December 2026. Its commands, besides testscript's own:
//
//	done ARG…      runs stead, which must be content (exit code 0)
//	refused ARG…   the same, refused by the rules or by the state of things (1)
//	misused ARG…   the same, not understood (2)
//	readonly       makes the database read-only; readwrite undoes it
//	sql TEXT       does something to the database that no command does
//
// All of them check that whatever is set for a person keeps to the terminal's width, and that a command that fails says
// one sentence and prints no result.
func TestScripts(t *testing.T) {
	dir := build(t)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		ContinueOnError:     true,
		Setup: func(env *testscript.Env) error {
			db := testdb.New(env.T().(testing.TB))
			db.Reset() // the scripts are to be alone in it
			env.Values["address"] = db.Config().ConnConfig
			env.Setenv("DATABASE_URL", db.Config().ConnString())
			env.Setenv("PATH", dir+string(os.PathListSeparator)+env.Getenv("PATH"))
			env.Setenv("STEAD_DATA", filepath.Join(env.WorkDir, "data"))
			env.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
			env.Setenv("TZ", "Europe/London")
			lists, err := filepath.Abs("../../testdata")
			env.Setenv("TESTDATA", lists)
			return err
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"done":      exits(0),
			"refused":   exits(1),
			"misused":   exits(2),
			"sql":       sql,
			"readonly":  readOnly(true),
			"readwrite": readOnly(false),
		},
	})
}

// exits runs the program and checks the exit code and the manners.
func exits(code int) func(*testscript.TestScript, bool, []string) {
	return func(ts *testscript.TestScript, neg bool, args []string) {
		if neg {
			ts.Fatalf("say done, refused or misused in place of !")
		}
		got := 0
		if err := ts.Exec("stead", args...); err != nil {
			var exit *exec.ExitError
			if !errors.As(err, &exit) {
				ts.Fatalf("%v", err)
			}
			got = exit.ExitCode()
		}
		out, errs := ts.ReadFile("stdout"), ts.ReadFile("stderr")
		if got != code {
			ts.Fatalf("exit code %d, not %d", got, code)
		}
		if wide := tooWide(args, out); wide != "" {
			ts.Fatalf("wider than %d columns: %s", terminal.Width, wide)
		}
		if code == 0 {
			return
		}
		if out != "" {
			ts.Fatalf("a command that failed has printed a result")
		}
		if sentence, one := strings.CutPrefix(errs, "stead: "); !one || strings.Count(sentence, "\n") != 1 {
			ts.Fatalf("not one sentence after the program's name: %q", errs)
		}
	}
}

// tooWide is the first line that a terminal would break, in what is not meant for a program.
func tooWide(args []string, out string) string {
	for _, a := range args {
		if a == "--json" || a == "completion" {
			return ""
		}
	}
	for line := range strings.Lines(out) {
		if len([]rune(strings.TrimSuffix(line, "\n"))) > terminal.Width {
			return line
		}
	}
	return ""
}

// sql does something to the database on a connection that it leaves again.
func sql(ts *testscript.TestScript, neg bool, args []string) {
	ctx := context.Background()
	address := ts.Value("address").(*pgx.ConnConfig).Copy()
	address.RuntimeParams["default_transaction_read_only"] = "off" // whatever the database's own default
	conn, err := pgx.ConnectConfig(ctx, address)
	ts.Check(err)
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, strings.Join(args, " "))
	ts.Check(err)
}

// readOnly is what a database is after its main server was lost and a standby answers.
func readOnly(on bool) func(*testscript.TestScript, bool, []string) {
	return func(ts *testscript.TestScript, neg bool, args []string) {
		address := ts.Value("address").(*pgx.ConnConfig)
		sql(ts, neg, []string{"ALTER DATABASE", pgx.Identifier{address.Database}.Sanitize(),
			"SET default_transaction_read_only =", fmt.Sprint(on)})
	}
}
