package privatepg

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"

	"golang.org/x/term"
)

// ErrNotInstalled is what Install returns when nothing was installed: there was nobody to ask, or they said no, or
// there is no package manager that we know. The sentence to show is then that of the *[NoBinariesError].
var ErrNotInstalled = errors.New("PostgreSQL was not installed")

// Install offers to install Postgres with the platform's package manager, and does so after a yes. It asks on a
// terminal only: in must be one. The package manager speaks on the same terminal. After a nil the
// caller opens again.
func Install(ctx context.Context, in io.Reader, out io.Writer) error {
	return install(ctx, in, out, installCommand())
}

func install(ctx context.Context, in io.Reader, out io.Writer, command []string) error {
	terminal, ok := in.(*os.File)
	if !ok || !term.IsTerminal(int(terminal.Fd())) || command == nil {
		return ErrNotInstalled
	}
	fmt.Fprintf(out, "Stead keeps its data in PostgreSQL, and this machine has none that it can use.\nInstall it now with `%s`? [y/N] ", strings.Join(command, " "))
	// A terminal hands over a line at a time, so reading ahead takes nothing from the package manager.
	answer, err := bufio.NewReader(in).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return fmt.Errorf("read the answer: %w", err)
	}
	switch strings.ToLower(strings.TrimSpace(answer)) {
	case "y", "yes":
	default:
		return ErrNotInstalled
	}
	cmd := exec.CommandContext(ctx, command[0], command[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = terminal, out, out
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("install PostgreSQL with `%s`: %w", strings.Join(command, " "), err)
	}
	return nil
}
