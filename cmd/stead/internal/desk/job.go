package desk

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/photo"
	"stead/inventory/post"
	"stead/pricing"
	"stead/pricing/billing"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Job is a job with where it stands: quote, approval, what is held for it and what it waits for.
type Job struct {
	pricing.Job
	Clock
	Quote     *Quote                  `json:"quote,omitempty"` // the one that was approved, else the newest
	Approval  *pricing.Approval       `json:"approval,omitempty"`
	Agreement *pricing.Agreement      `json:"agreement,omitempty"` // what was approved, with what amendments made of it
	Amendment *Quote                  `json:"amendment,omitempty"` // open: the customer has not answered yet
	Terms     pricing.Terms           `json:"terms,omitzero"`
	Account   billing.Account         `json:"account,omitzero"`
	Extras    []pricing.Extra         `json:"extras,omitempty"`  // used beyond what was agreed
	Advised   []pricing.Advice        `json:"advised,omitempty"` // in the bike's earlier jobs, and not done since
	Held      []inventory.Reservation `json:"held"`
	Claims    []inventory.Claim       `json:"claims"`
	Expected  []ordering.Late         `json:"expected,omitempty"`    // what it still waits for, and when that is here as things stand
	Changed   []string                `json:"judged_anew,omitempty"` // what was agreed and the rules would not take now
	Notes     []pricing.Note          `json:"notes,omitempty"`       // what was said of it at the bench
	Noes      []pricing.SaidNo        `json:"declined,omitempty"`    // what its customer said no to, and why
	Photos    []Photo                 `json:"photos,omitempty"`
	Wishes    []pricing.Granted       `json:"wishes_that_can_be_met,omitempty"`
	Post      []post.Message          `json:"post,omitempty"` // what was sent, or is to be

	Parts    map[int64]inventory.Part `json:"-"` // those that its limits, its holdings and its claims name
	Currency string                   `json:"-"` // the shop's
	Next     Step                     `json:"-"`

	names map[string]string // of the suppliers that its limits name, by their codes
}

