package pricing

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
)

// Vouched is a finding that a person answers for, of one part at one place of one job. It is no fact about the part:
// the next job asks the rule again.
type Vouched struct {
	Place    substitution.Place `json:"place"`
	PartID   int64              `json:"part_id"`
	Rule     string             `json:"rule"`
	At       substitution.Place `json:"at"`       // whose rule it is
	Severity string             `json:"severity"` // mating, safety, function or finish
	Words    string             `json:"words"`    // what the rule finds
	By       string             `json:"by"`
	Why      string             `json:"why"`
	// Caution is printed wherever the finding is: where a rule says outright that the parts do not go together, or must
	// not be used together.
	Caution string `json:"caution,omitempty"`
}

// vouchCaution is what whoever answers for a broken mating or safety rule is to have read, and so is whoever fits the part.
const vouchCaution = "a rule of fit or safety is broken and a person answers for it; it stands against what is published. " +
	"Follow the makers' instructions and torques, ISO 4210 and local rules, and have the work checked by a competent mechanic before the bike is ridden"

// CautionError says that what is to be answered for breaks a rule of fit or safety, and what is to be read before.
type CautionError struct{ Finding substitution.Finding }

func (e *CautionError) Error() string {
	return fmt.Sprintf("%s is broken (%s): %s; answer for it only with the caution read", e.Finding.Rule.ID, e.Finding.Words, vouchCaution)
}

// Vouch lets a person answer for what a rule finds against a part at a place of a job, for this job alone: that it cannot be
// told, or a difference in function. A broken rule of fit or safety wants the caution read besides, else it is a
// *[CautionError]. That part is then the only one for the place, an open quote no longer holds, and the next says who
// answers for what.
func Vouch(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place, partID int64, rule string, cautionRead bool, hand inventory.Hand) (Vouched, error) {
	if strings.TrimSpace(hand.By) == "" || strings.TrimSpace(hand.Why) == "" {
		return Vouched{}, errors.New("whoever answers for a part gives their name and the reason")
	}
	part, err := inventory.PartByID(ctx, tx, partID)
	if err != nil {
		return Vouched{}, err
	}
	site, err := substitution.SiteOf(place)
	if err != nil {
		return Vouched{}, err
	}
	if part.Family != site.Family {
		return Vouched{}, fmt.Errorf("%s is a %s, and the %s takes a %s", part.Name, part.Family, site.Words, site.Family)
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return Vouched{}, err
	}
	var v Vouched
	_, err = Limit(ctx, tx, jobID, func(l Limits) (Limits, error) {
		f, err := finding(job, place, part, rule)
		if err != nil {
			return l, err
		}
		v = Vouched{Place: place, PartID: partID, Rule: f.Rule.ID, At: f.At, Severity: f.Rule.Severity.String(), Words: f.Words,
			By: strings.TrimSpace(hand.By), Why: strings.TrimSpace(hand.Why)}
		if f.Rule.Severity.Stops() && f.Answer == substitution.Breaks {
			if v.Caution = vouchCaution; !cautionRead {
				return l, &CautionError{f}
			}
		}
		if only, other := l.vouchedPart(place); other && only != partID {
			return l, fmt.Errorf("another part is answered for at the %s already: take that back first", site.Words)
		}
		l.Vouched = append(slices.Clone(l.Vouched), v)
		return l, inventory.Correct(ctx, tx, hand, inventory.OfJob, jobID, inventory.Change{What: "answers for " + f.Rule.ID + " at " + string(place), Was: f.Words, Became: part.Name})
	})
	return v, err
}

// finding is what a rule finds against a part at a place of a job's bike as it is, with all other needs open.
func finding(job Job, place substitution.Place, part inventory.Part, rule string) (substitution.Finding, error) {
	build := job.Bike.Build.Complete()
	scene := substitution.Scene{Was: build, Now: build, Open: map[substitution.Place]bool{place: true}, Waived: job.Limits.Waived()}
	var names []string
	for _, f := range scene.Choose(place, &part.Part).Check(place).Findings {
		if f.Answer != substitution.CantTell && f.Answer != substitution.Breaks || f.Rule.Severity == substitution.Finish {
			continue // a finish is the customer's to decide
		}
		if f.Rule.ID == rule {
			return f, nil
		}
		names = append(names, f.Rule.ID)
	}
	if len(names) == 0 {
		return substitution.Finding{}, fmt.Errorf("nothing speaks against %s as %s: there is nothing to answer for", part.Name, siteWords(place))
	}
	return substitution.Finding{}, fmt.Errorf("%q finds nothing against %s as %s: it is %s", rule, part.Name, siteWords(place), joinOr(names))
}

// TakeBackVouched takes back all that was answered for at a place of a job.
func TakeBackVouched(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place, hand inventory.Hand) error {
	_, err := Limit(ctx, tx, jobID, func(l Limits) (Limits, error) {
		var changes []inventory.Change
		for _, v := range l.Vouched {
			if v.Place == place {
				changes = append(changes, inventory.Change{What: "answers for " + v.Rule + " at " + string(place), Was: v.By + ": " + v.Why})
			}
		}
		if len(changes) == 0 {
			return l, fmt.Errorf("nobody answers for anything at the %s: there is nothing to take back", siteWords(place))
		}
		l.Vouched = slices.DeleteFunc(slices.Clone(l.Vouched), func(v Vouched) bool { return v.Place == place })
		return l, inventory.Correct(ctx, tx, hand, inventory.OfJob, jobID, changes...)
	})
	return err
}

// Waived are the rules that somebody answers for.
func (l Limits) Waived() map[substitution.Waiver]bool {
	if len(l.Vouched) == 0 {
		return nil
	}
	out := map[substitution.Waiver]bool{}
	for _, v := range l.Vouched {
		out[substitution.Waiver{Rule: v.Rule, At: v.At}] = true
	}
	return out
}

// vouchedPart is the part that somebody answers for at a place.
func (l Limits) vouchedPart(place substitution.Place) (int64, bool) {
	for _, v := range l.Vouched {
		if v.Place == place {
			return v.PartID, true
		}
	}
	return 0, false
}

// vouchedFor is who answers for a finding, with what it finds now.
func (l Limits) vouchedFor(f substitution.Finding) []Vouched {
	var out []Vouched
	for _, v := range l.Vouched {
		if v.Rule == f.Rule.ID && v.At == f.At {
			v.Words = f.Words
			out = append(out, v)
		}
	}
	return out
}
