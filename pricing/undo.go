package pricing

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Words are what a customer asked for when the bike was booked in.
type Words struct {
	Wish     string
	WantedBy *calendar.Day
}

// CorrectJob changes what was asked for when the bike was booked in, and keeps the trail. What a job must keep to is set by
// [Limit], what was found by [Inspect].
func CorrectJob(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand, change func(*Words)) error {
	state, err := lockJob(ctx, tx, id)
	if err != nil {
		return err
	}
	if ended(state) {
		return fmt.Errorf("job %d is %s: what was asked for is corrected while the bike is here", id, state)
	}
	job, err := JobByID(ctx, tx, id)
	if err != nil {
		return err
	}
	is := Words{job.Wish, job.WantedBy}
	change(&is)
	is.Wish = strings.TrimSpace(is.Wish)
	err = inventory.Correct(ctx, tx, hand, inventory.OfJob, id, inventory.Change{What: "asked for", Was: job.Wish, Became: is.Wish},
		inventory.Change{What: "wanted by", Was: dayWords(job.WantedBy), Became: dayWords(is.WantedBy)})
	if err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `UPDATE job SET wish = $2, wanted_by = $3 WHERE id = $1`, id, is.Wish, is.WantedBy); err != nil {
		return fmt.Errorf("correcting job %d: %w", id, err)
	}
	return nil
}

func dayWords(d *calendar.Day) string {
	if d == nil {
		return ""
	}
	return d.String()
}

// ForgetWish takes back what was remembered for next time, and keeps the trail with the bike.
func ForgetWish(ctx context.Context, tx pgx.Tx, wishID int64, hand inventory.Hand) error {
	var bike int64
	var words string
	err := tx.QueryRow(ctx, `SELECT bike_id, words FROM wish WHERE id = $1 AND met_at IS NULL AND gone_at IS NULL FOR NO KEY UPDATE`, wishID).Scan(&bike, &words)
	if errors.Is(err, pgx.ErrNoRows) {
		return fmt.Errorf("there is no open wish %d: it was met, taken back, or never there", wishID)
	}
	if err != nil {
		return fmt.Errorf("loading wish %d: %w", wishID, err)
	}
	if err := inventory.Correct(ctx, tx, hand, inventory.OfBike, bike, inventory.Change{What: "wished for", Was: words}); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `UPDATE wish SET gone_at = $2 WHERE id = $1`, wishID, hand.At); err != nil {
		return fmt.Errorf("taking back wish %d: %w", wishID, err)
	}
	return nil
}

