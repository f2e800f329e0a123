package privatepg

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strings"

	"golang.org/x/term"
)

// ErrNotInstalled is what Install returns when nothing was installed: there was nobody to ask, or they said no, or
// there is no package manager that we know. The sentence to show is then that of the *[NoBinariesError].
var ErrNotInstalled = errors.New("PostgreSQL was not installed")

// Install installs Postgres with the platform's package manager, after a yes: agreed is one that was given beforehand,
// else it asks, on a terminal only: in must be one. The package manager speaks on the same terminal, and asks nothing
// itself where there is none. After a nil the caller opens again.
func Install(ctx context.Context, in io.Reader, out io.Writer, agreed bool) error {
	return install(ctx, in, out, agreed, installCommands())
}

func install(ctx context.Context, in io.Reader, out io.Writer, agreed bool, commands commands) error {
	terminal, ok := in.(*os.File)
	ok = ok && term.IsTerminal(int(terminal.Fd()))
	if commands == nil || !agreed && !ok {
		return ErrNotInstalled
	}
	if agreed {
		fmt.Fprintf(out, "Stead keeps its data in PostgreSQL, which is installed now with `%s`.\n", commands)
	} else if yes, err := ask(in, out, commands); err != nil || !yes {
		return cmp.Or(err, ErrNotInstalled)
	}
	for _, command := range commands {
		cmd := exec.CommandContext(ctx, command[0], command[1:]...)
		cmd.Stdout, cmd.Stderr = out, out
		cmd.Env = os.Environ()
		if ok {
			cmd.Stdin = terminal
		} else {
			cmd.Env = append(cmd.Env, "DEBIAN_FRONTEND=noninteractive")
		}
		if err := cmd.Run(); err != nil {
			return fmt.Errorf("install PostgreSQL with `%s`: %w", strings.Join(command, " "), err)
		}
	}
	return nil
}

// ask waits for a yes or no at the terminal.
func ask(in io.Reader, out io.Writer, commands commands) (yes bool, err error) {
	fmt.Fprintf(out, "Stead keeps its data in PostgreSQL, and this machine has none that it can use.\nInstall it now with `%s`? [y/N] ", commands)
	// A terminal hands over a line at a time, so reading ahead takes nothing from the package manager.
	answer, err := bufio.NewReader(in).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return false, fmt.Errorf("read the answer: %w", err)
	}
	switch strings.ToLower(strings.TrimSpace(answer)) {
	case "y", "yes":
		return true, nil
	}
	return false, nil
}

// commands are run one after the other.
type commands [][]string

// String writes them as one types them.
func (c commands) String() string {
	var lines []string
	for _, command := range c {
		lines = append(lines, strings.Join(command, " "))
	}
	return strings.Join(lines, " && ")
}

// installCommands are how the platform's package manager installs Postgres; nil when we know none here.
func installCommands() commands {
	known := []commands{
		// A fresh machine has no lists of packages yet; with what it recommends, PostgreSQL brings a mail server.
		{{"apt-get", "update"}, {"apt-get", "install", "-y", "--no-install-recommends", "postgresql"}},
		{{"dnf", "install", "-y", "postgresql-server", "postgresql-contrib"}},
		{{"brew", "install", "postgresql@17"}},
	}
	for _, c := range known {
		manager := c[0][0]
		if _, err := exec.LookPath(manager); err != nil {
			continue
		}
		// Homebrew refuses to run as root, the others need it.
		if manager != "brew" && runtime.GOOS == "linux" && os.Geteuid() != 0 {
			for i := range c {
				c[i] = append([]string{"sudo"}, c[i]...) // without a terminal it fails where it would ask for a password
			}
		}
		return c
	}
	return nil
}
