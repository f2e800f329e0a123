package drawn

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestSeed draws in programs of its own, since the flag of this one is read already.
func TestSeed(t *testing.T) {
	if os.Getenv("STEAD_DRAWS") != "" {
		rapid.Check(t, func(t *rapid.T) { rapid.Uint64().Draw(t, "drawn") })
		return
	}
	draw := func(env string, args ...string) string {
		cmd := exec.Command(os.Args[0], append([]string{"-test.run=^TestSeed$", "-rapid.checks=3", "-rapid.log"}, args...)...)
		cmd.Env = append(slices.DeleteFunc(os.Environ(), func(e string) bool { return strings.HasPrefix(e, "RAPID_") }), "STEAD_DRAWS=1")
		if env != "" {
			cmd.Env = append(cmd.Env, env)
		}
		said, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s", said)
		var drawn []string
		for line := range strings.Lines(string(said)) {
			if _, value, is := strings.Cut(line, "draw drawn: "); is {
				drawn = append(drawn, value)
			}
		}
		require.Len(t, drawn, 3, "%s", said)
		return strings.Join(drawn, "")
	}
	usual := draw("")
	require.Equal(t, usual, draw(""), "the same in every run")
	require.Equal(t, usual, draw("", "-rapid.seed="+seed))
	require.NotEqual(t, usual, draw("", "-rapid.seed=1"), "the command line wins")
	require.NotEqual(t, draw("RAPID_SEED=0"), draw("RAPID_SEED=0"), "anew")
}