// LoadJob gathers all that a job's screen tells, as things stand at a moment.
func LoadJob(ctx context.Context, db inventory.DB, id int64, now time.Time) (Job, error) {
	job, err := pricing.JobByID(ctx, db, id)
	if err != nil {
		return Job{}, err
	}
	v := Job{Job: job, Clock: At(now)}
	quote, quoted, err := LoadQuote(ctx, db, id, now)
	if err != nil {
		return v, err
	}
	var newest *Quote
	if quoted {
		newest = &quote
		v.Quote = newest
	}
	if quoted && (quote.State == pricing.Approved || quote.Amends > 0) {
		if err := v.loadAgreed(ctx, db, quote); err != nil {
			return v, err
		}
	}
	if v.Terms, err = pricing.TermsOf(ctx, db, id); err != nil {
		return v, err
	}
	advised, err := pricing.AdvisedOn(ctx, db, job.Bike.ID)
	if err != nil {
		return v, err
	}
	v.Advised = slices.DeleteFunc(advised, func(a pricing.Advice) bool { return a.JobID == id })
	if v.Account, err = billing.AccountOfJob(ctx, db, id); err != nil {
		return v, err
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
	if v.Post, err = post.OfJob(ctx, db, id); err != nil {
		return v, err
	}
	if v.Notes, err = pricing.NotesOf(ctx, db, id); err != nil {
		return v, err
	}
	if v.Noes, err = pricing.NoesOf(ctx, db, id); err != nil {
		return v, err
	}
	if v.Photos, err = LoadPhotos(ctx, db, photo.Of{JobID: id}); err != nil {
		return v, err
	}
	if v.Wishes, err = pricing.WishesOf(ctx, db, job.Bike.ID, now); err != nil {
		return v, err
	}
	if v.names, err = supplierNames(ctx, db, v.Limits); err != nil {
		return v, err
	}
	if v.Parts, err = inventory.Parts(ctx, db, v.named()); err != nil {
		return v, err
	}
	v.judgeAnew()
	shop, err := inventory.LoadShop(ctx, db)
	v.Currency = shop.Currency
	v.Next = nextOf(standing{v.State, v.Findings, newest, v.Claims, len(v.Held) > 0, v.Agreement != nil && len(v.Agreement.New(v.Terms, v.Findings)) > 0})
	return v, err
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

// Asked is the quote that the customer has the word on: an amendment that is open, else the job's quote.
func (v Job) Asked() *Quote {
	if v.Amendment != nil {
		return v.Amendment
	}
	return v.Quote
}

// Whose is whose bike it is, and which.
func (v Job) Whose() string { return v.Bike.Customer.Name + "'s " + v.Bike.Words }

// LimitWords are what it must keep to.
func (v Job) LimitWords() []string {
	return limitWords(v.Limits, v.Parts, v.names, v.Currency, v.Clock)
}

// NoteWords are what was said of it at the bench, with when.
func (v Job) NoteWords() []string {
	var out []string
	for _, n := range v.Notes {
		out = append(out, fmt.Sprintf("said on %s: “%s”", v.DayOf(n.SaidAt), strings.Join(strings.Fields(n.Said), " ")))
	}
	return out
}

// Found is what was found, in words.
func (v Job) Found() []Finding {
	var out []Finding
	for _, f := range v.Findings {
		// What has been looked at is not asked for again.
		f.Proposal.LookAt = slices.DeleteFunc(slices.Clone(f.Proposal.LookAt), func(at substitution.Place) bool {
			return slices.ContainsFunc(v.Findings, func(g inspection.Finding) bool { return g.Place == at })
		})
		out = append(out, TellFinding(f))
	}
	return out
}

// ApprovedWords say by whom, when and for what it was approved; empty where it was not.
func (v Job) ApprovedWords() string {
	if v.Approval == nil {
		return ""
	}
	return fmt.Sprintf("Approved by %s on %s: option %s, %s", v.Approval.By, v.DayOf(v.Approval.At), v.Quote.ApprovedOption(*v.Approval), v.Quote.ApprovedWords(*v.Approval))
}

// LaterWords say that what it waits for is not all here by the day that was promised; empty where it is.
func (v Job) LaterWords() string {
	if v.Approval == nil {
		return ""
	}
	switch last := ordering.LastOf(v.Expected); {
	case last == nil:
		return "later than that: for some of it no day can be given now"
	case *last > v.Agreement.ReadyOn:
		return "later than that: as things stand all is here by " + v.Day(*last)
	}
	return ""
}

// AccountWords say what was billed, what was paid, and what is due.
func (v Job) AccountWords() []string {
	var out []string
	for _, b := range v.Account.Papers {
		out = append(out, fmt.Sprintf("%s %d: %s", b.Series, b.Number, pricing.Amount(v.Currency, counted(b, b.Total))))
	}
	return append(out, accountWords(v.Account, v.Currency, v.Clock)...)
}

// EndingWords say how it ended and what is due.
func (v Job) EndingWords() []string { return endingWords(v.Ending, v.Account, v.Currency, v.Clock) }

// PartWords say what is held for it, what was cancelled, and what it waits for.
func (v Job) PartWords() []string {
	var out []string
	for _, h := range v.Held {
		out = append(out, fmt.Sprintf("held on the shelf: %d of %s", h.Pieces, v.Parts[h.PartID].Name))
	}
	for _, c := range v.Claims {
		if c.State == inventory.ClaimCancelled { // any other is among what is expected or held, or fitted
			out = append(out, fmt.Sprintf("%s: %d of %s, due %s", c.State, c.Pieces, v.Parts[c.PartID].Name, v.Day(c.DueOn)))
		}
	}
	for _, l := range v.Expected {
		state := inventory.ClaimOrdered
		if l.NotOrdered {
			state = inventory.ClaimWanted
		}
		out = append(out, fmt.Sprintf("%s: %d of %s, due %s; it %s", state, l.Pieces, l.Part, v.Day(l.Promised), l.When(v.Today())))
	}
	return out
}

// Ended is how a job was closed or given up.
type Ended struct {
	Job    int64            `json:"job"`
	State  pricing.JobState `json:"state"`
	Ending *pricing.Ending  `json:"ending"`
	Paid   decimal.Decimal  `json:"paid"`
	ToPay  decimal.Decimal  `json:"to_pay"` // of what is due for it, without what was paid; below zero: to be paid back
	Words  []string         `json:"-"`
}

// LoadEnded tells how a job has ended.
func LoadEnded(ctx context.Context, db inventory.DB, id int64, now time.Time) (v Ended, err error) {
	job, err := pricing.JobByID(ctx, db, id)
	if err != nil {
		return v, err
	}
	account, err := billing.AccountOfJob(ctx, db, id)
	if err != nil {
		return v, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	v = Ended{Job: id, State: job.State, Ending: job.Ending, Paid: account.Paid, Words: endingWords(job.Ending, account, shop.Currency, At(now))}
	if job.Ending != nil {
		_, v.ToPay = balance(*job.Ending, account)
	}
	return v, err
}
