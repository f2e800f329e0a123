package main

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/pricing/billing"
	"stead/substitution/inspection"
)

// worse tells of a bike that turns out worse on the stand: what is new is asked, and what was agreed stays.
func (d *demonstration) worse(job int64) error {
	d.step("On the stand it turns out worse: an amendment beside what was agreed")
	found, err := d.inspect(job, inspection.Taken{Place: "headset", Action: inspection.Adjust, Note: "it knocks under the front brake"})
	if err != nil {
		return err
	}
	printFinding(d.cmd, desk.TellFinding(found.Finding))
	var q pricing.Quote
	if err := d.change("demo amend", func(ctx context.Context, tx pgx.Tx, _ string) (err error) {
		q, err = pricing.Amend(ctx, tx, job, nil, now())
		return err
	}); err != nil {
		return err
	}
	v := desk.TellQuote(q, desk.At(now()))
	say(d.cmd, "Version %d %s.", q.Version, v.AmendsWords())
	o := q.Options[0]
	if err := d.change("demo approve", func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.Approve(ctx, tx, pricing.Decision{JobID: job, Version: q.Version, Option: o.Name(), By: q.Customer, Accept: []string{"all"}}, nil, now())
		return err
	}); err != nil {
		return err
	}
	say(d.cmd, "%s says yes: it adds %s, and the whole is %s.", q.Customer, pricing.Amount(q.Currency, o.Adds.Decimal), pricing.Amount(q.Currency, o.Total))
	return nil
}

// sendsBack tells of a piece of a delivery that is not needed: it goes back, and the supplier's credit is kept when it
// comes.
func (d *demonstration) sendsBack(lines []inventory.OrderLine) error {
	for _, l := range lines {
		if len(l.Claims) > 0 || l.Packs*l.Pack < 2 {
			continue
		}
		d.step("One more came than anybody will buy: it goes back")
		return d.change("demo return", func(ctx context.Context, tx pgx.Tx, key string) error {
			r, err := inventory.SendBack(ctx, tx, key, l.ID, 1, inventory.BackNotNeeded, 0, "", now())
			if err != nil {
				return err
			}
			say(d.cmd, "%s", desk.ReturnWords(r))
			if r, err = inventory.CreditReturn(ctx, tx, r.ID, r.Expected, "CN-2071", now()); err == nil {
				say(d.cmd, "%s", desk.ReturnWords(r))
			}
			return err
		})
	}
	return fmt.Errorf("the demo's delivery has nothing that could go back")
}

// goHome fits what is held for a job, and closes, bills and takes the money for it.
func (d *demonstration) goHome(job int64) error {
	var bill desk.Bill
	var used []inventory.Reservation
	if err := d.change("demo go home", func(ctx context.Context, tx pgx.Tx, key string) (err error) {
		if used, err = pricing.UseHeld(ctx, tx, key, job); err != nil {
			return err
		}
		if err := pricing.CloseJob(ctx, tx, job, false, now()); err != nil {
			return fmt.Errorf("the first bike: %w", err)
		}
		b, err := billing.MakePaid(ctx, tx, job, "card", billing.Moment{Now: now()})
		if err != nil {
			return err
		}
		bill, err = desk.LoadPaid(ctx, tx, b, now())
		return err
	}); err != nil {
		return err
	}
	say(d.cmd, "Job %d: %d parts fitted; the bike goes home.\n", job, len(used))
	printBill(d.cmd, bill)
	return nil
}
