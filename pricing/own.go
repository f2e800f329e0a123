package pricing

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/substitution"
)

// OwnPart is a part of the customer's own: brought to be fitted, or taken off and put back. The workshop sells nothing at
// its place and does not answer for the part.
type OwnPart struct {
	Place substitution.Place `json:"place"`
	Words string             `json:"words"` // the customer's
	Back  bool               `json:"put_back,omitempty"`
	Part  *substitution.Part `json:"part,omitempty"` // absent: nothing is known of it
}

// SetOwnPart records a part of the customer's own. One of which enough is known, and which does not fit, is refused.
func SetOwnPart(ctx context.Context, tx pgx.Tx, jobID int64, o OwnPart, now time.Time) error {
	if o.Words = strings.TrimSpace(o.Words); o.Words == "" {
		return errors.New("say in the customer's words what part it is, such as \"chain from my spares box\"")
	}
	site, err := substitution.SiteOf(o.Place)
	if err != nil {
		return err
	}
	if o.Part != nil {
		checked, err := o.Part.Check()
		if err != nil {
			return fmt.Errorf("%s: %w", site.Words, err)
		}
		if checked.Family != site.Family {
			return fmt.Errorf("%s takes a %s, not a %s", o.Place, site.Family, checked.Family)
		}
		o.Part = &checked
	}
	return changeTerms(ctx, tx, jobID, func(job Job) error {
		if job.State == JobApproved {
			agreed, err := AgreedOn(ctx, tx, jobID)
			if err != nil {
				return err
			}
			if pieces, _ := agreed.at(o.Place); pieces > 0 {
				return fmt.Errorf("a part of ours is agreed for the %s of job %d: it stays", site.Words, jobID)
			}
		}
		if o.Part != nil && !o.Back {
			build := job.Bike.Build.Complete()
			scene := substitution.Scene{Was: build, Now: build, Open: map[substitution.Place]bool{o.Place: true}}
			for _, f := range scene.Choose(o.Place, o.Part).Check(o.Place).Stops() {
				if f.Answer == substitution.Breaks {
					return fmt.Errorf("the customer's part does not go on as the %s: %s", site.Words, f.Words)
				}
			}
		}
		_, err := tx.Exec(ctx, `
			INSERT INTO own_part (job_id, place, words, back, part, at) VALUES ($1, $2, $3, $4, $5, $6)
			ON CONFLICT (job_id, place) DO UPDATE SET words = excluded.words, back = excluded.back, part = excluded.part, at = excluded.at`,
			jobID, o.Place, o.Words, o.Back, o.Part, now)
		if err != nil {
			return fmt.Errorf("recording the customer's own %s: %w", site.Words, err)
		}
		return nil
	})
}

// DropOwnPart takes it back: the workshop finds the part.
func DropOwnPart(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place) error {
	return changeTerms(ctx, tx, jobID, func(Job) error {
		tag, err := tx.Exec(ctx, `DELETE FROM own_part WHERE job_id = $1 AND place = $2`, jobID, place)
		if err == nil && tag.RowsAffected() == 0 {
			err = fmt.Errorf("no part of the customer's own is recorded for the %s of job %d", siteWords(place), jobID)
		}
		return err
	})
}

// Said is an own part in words, with what the workshop does not know of it.
func (o OwnPart) Said() string {
	words := fmt.Sprintf("%s: the customer's own, “%s”", siteWords(o.Place), o.Words)
	switch {
	case o.Back:
		return words + ", put back"
	case o.Part == nil:
		return words + ", brought; nothing is known of it, so it is tried before the rest is relied on"
	}
	return words + ", brought"
}

// withOwn is a build with the parts that customers bring in their places. One of which nothing is known is taken to be like
// what was there.
func (t Terms) withOwn(build substitution.Build) substitution.Build {
	out := substitution.Build{}
	for place, part := range build {
		out[place] = part
	}
	for _, o := range t.Own {
		if o.Part != nil && !o.Back {
			out[o.Place] = o.Part
		}
	}
	return out
}

// fitOwn records what customers brought as what now sits there.
func fitOwn(ctx context.Context, tx pgx.Tx, job Job, own []OwnPart) error {
	for _, o := range own {
		if o.Back {
			continue
		}
		part := o.Part
		if part != nil {
			named := *part
			if named.Name == "" {
				named.Name = o.Words
			}
			part = &named
		}
		if err := setFitted(ctx, tx, job.Bike.ID, o.Place, part); err != nil {
			return err
		}
	}
	return nil
}
