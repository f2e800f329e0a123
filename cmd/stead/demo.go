package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/demoshop"
	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
	"stead/pricing/ordering"
	"stead/substitution/inspection"
	"stead/testdata/demo"
)

func newDemo() *cobra.Command {
	cmd := &cobra.Command{
		Use: "demo", Short: "Show the whole job on an invented workshop", Args: exactly(), Example: "  stead demo --yes",
		Long: `Fills a database of its own with an invented workshop, its wholesalers and a
week of bikes, and takes one bike from booking in to its order. The workshop's
own data is never touched. Afterwards every command works on it with
--database demo.`,
	}
	cmd.Flags().Bool("yes", false, "install PostgreSQL by the system's package manager if there is none, without asking")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		if cmd.Flags().Changed("request") {
			return usage(cmd, errors.New("the demo begins anew each time, so it takes no --request"))
		}
		began := time.Now()
		w := &workshop{address: func() (lease, error) { return emptyDemo(cmd) }}
		defer w.close()
		w.hangClock(cmd.Context())
		d := demonstration{cmd: cmd, w: w}
		if err := d.tell(); err != nil {
			return err
		}
		fmt.Fprintf(cmd.ErrOrStderr(), "(%.1f seconds)\n", time.Since(began).Seconds())
		return nil
	}
	return cmd
}

// demonstration tells the story of one bike, with the rest of the week around it.
type demonstration struct {
	cmd *cobra.Command
	w   *workshop
	n   int // of the step
}

// step begins a new part of the story.
func (d *demonstration) step(title string) {
	d.n++
	say(d.cmd, "\n%s", terminal.Rule(fmt.Sprintf("%d. %s", d.n, title)))
}

// change is one transaction of the story.
func (d *demonstration) change(what string, do func(ctx context.Context, tx pgx.Tx, key string) error) error {
	pool, err := d.w.open(d.cmd.Context())
	if err != nil {
		return err
	}
	key := inventory.NewKey()
	_, _, err = inventory.Once(inventory.At(d.cmd.Context(), now()), pool, key, what, func(ctx context.Context, tx pgx.Tx) (bool, error) {
		return true, do(ctx, tx, key)
	})
	deedOf(d.cmd.Context()).ended("the demo workshop is filled in part: `stead demo` begins it anew")
	return err
}

func (d *demonstration) tell() error {
	if err := d.change("demo workshop", func(ctx context.Context, tx pgx.Tx, key string) error {
		return demoshop.Load(ctx, tx, demo.Files, key, now())
	}); err != nil {
		return err
	}
	jobs, err := demoshop.Jobs(demo.Files)
	if err != nil {
		return err
	}
	if len(jobs) == 0 {
		return fmt.Errorf("the demo workshop has no bikes")
	}
	first, err := d.firstBike(jobs[0])
	if err != nil {
		return err
	}
	if err := d.otherBikes(jobs[1:]); err != nil {
		return err
	}
	if err := d.order(); err != nil {
		return err
	}
	if err := d.deliver(first); err != nil {
		return err
	}
	return d.waiting()
}

// firstBike goes through booking in, inspection, quote and approval one by one.
func (d *demonstration) firstBike(j demoshop.Job) (int64, error) {
	shop, err := inventory.LoadShop(d.cmd.Context(), d.w)
	if err != nil {
		return 0, err
	}
	d.step(j.Customer + " brings in a " + j.Bike)
	say(d.cmd, "%s", terminal.Wrap("", fmt.Sprintf("%s. “%s”", shop.Name, j.Wish)))
	var id int64
	if err := d.change("demo book in", func(ctx context.Context, tx pgx.Tx, _ string) (err error) {
		id, err = j.BookIn(ctx, tx, demo.Files, now())
		return err
	}); err != nil {
		return 0, err
	}
	say(d.cmd, "Job %d. On record: %d places of the bike, one of them not known yet.", id, len(j.Build))

	d.step("The mechanic says what is seen; readings propose, the mechanic decides")
	if err := d.note(id, j.Note); err != nil {
		return 0, err
	}
	for _, f := range j.Inspect {
		found, err := d.inspect(id, f)
		if err != nil {
			return 0, err
		}
		printFinding(d.cmd, desk.TellFinding(found.Finding))
	}

	d.step("What fits, from the shelf and four suppliers, priced and dated")
	q, err := d.quote(id)
	if err != nil {
		return 0, err
	}
	printQuote(d.cmd, desk.TellQuote(q, desk.At(now())))

	d.step(j.Customer + " decides, difference by difference")
	return id, d.decide(id, q, *j.Decide)
}

