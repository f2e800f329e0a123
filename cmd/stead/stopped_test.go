package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

func TestStoppedSaysSo(t *testing.T) {
	address := testdb.New(t).Config().ConnString()
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var out, errs bytes.Buffer
	require.Equal(t, 1, run(ctx, []string{"job", "list", "--database", address}, strings.NewReader(""), &out, &errs))
	require.Equal(t, "stead: stopped: nothing was changed\n", errs.String())
	require.Empty(t, out.String())
}

// TestStoppedWhileItReads presses Ctrl-C on a program that waits for its standard input, or for a pipe that nobody
// writes into.
func TestStoppedWhileItReads(t *testing.T) {
	stead := filepath.Join(build(t), "stead")
	pipe := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for name, c := range map[string]struct {
		args  []string
		ready func(keyboard io.Writer, answers *bufio.Reader) // returns when it waits
	}{
		"standard input": {[]string{"describe"}, func(keyboard io.Writer, answers *bufio.Reader) {
			_, err := io.WriteString(keyboard, "chainring 50t\n")
			require.NoError(t, err)
			_, err = answers.ReadString('\n')
			require.NoError(t, err)
		}},
		"a pipe": {[]string{"order", "plan", "--problem", pipe}, func(io.Writer, *bufio.Reader) {
			writer, err := os.OpenFile(pipe, os.O_WRONLY, 0) // waits for a reader
			require.NoError(t, err)
			t.Cleanup(func() { writer.Close() })
		}},
	} {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command(stead, c.args...)
			keyboard, err := cmd.StdinPipe()
			require.NoError(t, err)
			defer keyboard.Close()
			answers, err := cmd.StdoutPipe()
			require.NoError(t, err)
			var said bytes.Buffer
			cmd.Stderr = &said
			require.NoError(t, cmd.Start())
			c.ready(keyboard, bufio.NewReader(answers))
			require.NoError(t, cmd.Process.Signal(syscall.SIGINT))
			ended := make(chan error, 1)
			go func() { ended <- cmd.Wait() }()
			select {
			case <-ended:
				require.Equal(t, 1, cmd.ProcessState.ExitCode())
				require.Equal(t, "stead: stopped: nothing was changed\n", said.String())
			case <-time.After(5 * time.Minute):
				cmd.Process.Kill()
				t.Fatal("it still waits")
			}
		})
	}
}
