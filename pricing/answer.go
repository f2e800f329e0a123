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

// Answer is what was measured of one thing that a job's quote asks about: of the part at a place of the bike, or of a part of
// the catalogue.
type Answer struct {
	Place  substitution.Place
	PartID int64 // 0: of the bike's
	Facts  substitution.Spec
	Alike  bool // of all parts of the catalogue that say the same and lack it too: see [inventory.AlikeLacking]
}

// AnswerAsks answers what a quote asks. What is said of a part of the catalogue is known of it from then on, and stands
// against later lists; what is said of the bike's joins what is on record there. The quote goes on: it is made anew, once.
func AnswerAsks(ctx context.Context, tx pgx.Tx, jobID int64, answers []Answer, hand inventory.Hand, now time.Time) (Answered, error) {
	if err := checkAnswerable(ctx, tx, jobID); err != nil {
		return Answered{}, err
	}
	var out Answered
	for _, a := range answers {
		err := error(nil)
		if a.PartID != 0 {
			err = out.answerOfPart(ctx, tx, a, hand)
			hand.Seen = nil // which was of the first
		} else {
			err = answerOfBike(ctx, tx, jobID, a)
		}
		if err != nil {
			return Answered{}, err
		}
	}
	var err error
	out.Quote, err = MakeQuote(ctx, tx, jobID, now)
	return out, err
}

func (out *Answered) answerOfPart(ctx context.Context, tx pgx.Tx, a Answer, hand inventory.Hand) error {
	part, err := inventory.PartByID(ctx, tx, a.PartID)
	if err != nil {
		return err
	}
	lacking := map[int64][]string{part.ID: a.Facts.Names()}
	names := map[int64]string{part.ID: part.Name}
	if a.Alike {
		for _, dimension := range a.Facts.Names() {
			others, err := inventory.AlikeLacking(ctx, tx, part, dimension)
			if err != nil {
				return err
			}
			for _, o := range others {
				lacking[o.ID], names[o.ID] = append(lacking[o.ID], dimension), o.Name
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(lacking)) {
		_, err := CorrectPart(ctx, tx, id, hand, func(p *inventory.Part) error {
			for _, name := range lacking[id] {
				p.Spec[name] = a.Facts[name]
			}
			return nil
		})
		if err != nil {
			return err
		}
		out.Parts, out.Names = append(out.Parts, id), append(out.Names, names[id])
		hand.Seen = nil // which was of the first
	}
	return nil
}

func answerOfBike(ctx context.Context, tx pgx.Tx, jobID int64, a Answer) error {
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return err
	}
	site, err := substitution.SiteOf(a.Place)
	if err != nil {
		return err
	}
	part := substitution.Part{Family: site.Family}
	if had := job.Bike.Build[a.Place]; had != nil {
		part = *had
	}
	part.Spec = maps.Clone(part.Spec)
	if part.Spec == nil {
		part.Spec = substitution.Spec{}
	}
	maps.Copy(part.Spec, a.Facts)
	return RecordFitted(ctx, tx, jobID, a.Place, &part)
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
