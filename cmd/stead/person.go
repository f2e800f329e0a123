package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory/people"
)

func newPerson() *cobra.Command {
	return group("person", "Who works here and may sign in to the pages",
		newPersonAdd(), newPersonList(), newPersonPassword(), newPersonPIN(), newPersonLeave())
}

// secretFlag adds the flag of a file that a secret is read from. Its content is no part of the request's name: nothing
// that is kept tells about a password.
func secretFlag(cmd *cobra.Command, into *string, what string) {
	cmd.Flags().StringVar(into, what+"-file", "", "file whose first line is the "+what+" (default: it is asked for)")
	readsFile(cmd, what+"-file")
	cmd.Flags().Lookup(what + "-file").Annotations[secretFile] = nil
}

// secret reads a password or a PIN: from a file, else twice at the terminal without showing it, else from the first line
// of standard input.
func secret(cmd *cobra.Command, what, file string, check func(string) error) (string, error) {
	var text string
	var err error
	stdin, isFile := cmd.InOrStdin().(*os.File)
	switch {
	case file != "":
		var f *os.File
		if f, err = os.Open(file); err != nil {
			return "", fmt.Errorf("--%s-file: %w", what, err)
		}
		defer f.Close() // only read from
		text, err = firstLine(f)
	case isFile && term.IsTerminal(int(stdin.Fd())):
		text, err = askTwice(cmd, int(stdin.Fd()), what)
	default:
		text, err = firstLine(cmd.InOrStdin())
	}
	if err != nil {
		return "", fmt.Errorf("read the %s: %w", what, err)
	}
	if text == "" {
		return "", usage(cmd, fmt.Errorf("the %s is missing: type it at the terminal, or name a file with --%s-file", what, what))
	}
	if err := check(text); err != nil {
		return "", usage(cmd, err)
	}
	return text, nil
}

func askTwice(cmd *cobra.Command, fd int, what string) (string, error) {
	var answers [2]string
	for i, ask := range []string{what, what + " again"} {
		fmt.Fprintf(cmd.ErrOrStderr(), "%s: ", ask)
		typed, err := terminal.Secret(cmd.Context(), fd)
		fmt.Fprintln(cmd.ErrOrStderr())
		if err != nil {
			return "", err
		}
		answers[i] = string(typed)
	}
	if answers[0] != answers[1] {
		return "", errors.New("the two are not the same: give it again")
	}
	return answers[0], nil
}

func firstLine(in io.Reader) (string, error) {
	line, err := bufio.NewReader(io.LimitReader(in, 4096)).ReadString('\n')
	if errors.Is(err, io.EOF) {
		err = nil
	}
	return strings.TrimRight(line, "\r\n"), err
}

func newPersonAdd() *cobra.Command {
	var owner bool
	var file string
	cmd := &cobra.Command{Use: "add NAME", Short: "Take somebody on, with a password to sign in by", Args: exactly("NAME"),
		Long: `Takes somebody on, who may then sign in to the pages. An owner may do
everything; a mechanic everything but the settings. The first person is an
owner. The password is asked for at the terminal, and kept as a hash only.`,
		Example: "  stead person add \"Tamsin Reeve\" --owner --password-file password.txt\n  stead person add \"Bram Oakes\" --password-file password.txt"}
	cmd.Flags().BoolVar(&owner, "owner", false, "an owner, who may change the settings too")
	secretFlag(cmd, &file, "password")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		password, err := secret(cmd, "password", file, people.CheckPassword)
		if err != nil {
			return err
		}
		role := people.Mechanic
		if owner {
			role = people.Owner
		}
		p, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (people.Person, error) {
			return people.Add(ctx, tx, args[0], role, password, "")
		})
		if err != nil {
			return err
		}
		return show(cmd, p, func() { say(cmd, "%s may sign in: %s", p.Name, p.Role) })
	})
	return cmd
}

func newPersonList() *cobra.Command {
	cmd := &cobra.Command{Use: "list", Short: "List who works here", Args: exactly(), Example: "  stead person list"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		all, err := people.All(cmd.Context(), w)
		if err != nil {
			return err
		}
		if all == nil {
			all = []people.Person{}
		}
		return show(cmd, all, func() {
			var rows [][]string
			for _, p := range all {
				pin := ""
				if p.HasPIN {
					pin = "has a PIN"
				}
				rows = append(rows, []string{p.Name, string(p.Role), pin})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"NAME", "MAY", "PIN"}, rows)
		})
	})
	return cmd
}

// newPersonSet is a command that gives somebody another secret.
func newPersonSet(what, short, example string, check func(string) error, set func(context.Context, pgx.Tx, int64, string) error) *cobra.Command {
	var file string
	cmd := &cobra.Command{Use: what + " NAME", Short: short, Args: exactly("NAME"), Example: example}
	secretFlag(cmd, &file, what)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		text, err := secret(cmd, what, file, check)
		if err != nil {
			return err
		}
		p, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (people.Person, error) {
			p, err := people.Named(ctx, tx, args[0])
			if err != nil {
				return p, err
			}
			return p, set(ctx, tx, p.ID, text)
		})
		if err != nil {
			return err
		}
		return show(cmd, p, func() {
			say(cmd, "%s has a new %s", p.Name, map[string]string{"password": "password", "pin": "PIN"}[what])
		})
	})
	return cmd
}

func newPersonPassword() *cobra.Command {
	return newPersonSet("password", "Give somebody another password", "  stead person password \"Tamsin Reeve\" --password-file password.txt", people.CheckPassword, people.SetPassword)
}

func newPersonPIN() *cobra.Command {
	return newPersonSet("pin", "Give somebody a PIN, to change hands on a tablet that is signed in", "  stead person pin \"Tamsin Reeve\" --pin-file pin.txt", people.CheckPIN, people.SetPIN)
}

func newPersonLeave() *cobra.Command {
	cmd := &cobra.Command{Use: "leave NAME", Short: "Say that somebody works here no more", Args: exactly("NAME"), Example: "  stead person leave \"Bram Oakes\"",
		Long: `Says that somebody works here no more: they are signed out everywhere. What they
did keeps their name. The last owner stays.`}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		p, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (people.Person, error) {
			p, err := people.Named(ctx, tx, args[0])
			if err != nil {
				return p, err
			}
			return p, people.Leave(ctx, tx, p.ID)
		})
		if err != nil {
			return err
		}
		return show(cmd, p, func() { say(cmd, "%s works here no more", p.Name) })
	})
	return cmd
}
