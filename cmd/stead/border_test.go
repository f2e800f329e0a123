package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// TestInputIsCheckedAtTheBorder gives every text of every command what no text can be: the sentence names the field.
func TestInputIsCheckedAtTheBorder(t *testing.T) {
	ours(newRoot(), func(cmd *cobra.Command) {
		if cmd.HasSubCommands() {
			return
		}
		path := strings.Fields(cmd.CommandPath())[1:]
		cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
			if f.Value.Type() != "string" && f.Value.Type() != "stringArray" {
				return
			}
			for value, says := range map[string]string{
				"a\xff":                    "--" + f.Name + " holds bytes that are not UTF-8",
				"a\x1b[2J":                 "--" + f.Name + " holds the control character U+001B",
				strings.Repeat("a", 2001):  "--" + f.Name + " has 2001 letters",
				strings.Repeat("é", 2001):  "--" + f.Name + " has 2001 letters",
				"a\x00":                    "--" + f.Name + " holds the control character U+0000",
				"\u009b2J":                 "--" + f.Name + " holds the control character U+009B",
				strings.Repeat("a", 3<<20): "--" + f.Name,
			} {
				root := newRoot()
				found, rest, err := root.Find(append(append([]string{}, path...), "--"+f.Name+"="+value))
				require.NoError(t, err)
				require.NoError(t, found.ParseFlags(rest))
				require.ErrorContains(t, checkInput(found, found.Flags().Args()), says, "%s", path)
			}
		})
	})
}

// TestBadInputNeverReachesTheDatabase runs what did reach it: each answer is one sentence without a code of the database.
func TestBadInputNeverReachesTheDatabase(t *testing.T) {
	address := testdb.New(t).Config().ConnString()
	t.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
	null := filepath.Join(t.TempDir(), "null.json")
	require.NoError(t, os.WriteFile(null, []byte(`{"chain": {"family": "chain", "name": "a\u0000b", "spec": {"speeds": [9]}}}`), 0o600))
	say := func(args ...string) (int, string) {
		var out bytes.Buffer
		code := run(t.Context(), append(args, "--database", address), strings.NewReader(""), &out, &out)
		return code, out.String()
	}
	for _, line := range []string{"shop set --name Yard", "shop bin A1", "supplier add harbour Harbour --lead-days 2", "part add loose-balls balls ball_mm=6.35 --brand Kestle --code BALL", "job new --customer Ines --bike blue"} {
		code, said := say(strings.Fields(line)...)
		require.Zero(t, code, said)
	}
	huge := strings.Repeat("9", 25)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"shop", "bin", "A\xff"}, "NAME holds bytes that are not UTF-8"},
		{[]string{"shop", "bin", strings.Repeat("b", 5000)}, "NAME has 5000 letters"},
		{[]string{"part", "add", "chainring", "ring\x1b]0;x\x07"}, "holds the control character U+001B"},
		{[]string{"supplier", "offer", "harbour", "X", "BALL", "--prices", "0.00001"}, "at most four decimals"},
		{[]string{"supplier", "offer", "harbour", "X", "BALL", "--prices", "0.000000001"}, "is no price"},
		{[]string{"supplier", "offer", "harbour", "X", "BALL", "--prices", huge}, "is no price"},
		{[]string{"supplier", "offer", "harbour", "X", "BALL", "--prices", "1e999999999"}, "is no price"},
		{[]string{"supplier", "offer", "harbour", "X", "BALL", "--prices", "1", "--pack", "99999999999"}, "--pack"},
		{[]string{"supplier", "set", "harbour", "--carriage", "99999999999"}, "--carriage: 99999999999 cannot be meant"},
		{[]string{"shop", "labour", "chainring", "replace", "--words", "w", "--minutes", "99999999999", "--price", "1"}, "--minutes: 99999999999 cannot be meant"},
		{[]string{"shop", "labour", "chainring", "replace", "--words", "w", "--minutes", "5", "--price", "1e300"}, "--price"},
		{[]string{"shop", "set", "--confidence", "NaN"}, "--confidence: NaN cannot be meant"},
		{[]string{"shop", "set", "--quote-days", "99999999999"}, "--quote-days"},
		{[]string{"shop", "rate", "EUR", "0.000000001"}, "RATE"},
		{[]string{"shop", "tax", "VAT", "1e400"}, "PERCENT"},
		{[]string{"stock", "receive", "BALL", "99999999999", "--bin", "A1"}, "pieces cannot be meant"},
		{[]string{"stock", "receive", "BALL", "3000000000", "--bin", "A1"}, "cannot be meant"},
		{[]string{"stock", "receive", "BALL", huge, "--bin", "A1"}, "whole number"},
		{[]string{"job", "show", huge}, "by its number"},
		{[]string{"job", "new", "--customer", "A", "--bike", "B", "--build", null}, "--build"},
	} {
		t.Run(fmt.Sprintf("%.60q", strings.Join(c.args, " ")), func(t *testing.T) {
			code, said := say(c.args...)
			said = unfolded(said)
			require.Contains(t, []int{1, 2}, code, said)
			require.Contains(t, said, c.says)
			require.NotContains(t, said, "SQLSTATE")
			require.NotContains(t, said, "encode")
			require.Equal(t, 1, strings.Count(said, "\n"), said)
		})
	}
}
