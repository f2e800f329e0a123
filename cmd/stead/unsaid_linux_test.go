package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// TestAnswerThatIsLost writes to a device on which there is never room (full(4) of the Linux manual): no command says that all
// went well when its answer is lost, and none that nothing was done when something was.
func TestAnswerThatIsLost(t *testing.T) {
	pool := testdb.New(t)
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	require.NoError(t, err)
	defer full.Close()
	const lost = "stead: the answer could not be written: no space left on device; "
	for _, c := range []struct{ command, says string }{
		{"job list", lost + "give it room, or another place, and ask again\n"},
		{"rule list", lost + "give it room, or another place, and ask again\n"},
		{"job new --customer Ines --bike blue", lost + "what was asked is done all the same, and only its answer is missing: do not repeat the command\n"},
		{"job new --customer Teo --bike white --json", "what was asked is done all the same, and only its answer is missing: do not repeat the command\n"},
	} {
		t.Run(c.command, func(t *testing.T) {
			var errs bytes.Buffer
			code := run(t.Context(), append(strings.Fields(c.command), "--database", pool.Config().ConnString()), strings.NewReader(""), full, &errs)
			require.Equal(t, 1, code)
			require.Contains(t, unfolded(errs.String()), c.says)
		})
	}
	var jobs int
	require.NoError(t, pool.QueryRow(t.Context(), `SELECT count(*) FROM job`).Scan(&jobs))
	require.Equal(t, 2, jobs)
}
