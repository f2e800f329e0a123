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
)

// Ending is how a job ended and what is due for it.
type Ending struct {
	At      time.Time           `json:"at"`
	Why     string              `json:"why,omitempty"`     // of a cancelled job
	Mistake bool                `json:"mistake,omitempty"` // it was never meant to be booked in
	Hold    bool                `json:"hold,omitempty"`    // its parts are held for the customer all the same
	LetGo   *LetGo              `json:"let_go,omitempty"`  // what it had and did not use
	Agreed  decimal.NullDecimal `json:"agreed,omitzero"`
	Due     decimal.Decimal     `json:"due"`
	LeftOut []LeftOut           `json:"left_out,omitempty"`
	Extras  []Extra             `json:"extras,omitempty"` // used beyond what was agreed, as the customer allowed
}

// LeftOut is what was agreed and not done: a part, and its work where none of it was fitted.
type LeftOut struct {
	Kind     LineKind           `json:"kind,omitempty"` // jobs that ended did not always keep it
	Place    substitution.Place `json:"place,omitempty"`
	Supplier string             `json:"supplier,omitempty"` // the code of whose carriage it is
	Words    string             `json:"words"`
	Pieces   int                `json:"pieces,omitempty"`
	Amount   decimal.Decimal    `json:"amount"` // tax included
	Tax      Tax                `json:"tax,omitzero"`
}

// Of reports whether it is some or all of an agreed line: of carriage by whose it is, and of the rest by its words, which
// are one and the same quote's.
func (l LeftOut) Of(a AgreedLine) bool {
	if l.Kind == CarriesLine {
		return a.Kind == CarriesLine && a.Supplier == l.Supplier && l.within(a)
	}
	return (l.Kind == "" || l.Kind == a.Kind) && l.Place == a.Place && l.Words == a.Words && (l.Pieces == 0) == (a.Kind != PartsLine) && l.within(a)
}

// within reports whether a line has as much as is left out, at the same rate of tax.
func (l LeftOut) within(a AgreedLine) bool {
	return (l.Tax.Name == "" || l.Tax.same(a.Tax)) && a.Amount.Abs().GreaterThanOrEqual(l.Amount.Abs()) && a.Pieces >= l.Pieces
}

// remainder is a part that a job was promised and has not used.
type remainder struct {
	place  substitution.Place
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
	case ended(state):
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
	agreed, err := AgreedOn(ctx, tx, jobID)
	if err != nil {
		return err
	}
	extras, err := ExtrasOf(ctx, tx, jobID)
	if err != nil {
		return err
	}
	terms, err := TermsOf(ctx, tx, jobID)
	if err != nil {
		return err
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if err := fitOwn(ctx, tx, job, terms.Own); err != nil {
		return err
	}
	ending := endingOf(agreed, open, extras, now)
	if err := remember(ctx, tx, job, terms, agreed, ending); err != nil {
		return err
	}
	return end(ctx, tx, jobID, Closed, ending)
}

// LetGo is what a job had, when it ended, that it did not use.
type LetGo struct {
	Held   []inventory.Reservation `json:"held,omitempty"`
	Claims []inventory.Claim       `json:"claims,omitempty"`
}

// letGoOf is what a job that is about to end has and does not use; nil where that is nothing.
func letGoOf(ctx context.Context, db inventory.DB, jobID int64) (*LetGo, error) {
	held, err := inventory.ReservationsOf(ctx, db, jobID)
	if err != nil {
		return nil, err
	}
	claims, err := inventory.ClaimsOfJob(ctx, db, jobID)
	if err != nil {
		return nil, err
	}
	had := LetGo{Held: held}
	for _, c := range claims {
		if c.State == inventory.ClaimWanted || c.State == inventory.ClaimOrdered {
			had.Claims = append(had.Claims, c)
		}
	}
	if len(had.Held)+len(had.Claims) == 0 {
		return nil, nil
	}
	return &had, nil
}

// CancelJob gives a job up, whatever was agreed: its parts go back to the shelf, what is on order comes for the shelf, an
// open quote is declined, and nothing is due. A job on which parts were used was begun: it is closed, not cancelled.
func CancelJob(ctx context.Context, tx pgx.Tx, jobID int64, why string, now time.Time) error {
	return cancel(ctx, tx, jobID, why, false, now)
}

// checkCancel is an error where a job cannot be given up.
func checkCancel(ctx context.Context, tx pgx.Tx, jobID int64, why string) error {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if ended(state) {
		return fmt.Errorf("job %d is %s already", jobID, state)
	}
	if strings.TrimSpace(why) == "" {
		return fmt.Errorf("say why job %d is given up", jobID)
	}
	used, err := inventory.UsedOnJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	if used > 0 {
		return stuck(jobID, LeaveTheRest, "%d of its parts have been used on job %d, so it was begun", used, jobID)
	}
	return nil
}

// cancel gives a job up; with hold what is here stays held for it.
func cancel(ctx context.Context, tx pgx.Tx, jobID int64, why string, hold bool, now time.Time) error {
	if err := checkCancel(ctx, tx, jobID, why); err != nil {
		return err
	}
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return err
	}
	ending := Ending{At: now, Why: strings.TrimSpace(why), Hold: hold}
	if state == JobApproved {
		agreed, err := AgreedOn(ctx, tx, jobID)
		if err != nil {
			return err
		}
		ending.Agreed = decimal.NewNullDecimal(agreed.Total)
	}
	return end(ctx, tx, jobID, Cancelled, ending)
}

