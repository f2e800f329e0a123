package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
)

// ours walks the commands that are ours and for people; help and completion are cobra's.
func ours(cmd *cobra.Command, visit func(*cobra.Command)) {
	visit(cmd)
	for _, child := range cmd.Commands() {
		if name := child.Name(); name != "help" && name != "completion" && !child.Hidden {
			ours(child, visit)
		}
	}
}

func TestHelpOfEveryCommand(t *testing.T) {
	ours(newRoot(), func(cmd *cobra.Command) {
		t.Run(cmd.CommandPath(), func(t *testing.T) {
			require.NotEmpty(t, cmd.Short, "a summary")
			require.NotContains(t, cmd.Short, "\n", "a summary of one line")
			require.Contains(t, cmd.Example, "stead", "an example")
			var out, errs bytes.Buffer
			args := append(strings.Fields(cmd.CommandPath())[1:], "--help")
			require.Zero(t, run(context.Background(), args, strings.NewReader(""), &out, &errs))
			require.Empty(t, errs.String())
			require.Empty(t, tooWide(nil, out.String()), "wider than the terminal")
			require.NotRegexp(t, `--[\w-]+ (string|int|float)`, out.String(), "a programmer's word for what a flag takes")
			require.NotContains(t, out.String(), "default -1", "a number that stands for none")
			seen := map[string]bool{}
			for _, line := range strings.Split(cmd.Example, "\n") {
				require.False(t, cmd.HasSubCommands() && seen[line], "%q twice", line)
				seen[line] = true
			}
		})
	})
}

// words splits a line as a shell would, as far as the examples go: at spaces outside of quotes.
func words(line string) []string {
	var quote rune
	return strings.FieldsFunc(line, func(r rune) bool {
		switch {
		case quote == 0 && (r == '"' || r == '\''):
			quote = r
			return true
		case r == quote:
			quote = 0
			return true
		}
		return r == ' ' && quote == 0
	})
}