// note reads what was dictated at the bench and keeps all of it.
func (d *demonstration) note(id int64, said string) error {
	if said == "" {
		return nil
	}
	say(d.cmd, "%s", terminal.Wrap("  ", "“"+said+"”")+"\n")
	v, err := desk.LoadNote(d.cmd.Context(), d.w, id, said)
	if err != nil {
		return err
	}
	printNoteView(d.cmd, v)
	return d.change("demo note", func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.KeepNote(ctx, tx, id, pricing.Note{Said: said, SaidAt: now(), Findings: v.Reading.Findings, Fitted: v.Reading.Fitted, Unread: v.Reading.Unread})
		return err
	})
}

func (d *demonstration) inspect(id int64, visit inspection.Taken) (out pricing.Found, err error) {
	err = d.change("demo inspect", func(ctx context.Context, tx pgx.Tx, _ string) error {
		out, err = pricing.Inspect(ctx, tx, id, visit, now())
		return err
	})
	return out, err
}

func (d *demonstration) quote(id int64) (q pricing.Quote, err error) {
	err = d.change("demo quote", func(ctx context.Context, tx pgx.Tx, _ string) error {
		q, err = pricing.MakeQuote(ctx, tx, id, now())
		return err
	})
	return q, err
}

func (d *demonstration) decide(id int64, q pricing.Quote, said demoshop.Decision) error {
	decision := pricing.Decision{JobID: id, Version: q.Version, Option: said.Option, By: said.By, Accept: said.Accept}
	if err := d.change("demo approve", func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.Approve(ctx, tx, decision, said.Wish, now())
		return err
	}); err != nil {
		return err
	}
	for _, o := range q.Options {
		if !o.Named(said.Option) {
			continue
		}
		say(d.cmd, "%s", terminal.Wrap("", fmt.Sprintf("%s approves option %s: %s, %s.", said.By, said.Option, pricing.Amount(q.Currency, o.Total), o.Promise)))
		for _, dev := range o.Deviations {
			words := "accepted: " + dev.Words
			if slices.Contains(said.Wish, dev.Name()) {
				words += "; “as it was, next time” is remembered with the bike"
			}
			say(d.cmd, "%s", terminal.Wrap("  ", words))
		}
	}
	return nil
}

// otherBikes takes the rest of the week through in a few lines each.
func (d *demonstration) otherBikes(jobs []demoshop.Job) error {
	d.step("The rest of the week")
	for _, j := range jobs {
		var id int64
		if err := d.change("demo book in", func(ctx context.Context, tx pgx.Tx, _ string) (err error) {
			id, err = j.BookIn(ctx, tx, demo.Files, now())
			return err
		}); err != nil {
			return err
		}
		for _, f := range j.Inspect {
			if _, err := d.inspect(id, f); err != nil {
				return err
			}
		}
		q, err := d.quote(id)
		if err != nil {
			return err
		}
		say(d.cmd, "%s", terminal.Wrap("", fmt.Sprintf("Job %d, %s's %s: %s.", id, j.Customer, j.Bike, j.Lesson)))
		d.outcome(q, j)
		if j.Decide == nil {
			continue
		}
		decision := pricing.Decision{JobID: id, Version: q.Version, Option: j.Decide.Option, By: j.Decide.By, Accept: j.Decide.Accept}
		if err := d.change("demo approve", func(ctx context.Context, tx pgx.Tx, _ string) error {
			_, err := pricing.Approve(ctx, tx, decision, j.Decide.Wish, now())
			return err
		}); err != nil {
			return err
		}
	}
	return nil
}

