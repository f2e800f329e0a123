package pages_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// commandRows are the rows of testdata/commands.txt: a command, and where pages do the same.
func commandRows(t *testing.T) (rows [][2]string) {
	data, err := os.ReadFile("testdata/commands.txt")
	require.NoError(t, err)
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			command, where, found := strings.Cut(line, "  ")
			require.True(t, found, line)
			rows = append(rows, [2]string{command, strings.TrimSpace(where)})
		}
	}
	return rows
}

// TestEveryButtonIsACommand holds the table of commands against the pages, both ways: what it names is there, and no button
// does what no command can. That it names every command is TestEveryCommandHasItsPage, beside the commands.
func TestEveryButtonIsACommand(t *testing.T) {
	paths, named := open(t).server.Paths(), map[string]bool{}
	for _, row := range commandRows(t) {
		if strings.HasPrefix(row[1], "terminal: ") {
			continue
		}
		all, why, apart := strings.Cut(row[1], ": ")
		require.Equal(t, row[0] == "--", apart && why != "", "%s: a button of the pages alone says why", row[1])
		for where := range strings.SplitSeq(all, ", ") {
			path, act, button := strings.Cut(where, " ")
			require.Contains(t, paths, path, "%s: there is no such page", row[0])
			if button {
				require.True(t, slices.Contains(paths[path], act), "%s: %s has no button %s", row[0], path, act)
			}
			named[where] = true
		}
	}
	for path, acts := range paths {
		for _, act := range acts {
			require.True(t, named[path+" "+act], "%s %s: no row of testdata/commands.txt says which command does the same", path, act)
		}
	}
}
