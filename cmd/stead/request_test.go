package main

import (
	"bytes"
	"net/url"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// nameOf is the name of the request that these words of a command line make.
func nameOf(t *testing.T, line ...string) string {
	t.Helper()
	cmd, rest, err := newRoot().Find(line)
	require.NoError(t, err)
	require.NoError(t, cmd.ParseFlags(rest))
	name, err := requestName(cmd)
	require.NoError(t, err)
	return name
}

// twoValues are two values that a flag takes.
func twoValues(t *testing.T, f *pflag.Flag) (one, other string) {
	t.Helper()
	if words, ok := f.Value.(interface{ List() string }); ok {
		all := strings.Split(words.List(), ", ")
		require.GreaterOrEqual(t, len(all), 2, f.Name)
		return all[0], all[1]
	}
	switch f.Value.Type() {
	case "bool":
		return "true", "false"
	case "duration":
		return "3h", "4h"
	case "weekdays":
		return "sunday", "monday"
	}
	return "3", "4" // a number, a length, a text, a file; a flag that takes neither fails to be parsed
}

// TestRequestNameTellsApart takes every command of the tree with every flag of its own: whatever is given differently,
// or given or not, makes another request.
func TestRequestNameTellsApart(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, file := range []string{"3", "4", "3 4"} { // what the flags of files name
		require.NoError(t, os.WriteFile(file, []byte(file), 0o600))
	}
	ours(newRoot(), func(cmd *cobra.Command) {
		if cmd.HasSubCommands() {
			return
		}
		path := strings.Fields(cmd.CommandPath())[1:]
		t.Run(strings.Join(path, " "), func(t *testing.T) {
			named := func(words ...string) string { return nameOf(t, append(append([]string{}, path...), words...)...) }
			bare := named()
			require.NotEqual(t, named("3 4"), named("3", "4"), "where a word ends")
			require.NotEqual(t, named("3", "4"), named("4", "3"), "which word comes first")
			cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
				if f.Name == "help" {
					return
				}
				one, other := twoValues(t, f)
				flag := "--" + f.Name + "="
				require.NotEqual(t, bare, named(flag+one), "--%s given or not", f.Name)
				require.NotEqual(t, named(flag+one), named(flag+other), "--%s", f.Name)
				require.Equal(t, named(flag+one), named(flag+one, "--json", "--request=k", "--database=d"), "how it is shown changes nothing")
				if f.Value.Type() != "bool" && strings.Contains(f.Usage, "file") && !strings.Contains(f.Usage, "files into") {
					require.Contains(t, f.Annotations, cobra.BashCompFilenameExt, "--%s names a file: readsFile", f.Name)
				}
			})
		})
	})
	require.NotEqual(t, nameOf(t, "stock", "receive", "a", "1", "--bin", "x"), nameOf(t, "stock", "use", "a", "1", "--place", "x"))
}

func TestRequestNameHasTheContentOfFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, line := range [][]string{
		{"pricelist", "load", "harbour", "list.csv"},
		{"pricelist", "columns", "harbour", "list.csv", "price=F"},
		{"job", "new", "--build", "list.csv"},
	} {
		require.NoError(t, os.WriteFile("list.csv", []byte("code,price\n1,2\n"), 0o600))
		before := nameOf(t, line...)
		require.Equal(t, before, nameOf(t, line...))
		require.NoError(t, os.WriteFile("list.csv", []byte("code,price\n1,3\n"), 0o600))
		require.NotEqual(t, before, nameOf(t, line...), "%s", line)
	}
}

