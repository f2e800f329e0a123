package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

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
	program = sync.OnceValues(func() (string, error) {
		at := filepath.Join(dir, "program")
		out, err := exec.Command("go", "build", "-o", filepath.Join(at, "stead"), ".").CombinedOutput()
		if err != nil {
			err = fmt.Errorf("%w: %s", err, out)
		}
		return at, err
	})
	code := testdb.Run(m)
	os.RemoveAll(dir)
	os.Exit(code)
}

// program is the folder in which the program is made for those tests that start it.
var program func() (string, error)

// build makes the program and returns its folder: the test binary, which could stand in for it, takes three times as long
// to start.
func build(t *testing.T) string {
	dir, err := program()
	require.NoError(t, err)
	return dir
}

// TestScripts runs the whole program as text. Each script has an empty database of its own, DATABASE_URL, the project's
// testdata at TESTDATA, and stands on Wednesday 2 December 2026. Its commands, besides testscript's own:
//
//	done ARG…      runs stead, which must be content (exit code 0)
//	refused ARG…   the same, refused by the rules or by the state of things (1)
//	misused ARG…   the same, not understood (2)
//	screens N      what was printed last fits the screens of a quote with N options
//	readonly       makes the database read-only; readwrite undoes it
//	sql TEXT       does something to the database that no command does
//	exec stead …   runs the program that is built, as a process of its own
//
// The first three call the program in this process: there are a thousand of them, and a process costs thrice what most of
// them do. One starts the program where it matters: without a DATABASE_URL it keeps a server for the next one, and the
// machine's time zone is settled when a process starts.
//
// All of them check that whatever is set for a person keeps to the terminal's width, and that a command that fails says
// one sentence and prints no result.
func TestScripts(t *testing.T) {
	keepDatabasesOpen(t)
	dir := build(t)
	scripts, err := filepath.Abs("testdata") // the folder of this process changes
	require.NoError(t, err)
	lists, err := filepath.Abs("../../testdata")
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:                 scripts,
		RequireExplicitExec: true,
		ContinueOnError:     true,
		Setup: func(env *testscript.Env) error {
			db := testdb.New(env.T().(testing.TB))
			db.Reset() // the scripts are to be alone in it
			env.Defer(func() { closeKept(db.Config().ConnConfig.Database) })
			env.Values["address"] = db.Config().ConnConfig
			env.Setenv("DATABASE_URL", db.Config().ConnString())
			env.Setenv("PATH", dir+string(os.PathListSeparator)+env.Getenv("PATH"))
			env.Setenv("STEAD_DATA", filepath.Join(env.WorkDir, "data"))
			env.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
			env.Setenv("TZ", scriptZone)
			env.Setenv("TESTDATA", lists)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"done":      exits(0),
			"refused":   exits(1),
			"misused":   exits(2),
			"sql":       sql,
			"screens":   fitsScreens,
			"readonly":  readOnly(true),
			"readwrite": readOnly(false),
		},
	})
}

// A new shop with three wholesalers' lists takes fewer than ten commands, up to the first that only looks.
func TestSetUpIsShort(t *testing.T) {
	script, err := os.ReadFile("testdata/start.txt")
	require.NoError(t, err)
	setUp, _, looked := strings.Cut(string(script), "\ndone shop show\n")
	require.True(t, looked)
	require.Equal(t, 3, strings.Count(setUp, "\ndone pricelist load "))
	require.Equal(t, 7, strings.Count(setUp, "\ndone "))
}

// The jobs of a year say how many commands each takes, without those that only look.
func TestJobsOfAYearAreCounted(t *testing.T) {
	heading := regexp.MustCompile(`^# (\d+)\. .*\((\d+) commands`)
	looks := regexp.MustCompile(`^done (job (show|list|wishes)|order (plan|late|show|list)|stock (list|tubs))( \d+)?$`)
	said, counted := map[string]string{}, map[string]int{}
	for _, file := range []string{"testdata/year.txt", "testdata/year_parts.txt"} {
		script, err := os.ReadFile(file)
		require.NoError(t, err)
		job := ""
		for line := range strings.Lines(string(script)) {
			line = strings.TrimSpace(line)
			if h := heading.FindStringSubmatch(line); h != nil {
				job, said[h[1]] = h[1], h[2]
			}
			if job != "" && strings.HasPrefix(line, "done ") && !looks.MatchString(line) {
				counted[job]++
			}
		}
	}
	require.Len(t, said, 10)
	for job, commands := range said {
		require.Equal(t, commands, fmt.Sprint(counted[job]), "job %s", job)
	}
}

