package pricing

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Terms are what was said of a job beside what was found on it.
type Terms struct {
	Advised   []Advice    `json:"advised,omitempty"`   // found, and left out
	Work      []AddedWork `json:"work,omitempty"`      // that no finding asks for
	Discounts []Discount  `json:"discounts,omitempty"` // less to pay
	Own       []OwnPart   `json:"own_parts,omitempty"` // the customer's own
	Opened    []IfOpened  `json:"if_opened,omitempty"` // done only if the place reads so once it is opened
}

// Advice is what was advised and is not done now.
type Advice struct {
	JobID  int64              `json:"job"`
	Place  substitution.Place `json:"place"`
	Action inspection.Action  `json:"action"`
	Words  string             `json:"words"`
	Why    string             `json:"why,omitempty"` // why not now
	At     time.Time          `json:"at"`
}

// IfOpened is what is done only if a place, once opened, reads so: up to a price that is agreed beforehand.
type IfOpened struct {
	Place  substitution.Place `json:"place"`
	Action inspection.Action  `json:"action"`
	Most   decimal.Decimal    `json:"most"` // tax included
}

// Words say it as a customer reads it.
func (o IfOpened) Words(currency string) string {
	return fmt.Sprintf("if it proves so once opened: %s the %s, at most %s", o.Action, siteWords(o.Place), Amount(currency, o.Most))
}

// TermsOf are the terms of a job.
func TermsOf(ctx context.Context, db inventory.DB, jobID int64) (t Terms, err error) {
	if t.Advised, err = termRows[Advice](ctx, db, jobID, `SELECT job_id, place, action, words, why, at FROM advice WHERE job_id = $1 ORDER BY at, place`); err != nil {
		return t, err
	}
	if t.Work, err = termRows[AddedWork](ctx, db, jobID, `SELECT id, place, words, minutes, price, coalesce(tax, '{}') FROM job_work WHERE job_id = $1 AND gone_at IS NULL ORDER BY id`); err != nil {
		return t, err
	}
	if t.Discounts, err = termRows[Discount](ctx, db, jobID, `SELECT id, place, percent, amount, warranty, why FROM job_discount WHERE job_id = $1 AND gone_at IS NULL ORDER BY id`); err != nil {
		return t, err
	}
	if t.Own, err = termRows[OwnPart](ctx, db, jobID, `SELECT place, words, back, part FROM own_part WHERE job_id = $1 ORDER BY place`); err != nil {
		return t, err
	}
	t.Opened, err = termRows[IfOpened](ctx, db, jobID, `SELECT place, action, most FROM if_opened WHERE job_id = $1 ORDER BY place`)
	return t, err
}

func termRows[T any](ctx context.Context, db inventory.DB, jobID int64, sql string) ([]T, error) {
	rows, err := db.Query(ctx, sql, jobID)
	if err != nil {
		return nil, fmt.Errorf("loading the terms of job %d: %w", jobID, err)
	}
	out, err := pgx.CollectRows(rows, pgx.RowToStructByPos[T])
	if err != nil {
		return nil, fmt.Errorf("loading the terms of job %d: %w", jobID, err)
	}
	return out, nil
}

// covered are the findings that are acted on: those not left out.
func (t Terms) covered(findings []inspection.Finding) []inspection.Finding {
	return slices.DeleteFunc(slices.Clone(findings), func(f inspection.Finding) bool {
		return slices.ContainsFunc(t.Advised, func(a Advice) bool { return a.Place == f.Place })
	})
}

// needs are the needs that the workshop meets, those of added work among them: not those for which the customer brings
// a part.
func (t Terms) needs(needs []inspection.Need) []inspection.Need {
	return slices.DeleteFunc(t.withTapes(needs), func(n inspection.Need) bool {
		return slices.ContainsFunc(t.Own, func(o OwnPart) bool { return o.Place == n.Place && !o.Back })
	})
}