// TakeBackBooking takes back a booking that was made by mistake: a job on which nothing was found, said or quoted yet. It
// stays by its number and is no part of the bike's history.
func TakeBackBooking(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand) error {
	state, err := lockJob(ctx, tx, id)
	if err != nil {
		return err
	}
	if ended(state) {
		return fmt.Errorf("job %d is %s already", id, state)
	}
	var begun bool
	err = tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM visit WHERE job_id = $1) OR EXISTS (SELECT FROM job_note WHERE job_id = $1) OR EXISTS (SELECT FROM quote WHERE job_id = $1)
		OR EXISTS (SELECT FROM payment WHERE job_id = $1)`, id).Scan(&begun)
	if err != nil {
		return fmt.Errorf("loading job %d: %w", id, err)
	}
	if begun || state != Booked {
		return stuck(id, CancelIt, "job %d was begun: what was found on it or paid for it stays", id)
	}
	if err := inventory.Correct(ctx, tx, hand, inventory.OfJob, id, inventory.Change{What: "booking", Was: string(state), Became: "taken back"}); err != nil {
		return err
	}
	why := strings.TrimSpace(hand.Why)
	if why == "" {
		why = "booked in by mistake"
	}
	return end(ctx, tx, id, Cancelled, Ending{At: hand.At, Why: why, Mistake: true})
}

// Reopen opens a job again that was closed or cancelled today, with what it had let go of: what is no longer to be had is
// wanted again. What was billed is credited first.
func Reopen(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand) error {
	state, err := lockJob(ctx, tx, id)
	if err != nil {
		return err
	}
	if !ended(state) {
		return fmt.Errorf("job %d is %s: only a job that has ended is opened again", id, state)
	}
	job, err := JobByID(ctx, tx, id)
	if err != nil {
		return err
	}
	zone, err := inventory.LoadZone(ctx, tx)
	if err != nil {
		return err
	}
	if job.Ending == nil || calendar.DayOf(job.Ending.At.In(zone)) != calendar.DayOf(hand.At.In(zone)) {
		return fmt.Errorf("job %d was %s before today: book the bike in again", id, state)
	}
	if err := checkUnbilled(ctx, tx, id); err != nil {
		return err
	}
	to, err := stateBefore(ctx, tx, job)
	if err != nil {
		return err
	}
	ended := string(state) + ", due " + job.Ending.Due.StringFixed(2)
	if state == Cancelled {
		ended = string(state) + ": " + job.Ending.Why
	}
	if err := inventory.Correct(ctx, tx, hand, inventory.OfJob, id, inventory.Change{What: "state", Was: ended, Became: string(to)}); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `UPDATE job SET state = $2, closed_at = NULL, ending = NULL WHERE id = $1`, id, to); err != nil {
		return fmt.Errorf("opening job %d again: %w", id, err)
	}
	if to != JobApproved {
		return nil
	}
	if err := forget(ctx, tx, id, *job.Ending); err != nil {
		return err
	}
	return takeUp(ctx, tx, id, job.Ending.LetGo)
}

// checkUnbilled is an error where a bill of a job stands that is not credited.
func checkUnbilled(ctx context.Context, tx pgx.Tx, id int64) error {
	var number int64
	var open decimal.Decimal
	err := tx.QueryRow(ctx, `
		SELECT b.number, b.total - coalesce((SELECT sum(c.total) FROM bill c WHERE c.credits = b.id), 0)
		FROM bill b WHERE b.job_id = $1 AND b.series = 'bill'
		ORDER BY 2 DESC LIMIT 1`, id).Scan(&number, &open)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("loading the bills of job %d: %w", id, err)
	}
	if open.IsPositive() {
		return fmt.Errorf("bill %d of job %d stands: credit it before the job is opened again", number, id)
	}
	return nil
}

// stateBefore is the state that a job had before it ended.
func stateBefore(ctx context.Context, tx pgx.Tx, job Job) (JobState, error) {
	var approved bool
	if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM quote WHERE job_id = $1 AND state = 'approved')`, job.ID).Scan(&approved); err != nil {
		return "", fmt.Errorf("loading the quotes of job %d: %w", job.ID, err)
	}
	switch {
	case approved:
		return JobApproved, nil
	case len(job.Findings) > 0:
		return Inspected, nil
	}
	terms, err := TermsOf(ctx, tx, job.ID)
	if err != nil || len(terms.Work) > 0 {
		return Inspected, err
	}
	return Booked, nil
}

// takeUp gives a job back what it had let go of when it ended.
func takeUp(ctx context.Context, tx pgx.Tx, id int64, had *LetGo) error {
	if had == nil {
		return nil
	}
	still, err := inventory.ReservationsOf(ctx, tx, id)
	if err != nil {
		return err
	}
	kept := map[int64]bool{}
	for _, r := range still {
		kept[r.ID] = true
	}
	for _, r := range had.Held {
		if kept[r.ID] {
			continue // it was held for the customer all the time
		}
		err := inventory.Reserve(ctx, tx, id, r.PartID, r.Place, r.Pieces)
		var few *inventory.NotEnoughError
		if errors.As(err, &few) {
			err = wantAgain(ctx, tx, id, r)
		}
		if err != nil {
			return err
		}
	}
	for _, c := range had.Claims {
		if err := inventory.TakeUpClaim(ctx, tx, c); err != nil {
			return err
		}
	}
	return nil
}

