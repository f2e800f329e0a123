package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/demoshop"
	"stead/cmd/stead/internal/desk"
	"stead/migrations/testdb"
	"stead/pricing"
	"stead/testdata/demo"
)

// screen is how many lines of 80 columns a terminal shows at once: that of the DEC VT100, by which terminals still open.
const screen = 24

// screensFor is how many screens a quote may fill with so many options: one with one, two with more.
func screensFor(options int) int { return min(max(options, 1), 2) }

// printed is a quote as a command sets it, without the step that follows.
func printed(set func(*cobra.Command, desk.Quote), q desk.Quote) string {
	var out bytes.Buffer
	cmd := &cobra.Command{}
	cmd.SetOut(&out)
	set(cmd, q)
	return out.String()
}

// nineLines is a service as it is usually quoted: what has more lines of work and parts together fits with --brief.
const nineLines = 9

// A quote fits one screen for one option and two for three, in the demo's week and with nine lines (year.txt has another).
func TestAQuoteFitsTheScreen(t *testing.T) {
	ctx, tx := t.Context(), testdb.Tx(t)
	at := time.Date(2026, time.November, 25, 9, 30, 0, 0, time.UTC)
	_, err := tx.Exec(ctx, `INSERT INTO request (key, what) VALUES ('demo', 'demo')`)
	require.NoError(t, err)
	require.NoError(t, demoshop.Load(ctx, tx, demo.Files, "demo", at))
	jobs, err := demoshop.Jobs(demo.Files)
	require.NoError(t, err)
	for _, j := range jobs {
		id, err := j.BookIn(ctx, tx, demo.Files, at)
		require.NoError(t, err)
		if j.Note != "" {
			v, err := desk.LoadNote(ctx, tx, id, j.Note)
			require.NoError(t, err)
			_, err = pricing.KeepNote(ctx, tx, id, pricing.Note{Said: j.Note, SaidAt: at, Findings: v.Reading.Findings, Fitted: v.Reading.Fitted})
			require.NoError(t, err)
		}
		for _, f := range j.Inspect {
			_, err := pricing.Inspect(ctx, tx, id, f, at)
			require.NoError(t, err)
		}
		q, err := pricing.MakeQuote(ctx, tx, id, at)
		require.NoError(t, err)
		v := desk.TellQuote(q, desk.At(at))
		said, brief := printed(printQuote, v), printed(printBrief, v)
		t.Logf("job %d, %d options: %d lines, brief %d", id, len(q.Options), strings.Count(said, "\n"), strings.Count(brief, "\n"))
		require.LessOrEqual(t, strings.Count(brief, "\n"), screen, "%s", brief)
		if len(q.Options) == 0 || len(q.Labour)+len(q.Options[0].Parts) <= nineLines {
			require.LessOrEqual(t, strings.Count(said, "\n"), screensFor(len(q.Options))*screen, "%s", said)
		}
	}
}

// screens is the script command "screens OPTIONS": what was printed last, up to the step that follows, fits the screens of a
// quote with so many options.
func screens(out string, options int) (fits bool) {
	quote, _, _ := strings.Cut(out, "\nnext: ")
	return strings.Count(strings.TrimSpace(quote), "\n")+1 <= screensFor(options)*screen
}