// changeTerms changes a job's terms under its lock. A quote or amendment that is open no longer holds.
func changeTerms(ctx context.Context, tx pgx.Tx, jobID int64, change func(Job) error) error {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if ended(state) {
		return fmt.Errorf("job %d is %s: nothing of it is changed any more", jobID, state)
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if err := change(job); err != nil {
		return err
	}
	if state == Booked {
		return nil
	}
	return unquote(ctx, tx, jobID, state, Inspected)
}

// LeaveOut leaves what was found at a place out of the quote; it is remembered as advised. What is agreed is not left out.
func LeaveOut(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place, why string, now time.Time) (Advice, error) {
	var advice Advice
	err := changeTerms(ctx, tx, jobID, func(job Job) error {
		i := slices.IndexFunc(job.Findings, func(f inspection.Finding) bool {
			return f.Place == place && f.Action != "" && f.Action != inspection.Keep
		})
		if i < 0 {
			return fmt.Errorf("nothing is to be done at the %s of job %d, so there is nothing to leave out", siteWords(place), jobID)
		}
		if job.State == JobApproved {
			agreed, err := AgreedOn(ctx, tx, jobID)
			if err != nil {
				return err
			}
			if agreed.Work[place] == job.Findings[i].Action {
				return fmt.Errorf("to %s the %s is agreed on job %d: leave it out when the job is closed", job.Findings[i].Action, siteWords(place), jobID)
			}
		}
		advice = adviceOf(jobID, job.Findings[i], why, now)
		return advice.keep(ctx, tx)
	})
	return advice, err
}

func adviceOf(jobID int64, f inspection.Finding, why string, now time.Time) Advice {
	words := fmt.Sprintf("%s the %s", f.Action, siteWords(f.Place))
	if f.Proposal.Words != "" {
		words += ": " + f.Proposal.Words
	}
	return Advice{JobID: jobID, Place: f.Place, Action: f.Action, Words: words, Why: strings.TrimSpace(why), At: now}
}

func (a Advice) keep(ctx context.Context, tx pgx.Tx) error {
	tag, err := tx.Exec(ctx, `
		INSERT INTO advice (job_id, place, action, words, why, at) VALUES ($1, $2, $3, $4, $5, $6) ON CONFLICT DO NOTHING`,
		a.JobID, a.Place, a.Action, a.Words, a.Why, a.At)
	if err != nil {
		return fmt.Errorf("leaving out the %s: %w", siteWords(a.Place), err)
	}
	if tag.RowsAffected() == 0 {
		return fmt.Errorf("the %s of job %d is left out already", siteWords(a.Place), a.JobID)
	}
	return nil
}

// TakeIn takes back what was left out.
func TakeIn(ctx context.Context, tx pgx.Tx, jobID int64, place substitution.Place) error {
	return changeTerms(ctx, tx, jobID, func(Job) error {
		tag, err := tx.Exec(ctx, `DELETE FROM advice WHERE job_id = $1 AND place = $2`, jobID, place)
		if err == nil && tag.RowsAffected() == 0 {
			err = fmt.Errorf("the %s of job %d is not left out", siteWords(place), jobID)
		}
		return err
	})
}

// SetIfOpened records what is done at a place only if it reads so once opened, up to a price, tax included. Zero takes
// it away.
func SetIfOpened(ctx context.Context, tx pgx.Tx, jobID int64, o IfOpened, now time.Time) error {
	if o.Action == inspection.Keep {
		return fmt.Errorf("what is kept costs nothing: say clean, adjust or replace")
	}
	if err := checkPence(o.Most); err != nil {
		return err
	}
	if _, err := substitution.SiteOf(o.Place); err != nil {
		return err
	}
	return changeTerms(ctx, tx, jobID, func(job Job) error {
		if job.State == JobApproved {
			return fmt.Errorf("job %d is approved: what is agreed beforehand is said before the work is approved", jobID)
		}
		var err error
		if o.Most.IsZero() {
			_, err = tx.Exec(ctx, `DELETE FROM if_opened WHERE job_id = $1 AND place = $2`, jobID, o.Place)
		} else {
			_, err = tx.Exec(ctx, `
				INSERT INTO if_opened (job_id, place, action, most, at) VALUES ($1, $2, $3, $4, $5)
				ON CONFLICT (job_id, place) DO UPDATE SET action = excluded.action, most = excluded.most, at = excluded.at`, jobID, o.Place, o.Action, o.Most, now)
		}
		if err != nil {
			return fmt.Errorf("agreeing beforehand on the %s: %w", siteWords(o.Place), err)
		}
		return nil
	})
}

// checkPence is an error for an amount that nobody can pay.
func checkPence(x decimal.Decimal) error {
	if x.IsNegative() || !x.Equal(x.Truncate(2)) || x.GreaterThan(mostMoney) {
		return fmt.Errorf("an amount of %s cannot be meant: it is not below zero and has at most two decimals", x)
	}
	return nil
}

// AdvisedOn is what was advised of a bike, the oldest first, and not done since.
func AdvisedOn(ctx context.Context, db inventory.DB, bikeID int64) ([]Advice, error) {
	rows, err := db.Query(ctx, `
		SELECT a.job_id, a.place, a.action, a.words, a.why, a.at
		FROM advice a JOIN job ON job.id = a.job_id
		WHERE job.bike_id = $1 AND a.met_at IS NULL
		ORDER BY a.at, a.place`, bikeID)
	if err != nil {
		return nil, fmt.Errorf("loading what was advised of bike %d: %w", bikeID, err)
	}
	out, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Advice])
	if err != nil {
		return nil, fmt.Errorf("loading what was advised of bike %d: %w", bikeID, err)
	}
	return out, nil
}

