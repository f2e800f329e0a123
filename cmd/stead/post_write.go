package main

import (
	"context"
	"crypto/rand"
	"errors"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/mailing"
	"stead/inventory/post"
	"stead/pricing"
	"stead/pricing/billing"
)

// writing is a command that queues a message.
type writing struct {
	*cobra.Command
	letter mailing.Letter
}

func newWriting(cmd *cobra.Command) *writing {
	w := &writing{Command: cmd}
	cmd.Flags().StringVar(&w.letter.To, "to", "", "address that it goes to (default the one on record)")
	cmd.Flags().StringVar(&w.letter.Note, "note", "", "a line of your own, at its head")
	return w
}

// queues makes the command queue what set gives.
func (wr *writing) queues(set func(ctx context.Context, tx pgx.Tx, arg string) (post.Draft, error)) *cobra.Command {
	wr.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		m, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (post.Message, error) {
			if _, err := post.LoadServer(ctx, tx); err != nil {
				return post.Message{}, err
			}
			d, err := set(ctx, tx, args[0])
			if err != nil {
				return post.Message{}, err
			}
			return post.Queue(ctx, tx, d, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, m, func() {
			say(cmd, "message %d, %s: %s. `stead serve` sends it, or `stead post send`", m.ID, desk.MessageWords(m), desk.At(now()).StateWords(m))
		})
	})
	return wr.Command
}

func newPostQuote() *cobra.Command {
	var public string
	w := newWriting(&cobra.Command{Use: "quote JOB", Short: "Send a job's newest quote to its customer", Args: exactly("JOB"),
		Long: `Queues an e-mail with a job's newest quote, as a paper. With --link it brings
the way to the customer's own page besides, where they can answer: give the
address by which customers reach ` + "`stead serve`" + `.`,
		Example: "  stead post quote 101 --to ines@falkner.example --link https://bench.example"})
	w.Flags().StringVar(&public, "link", "", "address by which customers reach the pages, such as https://bench.example")
	return w.queues(func(ctx context.Context, tx pgx.Tx, arg string) (post.Draft, error) {
		id, err := jobNumber(w.Command, arg)
		if err != nil {
			return post.Draft{}, err
		}
		if err := checkPublic(public); err != nil {
			return post.Draft{}, usage(w.Command, errors.New(strings.Replace(err.Error(), "--public", "--link", 1)))
		}
		l := w.letter
		if public != "" {
			q, err := pricing.ToSend(ctx, tx, id, desk.At(now()).Today())
			if err != nil {
				return post.Draft{}, err
			}
			secret := rand.Text()
			if _, err := pricing.MakeLink(ctx, tx, id, q.Version, secret, now()); err != nil {
				return post.Draft{}, err
			}
			l.Link = strings.TrimRight(public, "/") + "/q/" + secret
		}
		return mailing.Quote(ctx, tx, id, l, now())
	})
}

func newPostBill() *cobra.Command {
	var credit bool
	w := newWriting(&cobra.Command{Use: "bill NUMBER", Short: "Send a bill or a credit note to its customer", Args: exactly("NUMBER"),
		Example: "  stead post bill 1 --to ines@falkner.example"})
	w.Flags().BoolVar(&credit, "credit-note", false, "NUMBER is that of a credit note")
	return w.queues(func(ctx context.Context, tx pgx.Tx, arg string) (post.Draft, error) {
		n, err := paperNumber(w.Command, arg)
		if err != nil {
			return post.Draft{}, err
		}
		series := billing.Bills
		if credit {
			series = billing.Credits
		}
		return mailing.Bill(ctx, tx, series, n, w.letter, now())
	})
}

func newPostOrder() *cobra.Command {
	w := newWriting(&cobra.Command{Use: "order ORDER", Short: "Send an order to its supplier, as a paper and as a table", Args: exactly("ORDER"),
		Example: "  stead post order 501 --to orders@harbour.example --note \"Today, please.\""})
	return w.queues(func(ctx context.Context, tx pgx.Tx, arg string) (post.Draft, error) {
		id, err := orderNumber(w.Command, arg)
		if err != nil {
			return post.Draft{}, err
		}
		return mailing.Order(ctx, tx, id, w.letter, now())
	})
}
