package main

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
)

// TestEveryCommandHasItsPage holds the commands against the table that says where a page does the same, or why a command is
// for the terminal only. That the pages are there is TestEveryButtonIsACommand, beside the pages.
func TestEveryCommandHasItsPage(t *testing.T) {
	data, err := os.ReadFile("internal/pages/testdata/commands.txt")
	require.NoError(t, err)
	var listed []string
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' || strings.HasPrefix(line, "--") {
			continue
		}
		name, where, _ := strings.Cut(line, "  ")
		require.NotEqual(t, "terminal:", strings.TrimSpace(where), "%s: say why it is for the terminal only", name)
		listed = append(listed, name)
	}
	var ran []string
	ours(newRoot(), func(cmd *cobra.Command) {
		if name := strings.TrimPrefix(cmd.CommandPath(), "stead "); cmd.HasParent() && cmd.Runnable() && (!cmd.HasSubCommands() || slices.Contains(listed, name)) {
			ran = append(ran, name)
		}
	})
	require.ElementsMatch(t, ran, listed, "internal/pages/testdata/commands.txt has a row for every command")
}
