package desk

import (
	"context"
	"slices"
	"time"

	"stead/inventory"
	"stead/pricing"
	"stead/pricing/ordering"
)

// Job is a job with where it stands: quote, approval, what is held for it and what it waits for.
type Job struct {
	pricing.Job
	Quote    *pricing.Quote          `json:"quote,omitempty"` // the newest
	Approval *pricing.Approval       `json:"approval,omitempty"`
	Held     []inventory.Reservation `json:"held"`
	Claims   []inventory.Claim       `json:"claims"`
	Expected []ordering.Late         `json:"expected,omitempty"` // what it still waits for, and when that is here as things stand
	Notes    []pricing.Note          `json:"notes,omitempty"`    // what was said of it at the bench
	Wishes   []pricing.Granted       `json:"wishes_that_can_be_met,omitempty"`

	Parts    map[int64]inventory.Part `json:"-"` // those that its limits, its holdings and its claims name
	Currency string                   `json:"-"` // the shop's
	Next     Step                     `json:"-"`
}

// LoadJob gathers all that a job's screen tells, as things stand at a moment.
func LoadJob(ctx context.Context, db inventory.DB, id int64, now time.Time) (Job, error) {
	job, err := pricing.JobByID(ctx, db, id)
	if err != nil {
		return Job{}, err
	}
	v := Job{Job: job}
	quote, quoted, err := pricing.LastQuote(ctx, db, id)
	if err != nil {
		return v, err
	}
	if quoted {
		v.Quote = &quote
	}
	if quoted && quote.State == pricing.Approved {
		_, approval, err := pricing.ApprovedQuote(ctx, db, id)
		if err != nil {
			return v, err
		}
		v.Approval = &approval
	}
	if v.Held, err = inventory.ReservationsOf(ctx, db, id); err != nil {
		return v, err
	}
	if v.Claims, err = inventory.ClaimsOfJob(ctx, db, id); err != nil {
		return v, err
	}
	if v.Expected, err = ordering.Expected(ctx, db, id, now); err != nil {
		return v, err
	}
	if v.Notes, err = pricing.NotesOf(ctx, db, id); err != nil {
		return v, err
	}
	if v.Wishes, err = wishesOf(ctx, db, job.Bike.ID, now); err != nil {
		return v, err
	}
	if v.Parts, err = inventory.Parts(ctx, db, v.named()); err != nil {
		return v, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	v.Currency = shop.Currency
	v.Next = v.next()
	return v, err
}

// wishesOf are the remembered wishes of a bike that can be met now.
func wishesOf(ctx context.Context, db inventory.DB, bikeID int64, now time.Time) ([]pricing.Granted, error) {
	granted, err := pricing.GrantableWishes(ctx, db, now)
	if err != nil {
		return nil, err
	}
	var out []pricing.Granted
	for _, g := range granted {
		if g.Wish.BikeID == bikeID {
			out = append(out, g)
		}
	}
	return out, nil
}

// named are the parts that the screen calls by name.
func (v Job) named() []int64 {
	ids := v.Limits.Parts()
	for _, h := range v.Held {
		ids = append(ids, h.PartID)
	}
	for _, c := range v.Claims {
		ids = append(ids, c.PartID)
	}
	return ids
}

// Step is what a job asks for next.
type Step int

const (
	NoStep     Step = iota // the bike has gone home
	Inspect                // say what was found
	Decide                 // answer what the findings ask
	MakeQuote              // price and date it
	GiveUp                 // nothing does it: give something up
	Ask                    // the customer has the word
	OrderParts             // order what it waits for
	Await                  // its parts are on the way
	Fit                    // fit what is held
	HandBack               // close it
)

// next is what the job asks for.
func (v Job) next() Step {
	claimed := func(state string) bool {
		return slices.ContainsFunc(v.Claims, func(c inventory.Claim) bool { return c.State == state })
	}
	switch {
	case v.State == pricing.Booked:
		return Inspect
	case v.State == pricing.Inspected:
		for _, f := range v.Findings {
			if len(f.Asks) > 0 {
				return Decide
			}
		}
		return MakeQuote
	case v.State == pricing.Quoted && v.Quote != nil:
		return AfterQuote(*v.Quote)
	case v.State != pricing.JobApproved:
		return NoStep
	case claimed(inventory.ClaimWanted):
		return OrderParts
	case claimed(inventory.ClaimOrdered):
		return Await
	case len(v.Held) > 0:
		return Fit
	}
	return HandBack
}

// AfterQuote is what a job asks for once a quote is made.
func AfterQuote(q pricing.Quote) Step {
	if len(q.Options) == 0 {
		return GiveUp
	}
	return Ask
}
