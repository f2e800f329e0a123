package main

import (
	"context"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/postkey"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory/post"
	"stead/migrations/privatepg"
)

func newPost() *cobra.Command {
	return group("post", "E-mail: what waits, what has left, and the server that it goes by",
		newPostList(), newPostQuote(), newPostBill(), newPostOrder(), newPostSend(), newPostAgain(), newPostCancel(), newPostServer())
}

// postKeys is where the password of the server for outgoing mail is kept; nowhere on a machine without a place for data.
func postKeys() postkey.Folder {
	dir, err := privatepg.DefaultDir()
	if err != nil {
		return ""
	}
	return postkey.Folder(dir)
}

func newPostList() *cobra.Command {
	cmd := &cobra.Command{Use: "list", Short: "List what waits to be sent, what was not, and what has left lately", Args: exactly(),
		Example: "  stead post list"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		p, err := desk.LoadPost(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, p, func() {
			say(cmd, "%s", p.ServerWords())
			printMessages(cmd, p.Clock, append(p.Open, p.Settled...))
		})
	})
	return cmd
}

func printMessages(cmd *cobra.Command, clock desk.Clock, list []post.Message) {
	var rows [][]string
	for _, m := range list {
		rows = append(rows, []string{strconv.FormatInt(m.ID, 10), clock.Stamp(m.MadeAt), desk.MessageWords(m), clock.StateWords(m)})
	}
	if len(rows) > 0 {
		terminal.Table(cmd.OutOrStdout(), []string{">MESSAGE", "WRITTEN", "WHAT", "STATE"}, rows)
	}
}

// sayPost says what was sent about something, and what became of it.
func sayPost(cmd *cobra.Command, clock desk.Clock, list []post.Message) {
	for _, m := range list {
		say(cmd, "  by e-mail: %s, %s", desk.MessageWords(m), clock.StateWords(m))
	}
}

func newPostSend() *cobra.Command {
	cmd := &cobra.Command{Use: "send", Short: "Send what waits now, without waiting for its hour", Args: exactly(),
		Long: `Sends what waits, at once. While ` + "`stead serve`" + ` runs it does so by itself, and
tries again after growing pauses what was not taken; without it, this does.`,
		Example: "  stead post send"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		ids, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]int64, error) {
			open, err := post.Unsettled(ctx, tx)
			ids := []int64{}
			for _, m := range open {
				if m.State == post.Waiting && err == nil {
					ids = append(ids, m.ID)
					err = post.Now(ctx, tx, m.ID, now())
				}
			}
			return ids, err
		})
		if err != nil {
			return err
		}
		tried, err := postman(w.pool).Round(cmd.Context())
		if err != nil {
			return err
		}
		return show(cmd, tried, func() {
			if len(ids) == 0 && len(tried) == 0 {
				say(cmd, "nothing waits")
			}
			printMessages(cmd, desk.At(now()), tried)
		})
	})
	return cmd
}

func postman(pool *pgxpool.Pool) *post.Postman {
	return &post.Postman{DB: pool, Now: now, Password: func(s post.Server) (string, error) { return postKeys().Password(s) }}
}

// messageNumbers reads the numbers of messages.
func messageNumbers(cmd *cobra.Command, args []string) (ids []int64, err error) {
	for _, arg := range args {
		id, err := numbered(cmd, "message", arg)
		if err != nil {
			return nil, err
		}
		ids = append(ids, id)
	}
	return ids, nil
}

func newPostAgain() *cobra.Command {
	cmd := &cobra.Command{Use: "again [MESSAGE …]", Short: "Send once more what was refused, given up, or may have arrived", Args: cobra.ArbitraryArgs,
		Long: `Sends messages once more that a server refused, that were given up, or of which
nobody knows whether they arrived; without a number all that were refused or
given up. A message keeps its identity, by which many programs show it once.`,
		Example: "  stead post again"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		given, err := messageNumbers(cmd, args)
		if err != nil {
			return err
		}
		ids, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]int64, error) {
			ids := append([]int64{}, given...)
			if len(args) == 0 {
				open, err := post.Unsettled(ctx, tx)
				if err != nil {
					return nil, err
				}
				for _, m := range open {
					if m.State == post.Refused || m.State == post.GivenUp {
						ids = append(ids, m.ID)
					}
				}
			}
			for _, id := range ids {
				if err := post.Again(ctx, tx, id, now()); err != nil {
					return nil, err
				}
			}
			return ids, nil
		})
		if err != nil {
			return err
		}
		return show(cmd, ids, func() {
			if len(ids) == 0 {
				say(cmd, "nothing was left unsent")
				return
			}
			say(cmd, "%s sent again with the next post", desk.Several(len(ids), "message"))
		})
	})
	return cmd
}

func newPostCancel() *cobra.Command {
	var arrived bool
	cmd := &cobra.Command{Use: "cancel MESSAGE …", Short: "Take messages out of the queue", Args: atLeast("MESSAGE"), Example: "  stead post cancel 1"}
	cmd.Flags().BoolVar(&arrived, "arrived", false, "you have asked, and what may have arrived has")
	by := cmd.Flags().String("by", "", "who has asked (default who is logged in here)")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		ids, err := messageNumbers(cmd, args)
		if err != nil {
			return err
		}
		who := ""
		if arrived {
			hand, err := handFlags{by: by, why: new(string)}.hand(cmd, w)
			if err != nil {
				return err
			}
			who = hand.By
		}
		if _, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (bool, error) {
			for _, id := range ids {
				var err error
				if arrived {
					err = post.Arrived(ctx, tx, id, who, now())
				} else {
					err = post.Cancel(ctx, tx, id, now())
				}
				if err != nil {
					return false, err
				}
			}
			return true, nil
		}); err != nil {
			return err
		}
		return show(cmd, ids, func() {
			for _, id := range ids {
				if arrived {
					say(cmd, "message %d has arrived", id)
				} else {
					say(cmd, "message %d is cancelled", id)
				}
			}
		})
	})
	return cmd
}