// notDoneWords are why something is advised that was still to be done when the bike went home.
const notDoneWords = "not done when the bike went home"

// remember keeps for the bike's next visit what is still to be done to it when it goes home, whether it was agreed and left
// out or found and never agreed, and ends the advice of earlier jobs that this one has done. [forget] takes both back.
func remember(ctx context.Context, tx pgx.Tx, job Job, terms Terms, g Agreement, e Ending) error {
	left := undone(terms, job.Findings, g, e)
	var done []string
	for place := range g.Work {
		if !slices.ContainsFunc(left, func(f inspection.Finding) bool { return f.Place == place }) {
			done = append(done, string(place))
		}
	}
	_, err := tx.Exec(ctx, `
		UPDATE advice SET met_at = $3
		WHERE met_at IS NULL AND job_id <> $1 AND place = ANY($2)
		  AND job_id IN (SELECT other.id FROM job JOIN job AS other USING (bike_id) WHERE job.id = $1)`, job.ID, done, e.At)
	if err != nil {
		return fmt.Errorf("what was advised before job %d: %w", job.ID, err)
	}
	for _, f := range left {
		if slices.ContainsFunc(terms.Advised, func(a Advice) bool { return a.Place == f.Place }) {
			continue // and says why
		}
		if err := adviceOf(job.ID, f, notDoneWords, e.At).keep(ctx, tx); err != nil {
			return err
		}
	}
	return nil
}

// forget takes back what was remembered when a job ended.
func forget(ctx context.Context, tx pgx.Tx, jobID int64, e Ending) error {
	_, err := tx.Exec(ctx, `DELETE FROM advice WHERE job_id = $1 AND at = $2 AND why = $3`, jobID, e.At, notDoneWords)
	if err == nil {
		_, err = tx.Exec(ctx, `
			UPDATE advice SET met_at = NULL
			WHERE met_at = $2 AND job_id IN (SELECT other.id FROM job JOIN job AS other USING (bike_id) WHERE job.id = $1)`, jobID, e.At)
	}
	if err != nil {
		return fmt.Errorf("taking back what was advised when job %d ended: %w", jobID, err)
	}
	return nil
}
