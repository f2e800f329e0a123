//go:build linux

package privatepg

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// terminal is a real one, with somebody who has already typed an answer.
func terminal(t *testing.T, typed string) *os.File {
	t.Helper()
	keyboard, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	require.NoError(t, err)
	t.Cleanup(func() { keyboard.Close() })
	require.NoError(t, unix.IoctlSetPointerInt(int(keyboard.Fd()), unix.TIOCSPTLCK, 0))
	number, err := unix.IoctlGetInt(int(keyboard.Fd()), unix.TIOCGPTN)
	require.NoError(t, err)
	screen, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	require.NoError(t, err)
	t.Cleanup(func() { screen.Close() })
	_, err = keyboard.WriteString(typed)
	require.NoError(t, err)
	return screen
}

func TestInstallAsksFirst(t *testing.T) {
	for name, c := range map[string]struct {
		typed     string
		installed bool
	}{
		"yes":        {"y\n", true},
		"in full":    {"Yes\n", true},
		"no":         {"n\n", false},
		"just enter": {"\n", false},
	} {
		t.Run(name, func(t *testing.T) {
			var out bytes.Buffer
			err := install(t.Context(), terminal(t, c.typed), &out, false, commands{{"echo", "asking what there is"}, {"echo", "installing"}})
			require.Contains(t, out.String(), "Install it now with `echo asking what there is && echo installing`?")
			require.Equal(t, c.installed, strings.HasSuffix(out.String(), "asking what there is\ninstalling\n"))
			if c.installed {
				require.NoError(t, err)
			} else {
				require.ErrorIs(t, err, ErrNotInstalled)
			}
		})
	}
}

func TestInstallFails(t *testing.T) {
	var out bytes.Buffer
	err := install(t.Context(), terminal(t, "y\n"), &out, false, commands{{"false"}, {"echo", "installing all the same"}})
	require.ErrorContains(t, err, "install PostgreSQL with `false`")
	require.NotContains(t, out.String(), "all the same\n")
}

func TestInstallNeedsSomebodyToAsk(t *testing.T) {
	var out bytes.Buffer
	require.ErrorIs(t, Install(t.Context(), strings.NewReader("y\n"), &out, false), ErrNotInstalled)
	require.ErrorIs(t, install(t.Context(), terminal(t, "y\n"), &out, false, nil), ErrNotInstalled)
	require.Empty(t, out.String())
}

func TestInstallAgreedBeforehand(t *testing.T) {
	var out bytes.Buffer
	shell := []string{"sh", "-c", "read answer && echo w\"\"as asked; echo $DEBIAN_FRONTEND"}
	require.NoError(t, install(t.Context(), strings.NewReader("y\n"), &out, true, commands{shell}))
	require.NotContains(t, out.String(), "[y/N]")
	require.Contains(t, out.String(), "noninteractive\n")
	require.NotContains(t, out.String(), "was asked", "without a terminal there is nobody to answer")
	require.ErrorIs(t, install(t.Context(), strings.NewReader(""), &out, true, nil), ErrNotInstalled, "no package manager")
}