// wantAgain wants pieces that the shelf has no more of the first who offers them.
func wantAgain(ctx context.Context, tx pgx.Tx, id int64, r inventory.Reservation) error {
	offers, err := inventory.OffersOf(ctx, tx, []int64{r.PartID})
	if err != nil {
		return err
	}
	part, err := inventory.PartByID(ctx, tx, r.PartID)
	if err != nil {
		return err
	}
	if len(offers[r.PartID]) == 0 {
		return fmt.Errorf("%s is no longer on the shelf and nobody offers it: book the bike in again", part.Name)
	}
	_, due, err := promisedOf(ctx, tx, id)
	if err != nil {
		return err
	}
	return inventory.AddClaim(ctx, tx, inventory.Claim{JobID: id, Place: r.Place, PartID: r.PartID, OfferID: offers[r.PartID][0].ID, Pieces: r.Pieces, DueOn: due})
}

// promisedOf is the day that was promised for a job.
func promisedOf(ctx context.Context, tx pgx.Tx, id int64) (found bool, day calendar.Day, err error) {
	err = tx.QueryRow(ctx, `SELECT true, a.ready_on FROM approval a JOIN quote q ON q.id = a.quote_id WHERE q.job_id = $1 ORDER BY q.version DESC LIMIT 1`, id).Scan(&found, &day)
	if err != nil {
		return false, 0, fmt.Errorf("loading what was promised for job %d: %w", id, err)
	}
	return found, day, nil
}

// PartsGo is what becomes of the parts of a job that is given up.
type PartsGo string

// Where they go.
const (
	PartsToShelf PartsGo = "shelf"  // they are free for others; what is on order comes for the shelf
	PartsHeld    PartsGo = "hold"   // what is here stays held for the customer, until it is let go
	PartsBack    PartsGo = "return" // what was ordered for it goes back to its supplier, the rest to the shelf
)

// CancelWith gives a job up as [CancelJob] does, and says what becomes of its parts.
func CancelWith(ctx context.Context, tx pgx.Tx, request string, jobID int64, why string, parts PartsGo, now time.Time) ([]inventory.Return, error) {
	switch parts {
	case PartsToShelf, "":
		return nil, CancelJob(ctx, tx, jobID, why, now)
	case PartsHeld:
		return nil, cancel(ctx, tx, jobID, why, true, now)
	case PartsBack:
		// Whether it can be given up at all is asked before anything leaves the shelf.
		if err := checkCancel(ctx, tx, jobID, why); err != nil {
			return nil, err
		}
		back, err := inventory.SendBackHeld(ctx, tx, request, jobID, fmt.Sprintf("job %d given up", jobID), now)
		if err != nil {
			return nil, err
		}
		return back, CancelJob(ctx, tx, jobID, why, now)
	}
	return nil, fmt.Errorf("the parts of a job go to the shelf, are held or go back: %s, %s or %s, not %q", PartsToShelf, PartsHeld, PartsBack, parts)
}

// Release lets go of what is still held for a job that was given up.
func Release(ctx context.Context, tx pgx.Tx, jobID int64, hand inventory.Hand) ([]inventory.Reservation, error) {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	if !ended(state) {
		return nil, fmt.Errorf("job %d is %s: its parts are let go of when it is cancelled or a line of it is left out", jobID, state)
	}
	held, err := inventory.ReservationsOf(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	if len(held) == 0 {
		return nil, fmt.Errorf("nothing is held for job %d any more", jobID)
	}
	if err := inventory.Correct(ctx, tx, hand, inventory.OfJob, jobID, inventory.Change{What: "parts", Was: "held", Became: "to the shelf"}); err != nil {
		return nil, err
	}
	return held, inventory.ReleaseJob(ctx, tx, jobID)
}
