package pricing

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/substitution"
)

// StoodIn is what becomes of a job that wanted a part for which another stands in now: an amendment, which is approved where
// the customer has no more to pay, waits no longer, and nothing is different from what they agreed to; else it is theirs to
// answer.
type StoodIn struct {
	JobID    int64              `json:"job"`
	Customer string             `json:"customer"`
	Place    substitution.Place `json:"place"`
	Quote    Quote              `json:"quote"`
}

// StandIn buys another part in the stead of one: what the shelf lacks of it from now on, and what approved jobs want of it
// and nobody has ordered yet. Whatever breaks a rule of fit or safety, or cannot be told, is an error, and so is a job on
// which the other part does not do.
func StandIn(ctx context.Context, tx pgx.Tx, part, other inventory.Part, hand inventory.Hand, now time.Time) ([]StoodIn, error) {
	v, err := substitution.Instead(&part.Part, &other.Part)
	if err != nil {
		return nil, fmt.Errorf("%s in the stead of %s: %w", other.Name, part.Name, err)
	}
	if stops := v.Stops(); len(stops) > 0 {
		return nil, fmt.Errorf("%s does not stand in for %s: %s", other.Name, part.Name, stops[0].Words)
	}
	if v.Fits == substitution.NoRule {
		return nil, fmt.Errorf("no rule tells whether %s stands in for %s", other.Name, part.Name)
	}
	claims, err := inventory.OpenClaims(ctx, tx)
	if err != nil {
		return nil, err
	}
	places := map[int64][]substitution.Place{}
	for _, c := range claims {
		if c.PartID != part.ID || c.State != inventory.ClaimWanted || slices.Contains(places[c.JobID], c.Place) {
			continue
		}
		if c.Place == inventory.Bench {
			return nil, stuck(c.JobID, AmendIt, "job %d wants %s beside another part: look for another in that one's place", c.JobID, part.Name)
		}
		places[c.JobID] = append(places[c.JobID], c.Place)
	}
	out := []StoodIn{}
	for _, job := range slices.Sorted(maps.Keys(places)) {
		for _, place := range places[job] {
			s, err := standInOn(ctx, tx, job, place, other, hand, now)
			if err != nil {
				return nil, err
			}
			out = append(out, s)
		}
	}
	return out, inventory.OrderByHand(ctx, tx, inventory.ByHand{PartID: part.ID, StandInID: &other.ID}, calendar.DayOf(now), hand)
}

// standInOn amends one job.
func standInOn(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place, other inventory.Part, hand inventory.Hand, now time.Time) (StoodIn, error) {
	if _, err := lockJob(ctx, tx, jobID); err != nil {
		return StoodIn{}, err
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return StoodIn{}, err
	}
	agreed, err := AgreedOn(ctx, tx, jobID)
	if err != nil {
		return StoodIn{}, err
	}
	only := maps.Clone(job.Limits.OnlyParts)
	if only == nil {
		only = map[substitution.Place]int64{}
	}
	only[place] = other.ID
	job.Limits.OnlyParts = only
	if err := setLimits(ctx, tx, jobID, job.Limits); err != nil {
		return StoodIn{}, err
	}
	q, err := Amend(ctx, tx, jobID, []substitution.Place{place}, now)
	if err != nil {
		return StoodIn{}, err
	}
	out := StoodIn{JobID: jobID, Customer: job.Bike.Customer.Name, Place: place, Quote: q}
	if len(q.Options) == 0 {
		return out, fmt.Errorf("%s does not do for the %s of job %d: %s", other.Name, siteWords(place), jobID, q.Refusal.Why[0])
	}
	o := optionNamed(q.Options, "cheapest")
	accepted, err := acceptedOn(ctx, tx, jobID)
	if err != nil || q.State == Approved || !q.onlyAt(o, place) || !o.asAgreed(agreed, accepted) {
		return out, err
	}
	if err := commit(ctx, tx, q, o, Decision{By: hand.By + ", like for like"}, max(o.ReadyOn, agreed.ReadyOn), now); err != nil {
		return out, err
	}
	out.Quote.State = Approved
	return out, nil
}

// optionNamed is the option that goes by a name, or the first.
func optionNamed(options []Option, name string) Option {
	if i := slices.IndexFunc(options, func(o Option) bool { return o.Named(name) }); i >= 0 {
		return options[i]
	}
	return options[0]
}

// onlyAt reports whether nothing is new in an amendment but the part at one place, and what it brings.
func (q Quote) onlyAt(o Option, place substitution.Place) bool {
	return len(q.Labour) == 0 && !slices.ContainsFunc(o.Parts, func(p PartLine) bool { return !p.Brought && p.Place != place })
}

// asAgreed reports whether an amendment gives the customer what they agreed to: for no more, as soon, and with no difference
// that they have not accepted.
func (o Option) asAgreed(agreed Agreement, accepted []Deviation) bool {
	return !o.Adds.Decimal.IsPositive() && o.ReadyOn <= agreed.ReadyOn &&
		!slices.ContainsFunc(o.Deviations, func(d Deviation) bool {
			return !slices.ContainsFunc(accepted, func(a Deviation) bool { return a.Difference == d.Difference && a.Words == d.Words })
		})
}

// acceptedOn are the differences that the customer of a job has accepted.
func acceptedOn(ctx context.Context, db inventory.DB, jobID int64) ([]Deviation, error) {
	rows, err := db.Query(ctx, `SELECT q.document, a.option_name FROM quote q JOIN approval a ON a.quote_id = q.id WHERE q.job_id = $1`, jobID)
	if err != nil {
		return nil, fmt.Errorf("loading what was accepted on job %d: %w", jobID, err)
	}
	var out []Deviation
	var q Quote
	var option string
	_, err = pgx.ForEachRow(rows, []any{&q, &option}, func() error {
		out = append(out, optionNamed(q.Options, option).Deviations...)
		q = Quote{}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("loading what was accepted on job %d: %w", jobID, err)
	}
	return out, nil
}
