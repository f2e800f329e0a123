package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

func describeText(t *testing.T, in io.Reader) []map[string]any {
	t.Helper()
	reader, err := describe.NewReader(nil)
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, describeLines(reader, in, &out))
	var all []map[string]any
	for line := range strings.Lines(out.String()) {
		var one map[string]any
		require.NoError(t, json.Unmarshal([]byte(line), &one), line)
		all = append(all, one)
	}
	return all
}

// Each line gets its answer, whatever is in it.
func TestDescribeAnyLine(t *testing.T) {
	long := strings.Repeat("x", longestLine-1)
	for name, c := range map[string]struct {
		in    string
		texts []string
	}{
		"nothing":                  {"", nil},
		"one line":                 {"CHAIN 9SPD\n", []string{"CHAIN 9SPD"}},
		"no end to the last":       {"CHAIN 9SPD\nCHAIN", []string{"CHAIN 9SPD", "CHAIN"}},
		"empty lines":              {"\n\r\nCHAIN\n", []string{"", "", "CHAIN"}},
		"a byte order mark":        {"\ufeffCHAIN\n", []string{"CHAIN"}},
		"Windows-1252":             {"SEATPOST \xd827.2\nTYRE 1\xbd\n", []string{"SEATPOST Ø27.2", "TYRE 1½"}},
		"UTF-8":                    {"SEATPOST Ø27.2\n", []string{"SEATPOST Ø27.2"}},
		"just long enough":         {long + "\nCHAIN\n", []string{long, "CHAIN"}},
		"a line too long":          {long + "yyy\nCHAIN\n", []string{long + "y", "CHAIN"}},
		"far too long":             {strings.Repeat(long, 5) + "\nCHAIN", []string{long + "x", "CHAIN"}},
		"too long, without an end": {strings.Repeat(long, 3), []string{long + "x"}},
		"cut within a letter":      {long + "Øy\nCHAIN\n", []string{long, "CHAIN"}},
	} {
		t.Run(name, func(t *testing.T) {
			for _, in := range []io.Reader{strings.NewReader(c.in), iotest.HalfReader(strings.NewReader(c.in))} {
				var texts []string
				for _, one := range describeText(t, in) {
					texts = append(texts, one["text"].(string))
				}
				require.Equal(t, c.texts, texts)
			}
		})
	}
}

// Whoever sends a line and waits gets the answer to it before the next.
func TestDescribeAnswersAtOnce(t *testing.T) {
	ask, in := io.Pipe()
	out, answers := io.Pipe()
	reader, err := describe.NewReader(nil)
	require.NoError(t, err)
	done := make(chan error)
	go func() { done <- describeLines(reader, ask, answers) }()
	lines := bufio.NewReader(out)
	for _, text := range []string{"CHAIN 9SPD", "CHAIN 10SPD"} {
		_, err := io.WriteString(in, text+"\n")
		require.NoError(t, err)
		answer, err := lines.ReadString('\n')
		require.NoError(t, err)
		require.Contains(t, answer, text)
	}
	require.NoError(t, in.Close())
	require.NoError(t, <-done)
}

// A reader or writer that fails is an error, not an end.
func TestDescribeFails(t *testing.T) {
	reader, err := describe.NewReader(nil)
	require.NoError(t, err)
	var out bytes.Buffer
	lost := errors.New("the line is dead")
	require.ErrorIs(t, describeLines(reader, io.MultiReader(strings.NewReader("CHAIN\n"), iotest.ErrReader(lost)), &out), lost)
	require.Contains(t, out.String(), "CHAIN", "what was read is answered")
	closed, writer := io.Pipe()
	require.NoError(t, closed.Close())
	require.ErrorIs(t, describeLines(reader, strings.NewReader("CHAIN\n"), writer), io.ErrClosedPipe)
}