// exits runs the program and checks the exit code and the manners.
func exits(code int) func(*testscript.TestScript, bool, []string) {
	return func(ts *testscript.TestScript, neg bool, args []string) {
		if neg {
			ts.Fatalf("say done, refused or misused in place of !")
		}
		got, out, errs := call(ts, args)
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
		if wide := tooWide(nil, errs); wide != "" {
			ts.Fatalf("wider than %d columns: %s", terminal.Width, wide)
		}
		if sentence, one := strings.CutPrefix(unfolded(errs), "stead: "); !one || strings.Count(sentence, "\n") != 1 {
			ts.Fatalf("not one sentence after the program's name: %q", errs)
		}
	}
}

// oneAtATime guards what belongs to the whole process: its folder and its environment.
var oneAtATime sync.Mutex

// scriptZone is where the machine of the scripts stands.
const scriptZone = "Europe/London"

// call runs the program for a script, in this process where that is the same.
func call(ts *testscript.TestScript, args []string) (code int, out, errs string) {
	if ts.Getenv("DATABASE_URL") == "" || ts.Getenv("TZ") != scriptZone {
		if err := ts.Exec("stead", args...); err != nil {
			var exit *exec.ExitError
			if !errors.As(err, &exit) {
				ts.Fatalf("%v", err)
			}
			code = exit.ExitCode()
		}
		return code, ts.ReadFile("stdout"), ts.ReadFile("stderr")
	}
	var said, complained bytes.Buffer
	func() {
		oneAtATime.Lock()
		defer oneAtATime.Unlock()
		defer stand(ts)()
		if alone(args) {
			closeKept(ts.Value("address").(*pgx.ConnConfig).Database)
		}
		code = run(context.Background(), args, &scriptInput{ts: ts}, &said, &complained)
	}()
	fmt.Fprint(ts.Stdout(), said.String())
	fmt.Fprint(ts.Stderr(), unfolded(complained.String()))
	return code, said.String(), complained.String()
}

// unfolded is what a command complained of, each sentence in a line as scripts look for it.
func unfolded(errs string) string { return strings.ReplaceAll(errs, "\n  ", " ") }

// stand puts this process where a script is, and gives the way back.
func stand(ts *testscript.TestScript) (back func()) {
	home, err := os.Getwd()
	ts.Check(err)
	before, zone := map[string]string{}, time.Local
	for _, name := range []string{"DATABASE_URL", "STEAD_DATA", "STEAD_NOW"} {
		before[name] = os.Getenv(name)
		ts.Check(os.Setenv(name, ts.Getenv(name)))
	}
	time.Local, err = time.LoadLocation(scriptZone)
	ts.Check(err)
	ts.Check(os.Chdir(ts.MkAbs(".")))
	return func() {
		for name, value := range before {
			os.Setenv(name, value)
		}
		time.Local = zone
		if err := os.Chdir(home); err != nil {
			panic(err) // every other test would stand in the wrong folder
		}
	}
}

// scriptInput is what the command stdin has set. Testscript gives it to programs only, so one hands it on, when it is
// asked for.
type scriptInput struct {
	ts   *testscript.TestScript
	text *strings.Reader
}

func (in *scriptInput) Read(p []byte) (int, error) {
	if in.text == nil {
		if err := in.ts.Exec("cat"); err != nil {
			return 0, err
		}
		in.text = strings.NewReader(in.ts.ReadFile("stdout"))
	}
	return in.text.Read(p)
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

// fitsScreens fails where the last quote is longer than its screens.
func fitsScreens(ts *testscript.TestScript, _ bool, args []string) {
	options, err := strconv.Atoi(strings.Join(args, ""))
	ts.Check(err)
	if !screens(ts.ReadFile("stdout"), options) {
		ts.Fatalf("the quote is longer than the screens of %d options", options)
	}
}

// readOnly is what a database is after its main server was lost and a standby answers.
func readOnly(on bool) func(*testscript.TestScript, bool, []string) {
	return func(ts *testscript.TestScript, neg bool, args []string) {
		address := ts.Value("address").(*pgx.ConnConfig)
		closeKept(address.Database)
		sql(ts, neg, []string{"ALTER DATABASE", pgx.Identifier{address.Database}.Sanitize(),
			"SET default_transaction_read_only =", fmt.Sprint(on)})
	}
}
