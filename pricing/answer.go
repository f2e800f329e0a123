package pricing

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
)

// Answered is what became of an answer to a job's quote.
type Answered struct {
	Parts []int64  `json:"parts,omitempty"` // of the catalogue that it is known of now
	Names []string `json:"names,omitempty"`
	Quote Quote    `json:"quote"` // made anew with it
}

// AnswerOfPart answers what a quote asks of a part of the catalogue: what is said is known of the part from then on, and
// stands against later lists. With alike it is said of all parts that say the same and lack it too; see
// [inventory.AlikeLacking]. The quote goes on: it is made anew.
func AnswerOfPart(ctx context.Context, tx pgx.Tx, jobID, partID int64, facts substitution.Spec, alike bool, hand inventory.Hand, now time.Time) (Answered, error) {
	if err := checkAnswerable(ctx, tx, jobID); err != nil {
		return Answered{}, err
	}
	part, err := inventory.PartByID(ctx, tx, partID)
	if err != nil {
		return Answered{}, err
	}
	lacking := map[int64][]string{part.ID: facts.Names()}
	names := map[int64]string{part.ID: part.Name}
	if alike {
		for _, dimension := range facts.Names() {
			others, err := inventory.AlikeLacking(ctx, tx, part, dimension)
			if err != nil {
				return Answered{}, err
			}
			for _, o := range others {
				lacking[o.ID], names[o.ID] = append(lacking[o.ID], dimension), o.Name
			}
		}
	}
	var out Answered
	for _, id := range slices.Sorted(maps.Keys(lacking)) {
		_, err := CorrectPart(ctx, tx, id, hand, func(p *inventory.Part) error {
			for _, name := range lacking[id] {
				p.Spec[name] = facts[name]
			}
			return nil
		})
		if err != nil {
			return Answered{}, err
		}
		out.Parts, out.Names = append(out.Parts, id), append(out.Names, names[id])
		hand.Seen = nil // which was of the first
	}
	out.Quote, err = MakeQuote(ctx, tx, jobID, now)
	return out, err
}

// AnswerOfBike answers what a quote asks of a part on the job's bike: it joins what is on record there, and the quote
// is made anew.
func AnswerOfBike(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place, facts substitution.Spec, now time.Time) (Answered, error) {
	if err := checkAnswerable(ctx, tx, jobID); err != nil {
		return Answered{}, err
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return Answered{}, err
	}
	site, err := substitution.SiteOf(place)
	if err != nil {
		return Answered{}, err
	}
	part := substitution.Part{Family: site.Family}
	if had := job.Bike.Build[place]; had != nil {
		part = *had
	}
	part.Spec = maps.Clone(part.Spec)
	if part.Spec == nil {
		part.Spec = substitution.Spec{}
	}
	maps.Copy(part.Spec, facts)
	if err := RecordFitted(ctx, tx, jobID, place, &part); err != nil {
		return Answered{}, err
	}
	var out Answered
	out.Quote, err = MakeQuote(ctx, tx, jobID, now)
	return out, err
}

// checkAnswerable is an error where a job has no quote that an answer could bring on.
func checkAnswerable(ctx context.Context, tx pgx.Tx, jobID int64) error {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if state != Booked && state != Inspected && state != Quoted {
		return fmt.Errorf("job %d is %s: what a quote asks is answered before the work is approved", jobID, state)
	}
	return nil
}
