package pricing

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Approval is a customer's word for an option.
type Approval struct {
	Option string          `json:"option"`
	Total  decimal.Decimal `json:"total"`
	By     string          `json:"by"`
	At     time.Time       `json:"at"`
	// ReadyOn is the day promised: the option's, or a later one that the customer agreed to because that could no
	// longer be kept.
	ReadyOn calendar.Day `json:"ready_on"`
}

// Decision is what the customer says to a quote.
type Decision struct {
	JobID   int64
	Version int    // of the quote that they were shown
	Option  string // by name
	By      string // who approved: a name
	// Accept and Decline name differences by place and rule, "crank.outer-ring chainring.finish"; "all" accepts what is not
	// declined. Every difference of the option must be named one way or the other.
	Accept  []string
	Decline []string
	// WhyNot is why they decline, where they say so; without anything declined it is not kept.
	WhyNot WhyNot
	// ReadyBy is a later day that the customer agreed to, where the quote's can no longer be kept.
	ReadyBy *calendar.Day
	// Allow is how much the customer lets the workshop use beyond what is agreed without asking again, tax included.
	Allow decimal.NullDecimal
}

// Approve records the customer's decision. With every difference accepted the job is approved: what is on the shelf is
// reserved for it and the rest becomes purchase claims. With one declined nothing is approved: the difference is
// remembered with the job and a new version of the quote does without it. What is accepted for now and wished back,
// named in the same way, is remembered with the bike once the job is approved.
func Approve(ctx context.Context, tx pgx.Tx, d Decision, wishBack []string, now time.Time) (Quote, error) {
	if strings.TrimSpace(d.By) == "" {
		return Quote{}, errors.New("an approval needs the name of who gave it")
	}
	if err := d.WhyNot.check(); err != nil {
		return Quote{}, err
	}
	state, err := lockJob(ctx, tx, d.JobID)
	if err != nil {
		return Quote{}, err
	}
	deliveries, err := inventory.LoadDeliveries(ctx, tx, now)
	if err != nil {
		return Quote{}, err
	}
	q, o, err := d.shown(ctx, tx, state, deliveries.Today)
	if err != nil {
		return Quote{}, err
	}
	accepted, declined, err := d.sort(o)
	if err != nil {
		return Quote{}, err
	}
	if len(declined) > 0 && len(wishBack) > 0 {
		return Quote{}, errors.New("with a difference declined nothing is approved yet: say what is wished for next time when the new quote is approved")
	}
	if err := d.record(ctx, tx, q, o, accepted, true, now); err != nil {
		return Quote{}, err
	}
	if err := d.record(ctx, tx, q, o, declined, false, now); err != nil {
		return Quote{}, err
	}
	if len(declined) > 0 {
		if err := d.WhyNot.keep(ctx, tx, q.ID); err != nil {
			return Quote{}, err
		}
		return replan(ctx, tx, q, declined, now)
	}
	readyOn, err := d.readyOn(ctx, tx, q, o, deliveries)
	if err != nil {
		return Quote{}, err
	}
	if q.Amends > 0 {
		if readyOn, err = q.readyWithTheRest(ctx, tx, readyOn); err != nil {
			return Quote{}, err
		}
	}
	if err := rememberWishes(ctx, tx, d.JobID, accepted, wishBack); err != nil {
		return Quote{}, err
	}
	if err := commit(ctx, tx, q, o, d, readyOn, now); err != nil {
		return Quote{}, err
	}
	q.State = Approved
	return q, nil
}

// shown is the quote and the option that are decided on, unless they no longer stand as they were shown.
func (d Decision) shown(ctx context.Context, tx pgx.Tx, state JobState, today calendar.Day) (Quote, Option, error) {
	q, found, err := LastQuote(ctx, tx, d.JobID)
	if err != nil {
		return Quote{}, Option{}, err
	}
	if !found {
		return Quote{}, Option{}, stuck(d.JobID, MakeItsQuote, "job %d has no quote yet", d.JobID)
	}
	if err := q.checkCurrent(d.Version, today); err != nil {
		return Quote{}, Option{}, err
	}
	o, err := q.option(d.Option)
	if err != nil {
		return Quote{}, Option{}, err
	}
	if state != Quoted && (state != JobApproved || q.Amends == 0) {
		return Quote{}, Option{}, fmt.Errorf("job %d is %s: only a quoted job is approved", d.JobID, state)
	}
	if d.Allow.Valid {
		if err := checkPence(d.Allow.Decimal); err != nil {
			return Quote{}, Option{}, err
		}
	}
	return q, o, nil
}

