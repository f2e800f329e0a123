package terminal

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// TestStoppedAtASecret ends the program's context while a password is awaited: the terminal shows again what is typed.
func TestStoppedAtASecret(t *testing.T) {
	_, tty := pseudoTerminal(t)
	shows := func() bool {
		state, err := unix.IoctlGetTermios(int(tty.Fd()), unix.TCGETS)
		require.NoError(t, err)
		return state.Lflag&unix.ECHO != 0
	}
	require.True(t, shows())
	ctx, stop := context.WithCancel(t.Context())
	go Secret(ctx, int(tty.Fd())) // reads on, as at a terminal that nobody types at
	require.Eventually(t, func() bool { return !shows() }, time.Minute, time.Millisecond)
	stop()
	require.Eventually(t, shows, time.Minute, time.Millisecond)
}
