package demoshop

import (
	"context"
	"fmt"
	"io/fs"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"stead/inventory"
	"stead/inventory/people"
	"stead/pricing"
	"stead/pricing/ordering"
)

// Hands is who works in the demo workshop. It is a shop of one: its mechanic owns it.
const Hands = "Jory Penhale"

// Week fills an empty database with the workshop and takes its bikes as far as the week has come: all booked in, looked at
// and quoted; those whose owner has answered, approved; and the order lists sent. The first bike's owner has not answered
// yet: there is a quote to send. It gives who works there, with a password that only the caller knows.
func Week(ctx context.Context, pool *pgxpool.Pool, files fs.FS, password string, now time.Time) (people.Person, error) {
	var mechanic people.Person
	change := func(words string, do func(ctx context.Context, tx pgx.Tx, key string) error) error {
		key := inventory.NewKey()
		_, _, err := inventory.Once(inventory.By(inventory.At(ctx, now), Hands, words), pool, key, "demo: "+words, func(ctx context.Context, tx pgx.Tx) (bool, error) {
			return true, do(ctx, tx, key)
		})
		return err
	}
	if err := change("opened the shop", func(ctx context.Context, tx pgx.Tx, key string) error {
		if err := Load(ctx, tx, files, key, now); err != nil {
			return err
		}
		var err error
		mechanic, err = people.Add(ctx, tx, Hands, people.Owner, password, "")
		return err
	}); err != nil {
		return mechanic, err
	}
	jobs, err := Jobs(files)
	if err != nil {
		return mechanic, err
	}
	for i, j := range jobs {
		if i == 0 {
			j.Decide = nil
		}
		if err := j.take(change, files, now); err != nil {
			return mechanic, fmt.Errorf("demo workshop, %s’s bike: %w", j.Customer, err)
		}
	}
	list, err := ordering.Plan(ctx, pool, ordering.Policy{}, now)
	if err != nil {
		return mechanic, err
	}
	return mechanic, change("sent the orders", func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := ordering.Place(ctx, tx, list, nil, now)
		return err
	})
}

// take brings a bike from booking in to its owner's answer.
func (j Job) take(change func(string, func(context.Context, pgx.Tx, string) error) error, files fs.FS, now time.Time) error {
	var id int64
	if err := change("booked the bike in", func(ctx context.Context, tx pgx.Tx, _ string) (err error) {
		id, err = j.BookIn(ctx, tx, files, now)
		return err
	}); err != nil {
		return err
	}
	if j.Note != "" {
		if err := change("said what was found", func(ctx context.Context, tx pgx.Tx, _ string) error {
			_, reading, err := pricing.ReadNote(ctx, tx, id, j.Note)
			if err != nil {
				return err
			}
			_, err = pricing.KeepNote(ctx, tx, id, pricing.Note{Said: j.Note, SaidAt: now, Findings: reading.Findings, Fitted: reading.Fitted, Unread: reading.Unread})
			return err
		}); err != nil {
			return err
		}
	}
	if len(j.Inspect) > 0 {
		if err := change("said what was found", func(ctx context.Context, tx pgx.Tx, _ string) error {
			for _, visit := range j.Inspect {
				if _, err := pricing.Inspect(ctx, tx, id, visit, now); err != nil {
					return err
				}
			}
			return nil
		}); err != nil {
			return err
		}
	}
	var q pricing.Quote
	if err := change("made a quote", func(ctx context.Context, tx pgx.Tx, _ string) (err error) {
		q, err = pricing.MakeQuote(ctx, tx, id, now)
		return err
	}); err != nil {
		return err
	}
	if j.Decide == nil {
		return nil
	}
	return change("wrote down what "+j.Decide.By+" agreed to", func(ctx context.Context, tx pgx.Tx, _ string) error {
		decision := pricing.Decision{JobID: id, Version: q.Version, Option: j.Decide.Option, By: j.Decide.By, Accept: j.Decide.Accept}
		_, err := pricing.Approve(ctx, tx, decision, j.Decide.Wish, now)
		return err
	})
}