// end lets go of what is kept for a job and sets it to its last state.
func end(ctx context.Context, tx pgx.Tx, jobID int64, state JobState, ending Ending) error {
	var err error
	if ending.LetGo, err = letGoOf(ctx, tx, jobID); err != nil {
		return err
	}
	let := inventory.ReleaseJob
	if ending.Hold {
		let = inventory.ReleaseClaims
	}
	if err := let(ctx, tx, jobID); err != nil {
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

// ended reports whether a job's bike has gone home: until then findings are recorded, after the approval for an amendment.
func ended(s JobState) bool { return s == Closed || s == Cancelled }

// endingOf says what is due for a job of which some parts are left out: what was agreed without those parts, without the
// work at places where none of them was fitted, without the carriage of suppliers of whom nothing was fitted, and without
// what was given off all of that; and with what was used beyond it.
func endingOf(g Agreement, open []remainder, extras []Extra, now time.Time) Ending {
	e := Ending{At: now, Agreed: decimal.NewNullDecimal(g.Total), Due: g.Total, Extras: extras}
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
	lines := g.Standing()
	for _, p := range lines {
		if p.Kind != PartsLine {
			continue
		}
		key := fmt.Sprint(p.placeName(), p.PartID)
		gone := min(left[key], p.Pieces)
		left[key] -= gone
		if gone > 0 {
			amount := p.Amount
			if gone < p.Pieces {
				amount = p.Amount.Mul(decimal.NewFromInt(int64(gone))).DivRound(decimal.NewFromInt(int64(p.Pieces)), 2)
			}
			leave(LeftOut{Kind: PartsLine, Place: p.Place, Words: p.Words, Pieces: gone, Amount: amount, Tax: p.Tax})
		}
		leftAt[p.Place], leftOf[p.Supplier] = leftAt[p.Place] || gone > 0, leftOf[p.Supplier] || gone > 0
		fittedAt[p.Place], fittedOf[p.Supplier] = fittedAt[p.Place] || gone < p.Pieces, fittedOf[p.Supplier] || gone < p.Pieces
	}
	for _, l := range lines {
		switch {
		case l.Kind == WorkLine && l.Of == 0 && l.Place != "" && leftAt[l.Place] && !fittedAt[l.Place],
			l.Kind == CarriesLine && l.Supplier != "" && leftOf[l.Supplier] && !fittedOf[l.Supplier]:
			leave(LeftOut{Kind: l.Kind, Place: l.Place, Supplier: l.Supplier, Words: l.Words, Amount: l.Amount, Tax: l.Tax})
		}
	}
	e.giveBack(lines)
	for _, x := range extras {
		e.Due = e.Due.Add(x.Amount)
	}
	return e
}

// giveBack takes back what discounts gave off that which is left out: of each discount the share that the left-out
// lines have of its lines at its rate of tax.
func (e *Ending) giveBack(lines []AgreedLine) {
	left := slices.Clone(e.LeftOut)
	for _, d := range lines {
		if d.Kind != DiscountLine {
			continue
		}
		all, gone := decimal.Zero, decimal.Zero
		for _, l := range lines {
			if l.Kind != DiscountLine && l.Tax.same(d.Tax) && (d.Place == "" || l.Place == d.Place) {
				all = all.Add(l.Amount)
			}
		}
		for _, l := range left {
			if l.Tax.same(d.Tax) && (d.Place == "" || l.Place == d.Place) {
				gone = gone.Add(l.Amount)
			}
		}
		if back := d.Amount.Mul(gone); all.IsPositive() && !back.IsZero() {
			amount := inventory.Rounded(back.Neg(), all, 2).Neg()
			e.LeftOut = append(e.LeftOut, LeftOut{Kind: DiscountLine, Place: d.Place, Words: d.Words, Amount: amount, Tax: d.Tax})
			e.Due = e.Due.Sub(amount)
		}
	}
}