// outcome says in a few lines what a quote came to.
func (d *demonstration) outcome(q pricing.Quote, j demoshop.Job) {
	if q.Refusal != nil {
		for _, why := range q.Refusal.Why {
			say(d.cmd, "%s", terminal.Wrap("    ", why))
		}
		for _, way := range q.Refusal.WaysOut {
			say(d.cmd, "%s", terminal.Wrap("    ", "way out: "+way))
		}
		return
	}
	for _, o := range q.Options {
		if j.Decide == nil || !o.Named(j.Decide.Option) {
			continue
		}
		words := fmt.Sprintf("approved: %s, %s", pricing.Amount(q.Currency, o.Total), o.Promise)
		for _, dev := range o.Deviations {
			words += "; " + dev.Words
		}
		say(d.cmd, "%s", terminal.Wrap("    ", words))
	}
}

// order makes and places the order lists.
func (d *demonstration) order() error {
	d.step("One order list a supplier, for all jobs and the shelf together")
	plan, err := desk.LoadOrderPlan(d.cmd.Context(), d.w, ordering.Policy{}, false, now())
	if err != nil {
		return err
	}
	printOrderPlan(d.cmd, plan.Some(desk.LinesAsked{From: 1, Most: desk.ScreenLines}))
	return d.change("demo order", func(ctx context.Context, tx pgx.Tx, _ string) error {
		placed, err := ordering.Place(ctx, tx, plan.List, nil, now())
		if err != nil {
			return err
		}
		var numbers []string
		for _, o := range placed {
			numbers = append(numbers, fmt.Sprint(o.ID))
		}
		say(d.cmd, "Placed as orders %s.", strings.Join(numbers, ", "))
		return nil
	})
}

// deliver brings in the orders that the first job waits for, and finishes it.
func (d *demonstration) deliver(job int64) error {
	d.step("The parcels come")
	ctx := d.cmd.Context()
	orders, err := inventory.Orders(ctx, d.w, true)
	if err != nil {
		return err
	}
	claims, err := inventory.ClaimsOfJob(ctx, d.w, job)
	if err != nil {
		return err
	}
	waits := map[int64]bool{}
	for _, c := range claims {
		if c.OrderLineID != nil {
			waits[*c.OrderLineID] = true
		}
	}
	var came []inventory.OrderLine
	for _, o := range orders {
		var arrivals []inventory.Arrival
		wanted := false
		for _, l := range o.Lines {
			wanted = wanted || waits[l.ID]
			arrivals = append(arrivals, inventory.Arrival{LineID: l.ID, Outcome: inventory.Good, Pieces: l.Awaited()})
		}
		if !wanted {
			continue
		}
		if err := d.change("demo receive", func(ctx context.Context, tx pgx.Tx, key string) error {
			r, err := inventory.ReceiveOrder(ctx, tx, key, o.ID, "", inventory.Into{Bin: "A1"}, now(), arrivals, false)
			if err == nil {
				printReceipt(d.cmd, desk.Receipt{Receipt: r})
			}
			return err
		}); err != nil {
			return err
		}
		came = append(came, o.Lines...)
	}
	if err := d.sendsBack(came); err != nil {
		return err
	}
	if err := d.worse(job); err != nil {
		return err
	}
	d.step("The first bike is finished, billed and paid")
	return d.goHome(job)
}

// waiting ends the story with what is open, and how to look further.
func (d *demonstration) waiting() error {
	d.step("What is waiting for whom")
	if err := listJobs(d.cmd, d.w, pricing.JobSearch{}); err != nil {
		return err
	}
	say(d.cmd, "")
	if err := listOrders(d.cmd, d.w, true); err != nil {
		return err
	}
	say(d.cmd, "\nLook around in it:\n  go run ./cmd/stead job show 102 --database demo\n  go run ./cmd/stead fit instead COR-R110-50O-B --database demo\n  go run ./cmd/stead stock history KES-B14-G25 --database demo")
	return nil
}
