// Command stead plans parts for a small bicycle workshop: from an inspected bike to an approved quote and its order list.
//
// This package only reads arguments, calls the packages of the subject and prints what they answer. What a command does
// stands in substitution, inventory and pricing. The rules of the terminal:
//
//   - One file a command. Each has a one-line summary, an example that works in the demo workshop, and --json.
//   - Results go to standard output; everything else, progress and warnings and errors, to standard error.
//   - An error is one sentence that says what is wrong, where, and what to do. Nothing is half done.
//   - Exit code 0: done. 1: refused by the rules or by the state of things. 2: the command was not understood.
//   - Tables and running text keep to 80 columns; errors to the width of the terminal.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata" // a bare machine knows no time zones

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program whatever it is at
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program on given streams; it returns the exit code.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	out, errs = terminal.NewWriter(out), terminal.NewWriter(errs)
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	ctx = context.WithValue(ctx, deedKey{}, &deed{})
	err := execute(ctx, root)
	if err == nil {
		if err = terminal.Failed(out); err == nil {
			return 0
		}
		err = &unsaidError{err}
	}
	var u usageError
	if errors.As(err, &u) {
		complain(errs, fmt.Sprintf("stead: %v", err))
		return 2
	}
	complain(errs, "stead: "+byWhichAddress(failure(ctx, err), addressBy(root)))
	return 1
}

// complain writes a sentence of trouble, folded to the terminal's width: what goes on is set in by two.
func complain(errs io.Writer, sentence string) {
	columns := terminal.Columns(errs)
	first, rest, goesOn := strings.Cut(terminal.WrapTo(columns, "", sentence), "\n")
	if goesOn { // the rest has two columns less
		rest = "\n" + terminal.WrapTo(columns, "  ", strings.ReplaceAll(rest, "\n", " "))
	}
	fmt.Fprintln(errs, first+rest)
}

// How long a command has to end by itself after Ctrl-C: in the middle of a change long enough to ask the database what
// became of it, else no longer than one notices.
const (
	changeGrace = 5 * time.Second
	grace       = 500 * time.Millisecond
)

// execute runs the command. One that cannot be stopped, because it waits for its standard input or for somebody to read
// what it says, is left behind when it was told to stop: the program ends with it.
func execute(ctx context.Context, root *cobra.Command) error {
	ended := make(chan error, 1)
	go func() { ended <- root.ExecuteContext(ctx) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	wait := grace
	if _, underWay := deedOf(ctx).sofar(); underWay != "" {
		wait = changeGrace
	}
	select {
	case err := <-ended:
		return err
	case <-time.After(wait):
		return ctx.Err()
	}
}

// usageError is an error in how the command was written.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// usage marks an error as one of usage, and says where help is.
func usage(cmd *cobra.Command, err error) error {
	if err == nil {
		return nil
	}
	return usageError{fmt.Errorf("%w (see `%s --help`)", hinted{err}, cmd.CommandPath())}
}

// exactly takes just the named arguments.
func exactly(names ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > len(names) {
			return usage(cmd, fmt.Errorf("%q is one argument too many", args[len(names)]))
		}
		return atLeast(names...)(cmd, args)
	}
}

// atLeast takes the named arguments and whatever follows them.
func atLeast(names ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < len(names) {
			return usage(cmd, fmt.Errorf("%s is missing", names[len(args)]))
		}
		for i, name := range names {
			if name == "FILE" && args[i] == "" {
				return usage(cmd, errors.New("FILE is empty: name a file"))
			}
		}
		return nil
	}
}
