package terminal

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// pseudoTerminal is one made as pty(7) says, and what controls it.
func pseudoTerminal(t *testing.T) (control, tty *os.File) {
	control, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	require.NoError(t, err)
	t.Cleanup(func() { control.Close() })
	fd := int(control.Fd())
	require.NoError(t, unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0))
	number, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	require.NoError(t, err)
	tty, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	require.NoError(t, err)
	t.Cleanup(func() { tty.Close() })
	return control, tty
}

func TestColumns(t *testing.T) {
	control, tty := pseudoTerminal(t)
	fd := int(control.Fd())
	for is, want := range map[uint16]int{0: Width, 5: Width, 40: 40, 80: 80, 132: 132} {
		require.NoError(t, unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: is}))
		require.Equal(t, want, Columns(NewWriter(tty)), "a terminal of %d columns", is)
	}
	require.Equal(t, Width, Columns(&bytes.Buffer{}), "no terminal")
}
