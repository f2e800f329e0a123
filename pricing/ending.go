package pricing

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
)

// Ending is how a job ended and what is due for it.
type Ending struct {
	At      time.Time           `json:"at"`
	Why     string              `json:"why,omitempty"` // of a cancelled job
	Agreed  decimal.NullDecimal `json:"agreed,omitzero"`
	Due     decimal.Decimal     `json:"due"`
	LeftOut []LeftOut           `json:"left_out,omitempty"`
}

// LeftOut is what was agreed and not done: a part, and its work where none of it was fitted.
type LeftOut struct {
	Place  substitution.Place `json:"place,omitempty"`
	Words  string             `json:"words"`
	Pieces int                `json:"pieces,omitempty"`
	Amount decimal.Decimal    `json:"amount"` // tax included
}

// remainder is a part that a job was promised and has not used.
type remainder struct {
	place  string
	partID int64
	pieces int
	state  string // in words
}

// remaindersOf are what a job still waits for or has not used, by place.
func remaindersOf(ctx context.Context, db inventory.DB, jobID int64) ([]remainder, error) {
	claims, err := inventory.ClaimsOfJob(ctx, db, jobID)
	if err != nil {
		return nil, err
	}
	held, err := inventory.ReservationsOf(ctx, db, jobID)
	if err != nil {
		return nil, err
	}
	var out []remainder
	for _, c := range claims {
		if c.State == inventory.ClaimWanted || c.State == inventory.ClaimOrdered {
			out = append(out, remainder{c.Place, c.PartID, c.Pieces, "still to come"})
		}
	}
	for _, r := range held {
		out = append(out, remainder{r.Place, r.PartID, r.Pieces, "reserved and not used"})
	}
	return out, nil
}

func remainderWords(ctx context.Context, db inventory.DB, open []remainder) (string, error) {
	ids := make([]int64, len(open))
	for i, r := range open {
		ids[i] = r.partID
	}
	parts, err := inventory.Parts(ctx, db, ids)
	if err != nil {
		return "", err
	}
	words := make([]string, len(open))
	for i, r := range open {
		words[i] = fmt.Sprintf("%d of %s %s", r.pieces, parts[r.partID].Name, r.state)
	}
	return strings.Join(words, "; "), nil
}

// CloseJob hands back a bike whose work was approved. Parts that are still to come or still reserved stand in the way:
// what was approved was either fitted or must be said to be left out, and what is left out is not due. A job that was
// never approved is not closed but cancelled, and only when that is asked for.
func CloseJob(ctx context.Context, tx pgx.Tx, jobID int64, leaveOut bool, now time.Time) error {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	switch {
	case state.ended():
		return fmt.Errorf("job %d is %s already", jobID, state)
	case state != JobApproved:
		return stuck(jobID, GiveItUp, "job %d is %s and nothing was approved", jobID, state)
	}
	open, err := remaindersOf(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if len(open) > 0 && !leaveOut {
		words, err := remainderWords(ctx, tx, open)
		if err != nil {
			return err
		}
		return stuck(jobID, UseItsParts, "job %d is not done, %s", jobID, words)
	}
	quote, approval, err := ApprovedQuote(ctx, tx, jobID)
	if err != nil {
		return err
	}
	return end(ctx, tx, jobID, Closed, endingOf(quote, approval, open, now))
}

// CancelJob gives a job up, whatever was agreed: its parts go back to the shelf, what is on order comes for the shelf, an
// open quote is declined, and nothing is due. A job on which parts were used was begun: it is closed, not cancelled.
func CancelJob(ctx context.Context, tx pgx.Tx, jobID int64, why string, now time.Time) error {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if state.ended() {
		return fmt.Errorf("job %d is %s already", jobID, state)
	}
	if why = strings.TrimSpace(why); why == "" {
		return fmt.Errorf("say why job %d is given up: --why REASON", jobID)
	}
	used, err := inventory.UsedOnJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if used > 0 {
		return stuck(jobID, LeaveTheRest, "%d of its parts have been used on job %d, so it was begun", used, jobID)
	}
	ending := Ending{At: now, Why: why}
	if state == JobApproved {
		_, approval, err := ApprovedQuote(ctx, tx, jobID)
		if err != nil {
			return err
		}
		ending.Agreed = decimal.NewNullDecimal(approval.Total)
	}
	return end(ctx, tx, jobID, Cancelled, ending)
}

// end lets go of what is kept for a job and sets it to its last state.
func end(ctx context.Context, tx pgx.Tx, jobID int64, state JobState, ending Ending) error {
	if err := inventory.ReleaseJob(ctx, tx, jobID); err != nil {
		return err
	}
	if err := endOpenQuote(ctx, tx, jobID, Declined); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `UPDATE job SET state = $2, closed_at = $3, ending = $4 WHERE id = $1`, jobID, state, ending.At, ending); err != nil {
		return fmt.Errorf("ending job %d: %w", jobID, err)
	}
	return nil
}

// ended reports whether a job's bike has gone home.
func (s JobState) ended() bool { return s == Closed || s == Cancelled }

// endingOf says what is due for a job of which some parts are left out: what was agreed without those parts, without the
// work at places where none of them was fitted, and without the carriage of suppliers of whom nothing was fitted.
func endingOf(q Quote, a Approval, open []remainder, now time.Time) Ending {
	e := Ending{At: now, Agreed: decimal.NewNullDecimal(a.Total), Due: a.Total}
	o, names := byName(q.Options, a.Option)
	if names != nil {
		return e
	}
	left := map[string]int{}
	for _, r := range open {
		left[fmt.Sprint(r.place, r.partID)] += r.pieces
	}
	leave := func(l LeftOut) {
		e.LeftOut = append(e.LeftOut, l)
		e.Due = e.Due.Sub(l.Amount)
	}
	fittedAt, leftAt := map[substitution.Place]bool{}, map[substitution.Place]bool{}
	fittedOf, leftOf := map[string]bool{}, map[string]bool{}
	for _, p := range o.Parts {
		key := fmt.Sprint(p.placeName(), p.PartID)
		gone := min(left[key], p.Pieces)
		left[key] -= gone
		if gone > 0 {
			amount := p.Amount
			if gone < p.Pieces {
				amount = p.Amount.Mul(decimal.NewFromInt(int64(gone))).DivRound(decimal.NewFromInt(int64(p.Pieces)), 2)
			}
			leave(LeftOut{Place: p.Place, Words: p.Name, Pieces: gone, Amount: amount})
		}
		leftAt[p.Place], leftOf[p.Supplier] = leftAt[p.Place] || gone > 0, leftOf[p.Supplier] || gone > 0
		fittedAt[p.Place], fittedOf[p.Supplier] = fittedAt[p.Place] || gone < p.Pieces, fittedOf[p.Supplier] || gone < p.Pieces
	}
	for _, l := range q.Labour {
		if leftAt[l.Place] && !fittedAt[l.Place] {
			leave(LeftOut{Place: l.Place, Words: l.Words, Amount: l.Amount})
		}
	}
	for _, c := range o.Carriage {
		if leftOf[c.Supplier] && !fittedOf[c.Supplier] {
			leave(LeftOut{Words: "carriage of " + c.Supplier, Amount: c.Amount})
		}
	}
	return e
}