// TestKeyOfAnotherRequestIsRefused runs the examples of all commands under a key that was used for something else. Those
// that change something when they are run without it must be refused with it.
func TestKeyOfAnotherRequestIsRefused(t *testing.T) {
	say := inDemo(t)
	code, said := say("shop", "bin", "Q9", "--request", "taken")
	require.Zero(t, code, said)
	proven := 0
	ours(newRoot(), func(cmd *cobra.Command) {
		if cmd.HasSubCommands() || cmd.Name() == "demo" {
			return
		}
		for _, line := range examples(cmd) {
			if slices.Contains(line, "--demo") {
				continue // it begins the demo anew
			}
			before := requests(t)
			code, said := say(append(line, "--request", "taken")...)
			if code == 1 && strings.Contains(said, `request taken was "shop bin Q9" before`) {
				proven++
				continue
			}
			require.NotContains(t, unfolded(said), "was carried out before", line)
			if code != 0 { // what was done whole with the key need not be done without it
				say(line...)
			}
			require.Equal(t, before, requests(t), "%s changed something, but not so that its key is looked at: %s", line, said)
		}
	})
	require.Greater(t, proven, 25, "examples that change something")
	for _, of := range []string{"shop set --name A", "supplier offer northmoor N-NEW TAR-CH9 --prices 10", "job record 102 rear.hub"} {
		line := strings.Fields(of)
		code, said := say(append(line, "--request", of)...)
		require.Zero(t, code, said)
		code, said = say(append(line, "--request", of)...)
		require.Zero(t, code, said)
		require.Contains(t, unfolded(said), "was carried out before")
	}
	for was, is := range map[string]string{
		"shop set --name A": "shop set --name B",
		"supplier offer northmoor N-NEW TAR-CH9 --prices 10": "supplier offer northmoor N-NEW TAR-CH9 --prices 20",
		"job record 102 rear.hub":                            "job record 102 rear.hub --unknown",
	} {
		code, said := say(append(strings.Fields(is), "--request", was)...)
		require.Equal(t, 1, code, said)
		require.Contains(t, said, "give each request its own key")
	}
}

// requests counts the changes made in the demo workshop so far.
func requests(t *testing.T) (n int) {
	t.Helper()
	address, err := url.Parse(os.Getenv("DATABASE_URL"))
	require.NoError(t, err)
	address.Path += demoSuffix
	inside, err := openKept(t.Context(), address.String(), nil)
	require.NoError(t, err)
	require.NoError(t, inside.QueryRow(t.Context(), `SELECT count(*) FROM request`).Scan(&n))
	return n
}

// inDemo fills a demo workshop and gives a way to run commands in it. The working folder holds the files that the
// examples of the help name.
func inDemo(t *testing.T) (say func(args ...string) (code int, said string)) {
	keepDatabasesOpen(t)
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"bike.json":   `{"chain": {"family": "chain", "spec": {"speeds": [9]}}, "crank": null}`,
		"orders.json": `{"suppliers": [{"id": "a", "carriage": 0}], "lines": [{"id": "l", "need": 1, "max": 2}], "offers": [{"line": "l", "supplier": "a", "pack": 1, "breaks": [{"min": 1, "unit_price": 100}]}]}`,
	} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
	db := testdb.New(t)
	t.Setenv("DATABASE_URL", db.Config().ConnString())
	if os.Getenv("STEAD_NOW") == "" {
		t.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
	}
	run := func(args ...string) (code int, said string) {
		if alone(args) {
			closeKept(db.Config().ConnConfig.Database)
		}
		var out bytes.Buffer
		code = run(t.Context(), args, strings.NewReader(""), &out, &out)
		return code, out.String()
	}
	asLeft(t, db, demoSuffix, "the demo", func() {
		code, said := run("demo")
		require.Zero(t, code, said)
	})
	return func(args ...string) (int, string) { return run(append(args, "--database", "demo")...) }
}

// examples are the command lines of a command's help, without the program's name and those that are for a shell.
func examples(cmd *cobra.Command) (lines [][]string) {
	for _, line := range strings.Split(strings.ReplaceAll(cmd.Example, "\\\n", " "), "\n") {
		if !strings.ContainsAny(line, "|<>") {
			lines = append(lines, words(line)[1:])
		}
	}
	return lines
}