// readyWithTheRest is when an amendment and what it adds to are ready. That more is agreed by now is an error.
func (q Quote) readyWithTheRest(ctx context.Context, tx pgx.Tx, readyOn calendar.Day) (calendar.Day, error) {
	agreed, err := AgreedOn(ctx, tx, q.JobID)
	if err != nil {
		return 0, err
	}
	if last := agreed.Words[len(agreed.Words)-1].Version; last != q.Amends {
		return 0, stuck(q.JobID, AmendIt, "quote version %d of job %d adds to version %d, and version %d is agreed since", q.Version, q.JobID, q.Amends, last)
	}
	return max(readyOn, agreed.ReadyOn), nil
}

// named is the option's name by which it was decided on; its first where none was given.
func (d Decision) named(o Option) string {
	if o.Named(d.Option) {
		return d.Option
	}
	return o.Name()
}

// record keeps what the customer said to some differences: yes or no.
func (d Decision) record(ctx context.Context, tx pgx.Tx, q Quote, o Option, differences []Deviation, yes bool, now time.Time) error {
	for _, dev := range differences {
		if _, err := tx.Exec(ctx, `
			INSERT INTO decision (quote_id, option_name, place, rule, accepted, words, by_whom, at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
			q.ID, d.named(o), dev.Place, dev.Rule, yes, dev.Words, d.By, now); err != nil {
			return fmt.Errorf("recording the decision on %s: %w", dev.Rule, err)
		}
	}
	return nil
}

func rememberWishes(ctx context.Context, tx pgx.Tx, jobID int64, accepted []Deviation, wishBack []string) error {
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return err
	}
	for _, name := range wishBack {
		i := slices.IndexFunc(accepted, func(d Deviation) bool { return d.Name() == name })
		if i < 0 {
			return fmt.Errorf("%q is no difference that was accepted: there is nothing to wish back", name)
		}
		wish, err := wishFor(job.Bike, accepted[i])
		if err != nil {
			return err
		}
		if _, err := addWish(ctx, tx, wish); err != nil {
			return err
		}
	}
	return nil
}

// Name is how a difference is named when it is decided on: its place and its rule.
func (d Difference) Name() string { return string(d.Place) + " " + d.Rule }

// sort splits an option's differences into accepted and declined ones.
func (d Decision) sort(o Option) (accepted, declined []Deviation, err error) {
	var unsaid []string
	known := map[string]bool{"all": true}
	for _, dev := range o.Deviations {
		name := dev.Name()
		known[name] = true
		switch {
		case slices.Contains(d.Decline, name) && slices.Contains(d.Accept, name):
			return nil, nil, fmt.Errorf("%q is both accepted and declined: say one of the two", name)
		case slices.Contains(d.Decline, name):
			declined = append(declined, dev)
		case slices.Contains(d.Accept, name) || slices.Contains(d.Accept, "all"):
			accepted = append(accepted, dev)
		default:
			unsaid = append(unsaid, fmt.Sprintf("%q (%s)", name, dev.Words))
		}
	}
	for _, name := range slices.Concat(d.Accept, d.Decline) {
		if !known[name] || name == "all" && slices.Contains(d.Decline, name) {
			return nil, nil, fmt.Errorf("option %q has no difference %q to decide on", o.Name(), name)
		}
	}
	if len(unsaid) > 0 {
		return nil, nil, fmt.Errorf("the customer must accept or decline each difference; not said yet: %s", strings.Join(unsaid, "; "))
	}
	return accepted, declined, nil
}

// replan remembers what was declined and quotes again without it.
func replan(ctx context.Context, tx pgx.Tx, q Quote, declined []Deviation, now time.Time) (Quote, error) {
	job, err := JobByID(ctx, tx, q.JobID)
	if err != nil {
		return Quote{}, err
	}
	for _, dev := range declined {
		job.Limits.Declined = append(job.Limits.Declined, dev.Difference)
	}
	if err := setLimits(ctx, tx, q.JobID, job.Limits); err != nil {
		return Quote{}, err
	}
	if q.Amends > 0 {
		return Amend(ctx, tx, q.JobID, q.Anew, now)
	}
	return MakeQuote(ctx, tx, q.JobID, now)
}

// commit turns an approved option into reservations and claims. What gives way to an amendment is let go of first.
func commit(ctx context.Context, tx pgx.Tx, q Quote, o Option, d Decision, readyOn calendar.Day, now time.Time) error {
	work, err := workOn(ctx, tx, q.JobID)
	if err != nil {
		return err
	}
	if !d.Allow.Decimal.IsPositive() {
		d.Allow = decimal.NullDecimal{}
	}
	if _, err := tx.Exec(ctx, `INSERT INTO approval (quote_id, option_name, total, by_whom, at, ready_on, work, allowed) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		q.ID, d.named(o), o.Total, d.By, now, readyOn, work, d.Allow); err != nil {
		return fmt.Errorf("recording the approval of job %d: %w", q.JobID, err)
	}
	if _, err := tx.Exec(ctx, `UPDATE quote SET state = 'approved' WHERE id = $1`, q.ID); err != nil {
		return fmt.Errorf("approving quote %d of job %d: %w", q.Version, q.JobID, err)
	}
	if err := setState(ctx, tx, q.JobID, JobApproved); err != nil {
		return err
	}
	var shelf []int64
	for _, p := range o.Parts {
		if p.Shelf {
			shelf = append(shelf, p.PartID)
		}
	}
	for _, l := range q.Instead {
		if l.Kind == PartsLine {
			shelf = append(shelf, l.PartID)
		}
	}
	if err := inventory.Lock(ctx, tx, []int64{q.JobID}, shelf); err != nil {
		return err
	}
	for _, l := range q.Instead {
		if l.Kind != PartsLine {
			continue
		}
		var err error
		if l.Brought { // the bench holds what other parts need, too
			err = inventory.ReleasePieces(ctx, tx, q.JobID, l.placeName(), l.PartID, l.Pieces)
		} else {
			err = inventory.ReleasePlace(ctx, tx, q.JobID, l.placeName())
		}
		if err != nil {
			return err
		}
	}
	for _, p := range o.Parts {
		if p.Shelf {
			if err := inventory.Reserve(ctx, tx, q.JobID, p.PartID, p.placeName(), p.Pieces); err != nil {
				return stuck(q.JobID, QuoteAgain, "the shelf has changed since the quote: %w", err)
			}
			continue
		}
		claim := inventory.Claim{JobID: q.JobID, Place: p.placeName(), PartID: p.PartID, OfferID: p.OfferID, Pieces: p.Pieces,
			Substitute: p.Substitute, DueOn: readyOn}
		if err := inventory.AddClaim(ctx, tx, claim); err != nil {
			return err
		}
	}
	return nil
}

// workOn is what a job's findings come to, place by place, without what is left out. Where what was found after an approval
// was left out, what was agreed there stands.
func workOn(ctx context.Context, tx pgx.Tx, jobID int64) (map[substitution.Place]inspection.Action, error) {
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	terms, err := TermsOf(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	findings := terms.covered(job.Findings)
	if job.State == JobApproved {
		agreed, err := AgreedOn(ctx, tx, jobID)
		if err != nil {
			return nil, err
		}
		findings = agreed.standingOn(terms, job.Findings)
	}
	work := map[substitution.Place]inspection.Action{}
	for _, f := range findings {
		if f.Action != "" && f.Action != inspection.Keep {
			work[f.Place] = f.Action
		}
	}
	return work, nil
}

// placeName is where a part goes; what another part brings goes with the bench.
func (p PartLine) placeName() substitution.Place {
	if p.Place == "" {
		return inventory.Bench
	}
	return p.Place
}
