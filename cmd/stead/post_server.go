package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/postkey"
	"stead/inventory/post"
)

func newPostServer() *cobra.Command {
	var s post.Server
	var none bool
	var security, file string
	cmd := &cobra.Command{Use: "server [HOST]", Short: "Set up the server that mail goes by, or say which it is", Args: cobra.MaximumNArgs(1),
		Long: `Sets up the shop's own server for outgoing mail, as whoever keeps the shop's
mailbox names it. The line is kept safe by TLS: ` + "`starttls`" + ` (port 587) or ` + "`tls`" + `
(port 465); in the clear only to a server on this machine.

The password of --account is asked for, or read from a file, and kept on this
machine in a file of Stead's data that only its user reads, for this server and
account alone. It is never in the database nor in a backup, so each machine that
sends needs it: where there is no such file, ` + postkey.Variable + ` holds it.`,
		Example: "  stead post server mail.example --sender bench@tannery.example \\\n      --account bench --password-file password.txt\n  stead post server"}
	f := cmd.Flags()
	f.StringVar(&s.Sender, "sender", "", "address from which the shop writes")
	f.StringVar(&s.Account, "account", "", "name by which the shop signs in; none if it need not")
	f.StringVar(&security, "security", string(post.StartTLS), "how the line is kept safe: starttls, tls or none")
	f.IntVar(&s.Port, "port", 0, "port (default that of --security)")
	f.BoolVar(&none, "none", false, "no server any more: nothing is sent")
	secretFlag(cmd, &file, "password")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		switch {
		case none && len(args) == 0:
			return noMoreServer(cmd, w)
		case none:
			return usage(cmd, errors.New("give a server, or --none"))
		case len(args) == 0 && anyFlag(cmd):
			return usage(cmd, errors.New("name the server, such as mail.example"))
		case len(args) == 0:
			return showServer(cmd, w)
		}
		s.Host, s.Security = strings.ToLower(args[0]), post.Security(security)
		if s.Sender == "" {
			return usage(cmd, errors.New("--sender is needed: the address from which the shop writes"))
		}
		if err := keepPassword(cmd, s, file); err != nil {
			return err
		}
		if _, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (post.Server, error) { return post.SetServer(ctx, tx, s) }); err != nil {
			return err
		}
		return showServer(cmd, w)
	})
	return cmd
}

// keepPassword keeps the password of the server's account, unless it is here already and none is given.
func keepPassword(cmd *cobra.Command, s post.Server, file string) error {
	if s.Account == "" {
		return nil
	}
	if _, err := postKeys().Password(s); (err == nil || os.Getenv(postkey.Variable) != "") && file == "" {
		return nil
	}
	password, err := secret(cmd, "password", file, func(string) error { return nil })
	if err != nil {
		return err
	}
	return postKeys().Keep(s, password)
}

func showServer(cmd *cobra.Command, w *workshop) error {
	p, err := desk.LoadPost(cmd.Context(), w, now())
	if err != nil {
		return err
	}
	missing := ""
	if p.Server != nil && p.Server.Account != "" {
		if _, err := postKeys().Password(*p.Server); err != nil {
			missing = fmt.Sprint(err)
		}
	}
	return show(cmd, p.Server, func() {
		say(cmd, "%s", p.ServerWords())
		if missing != "" {
			say(cmd, "%s", missing)
		}
	})
}

func noMoreServer(cmd *cobra.Command, w *workshop) error {
	if _, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (bool, error) { return true, post.NoMoreServer(ctx, tx) }); err != nil {
		return err
	}
	return showServer(cmd, w)
}
