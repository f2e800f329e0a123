package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net"
	"net/url"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/demoshop"
	"stead/cmd/stead/internal/pages"
	"stead/inventory/people"
	"stead/migrations"
	"stead/testdata/demo"
)

func newServe() *cobra.Command {
	var listen, public string
	var onDemo bool
	var stopAfter time.Duration
	cmd := &cobra.Command{
		Use: "serve", Short: "Serve the pages for the bench, the counter and the customer", Args: exactly(),
		Example: "  stead serve --demo --for 1s\n  stead serve --listen 127.0.0.1:8080 --for 1s",
		Long: `Serves the workshop's pages until it is stopped: for the bench and the counter
behind a sign-in (` + "`stead person add NAME --owner`" + ` makes the first owner),
and for customers behind links that are sent to them. It prints where the pages
are, with a code for the tablet's camera. It sends the post: see ` + "`stead post`" + `.

It listens on this machine alone unless --listen says otherwise, and speaks
plain HTTP. Before it is reached over anybody else's network, put a server with
TLS in front of it: any that passes requests on to the address of --listen and
tells in X-Forwarded-For whose they are. Name the outer address with --public,
so that links lead there and cookies travel by TLS only.

--demo serves the demo workshop, filled anew, on this machine alone, signed in
as its mechanic.`,
	}
	cmd.Flags().StringVar(&listen, "listen", "127.0.0.1:8017", "address to listen on, such as 192.168.1.5:8017")
	cmd.Flags().StringVar(&public, "public", "", "address by which the pages are reached, such as https://bench.example")
	cmd.Flags().BoolVar(&onDemo, "demo", false, "serve the demo workshop, filled anew")
	cmd.Flags().DurationVar(&stopAfter, "for", 0, "stop by itself after so long, such as 8h")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		if cmd.Flags().Changed("request") {
			return usage(cmd, fmt.Errorf("serve changes nothing by itself, so it takes no --request"))
		}
		if err := checkPublic(public); err != nil {
			return usage(cmd, err)
		}
		if onDemo && !pages.Loopback(listen) {
			return usage(cmd, fmt.Errorf("the demo is served on this machine alone: leave out --listen %s, or give an address of 127.0.0.1", listen))
		}
		w := &workshop{allDay: true, address: func() (lease, error) {
			if onDemo {
				return emptyDemo(cmd)
			}
			return databaseAddress(cmd, migrations.DemoAddress)
		}}
		defer w.close()
		w.hangClock(cmd.Context())
		// The address first: whoever cannot have it has nothing filled.
		l, err := new(net.ListenConfig).Listen(cmd.Context(), "tcp", listen)
		if err != nil {
			// Not wrapped: a trouble of the network is otherwise taken for the database's.
			return fmt.Errorf("listen on %s: %v: is something else there, or stead already? give another with --listen", listen, err)
		}
		defer l.Close() // Serve has closed it by then
		pool, err := w.open(cmd.Context())
		if err != nil {
			return err
		}
		options := pages.Options{DB: pool, Now: now, Public: strings.TrimRight(public, "/"), Log: slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil)), PostKeys: postKeys()}
		if onDemo {
			if options.As, err = fillDemo(cmd.Context(), pool); err != nil {
				return err
			}
		}
		if options.Public == "" {
			options.Public = "http://" + l.Addr().String()
		}
		server, err := pages.New(options)
		if err != nil {
			return err
		}
		if err := sayWhere(cmd, options); err != nil {
			return err
		}
		ctx := cmd.Context()
		if stopAfter > 0 {
			var cancel context.CancelFunc
			ctx, cancel = context.WithTimeout(ctx, stopAfter)
			defer cancel()
		}
		// Whoever serves the pages sends the post.
		office := postman(pool)
		office.Log = options.Log
		working := make(chan struct{})
		ctx, stop := context.WithCancel(ctx)
		go func() { defer close(working); office.Work(ctx) }()
		err = server.Serve(ctx, l)
		stop()
		<-working
		return err
	}
	return cmd
}

// checkPublic says what is wrong with the outer address, if anything is.
func checkPublic(public string) error {
	if public == "" {
		return nil
	}
	u, err := url.Parse(strings.TrimRight(public, "/"))
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.Path != "" || u.RawQuery != "" || u.User != nil {
		return fmt.Errorf("--public is an address such as https://bench.example, not %q", public)
	}
	return nil
}

// fillDemo fills the demo's database, and gives its mechanic. Nobody signs in to it, so nobody needs the password.
func fillDemo(ctx context.Context, pool *pgxpool.Pool) (*people.Person, error) {
	mechanic, err := demoshop.Week(ctx, pool, demo.Files, rand.Text(), now())
	return &mechanic, err
}

// sayWhere prints where the pages are: one line, and a code to point a tablet's camera at.
func sayWhere(cmd *cobra.Command, o pages.Options) error {
	code, err := pages.QR(o.Public)
	if err != nil {
		return err
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s\n", code.Terminal())
	if o.As != nil {
		say(cmd, "the demo workshop is at %s, signed in as %s; stop it with Ctrl-C", o.Public, o.As.Name)
	} else {
		say(cmd, "the workshop is at %s; stop it with Ctrl-C", o.Public)
	}
	return nil
}
