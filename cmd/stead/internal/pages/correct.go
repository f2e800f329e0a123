package pages

import (
	"context"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
)

// correctPage puts right what was written of a job: what was asked, that it was booked in at all, that it has ended.
type correctPage struct {
	pricing.Job
	Whose  string
	Ended  bool
	Held   []inventory.Reservation // of a job that was given up
	Trail  []string
	Wanted string
}

func showCorrect(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	p := correctPage{}
	if p.Job, err = pricing.JobByID(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	p.Whose, p.Ended = p.Bike.Customer.Name+"’s "+p.Bike.Words, p.State == pricing.Closed || p.State == pricing.Cancelled
	p.Wanted = desk.DayOrNone(p.WantedBy)
	if p.State == pricing.Cancelled {
		if p.Held, err = inventory.ReservationsOf(v.ctx, v.db(), id); err != nil {
			return "", nil, err
		}
	}
	p.Trail, err = v.trail(inventory.OfJob, id)
	return "Change the job, or undo it", p, err
}

// trail is what was put right of a thing, in words.
func (v *visit) trail(kind inventory.Kind, id int64) (out []string, err error) {
	all, err := inventory.Corrections(v.ctx, v.db(), kind, id)
	for _, c := range all {
		out = append(out, desk.CorrectedWords(c, v.now.Location()))
	}
	return out, err
}

// undo makes a change that puts the job right.
func (v *visit) undo(t *typed, said, words string, do func(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand) error) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	hand := v.hand(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(jobPath(id, ""), said, v.do(words, func(ctx context.Context, tx pgx.Tx, _ string) error { return do(ctx, tx, id, hand) }))
}

func correctJob(v *visit, t *typed) (string, error) {
	wish, wanted := t.text("wish"), t.day("wanted")
	return v.undo(t, "the job is changed", "changed what was asked", func(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand) error {
		return pricing.CorrectJob(ctx, tx, id, hand, func(w *pricing.Words) { w.Wish, w.WantedBy = wish, wanted })
	})
}

func unbookJob(v *visit, t *typed) (string, error) {
	return v.undo(t, "the booking is taken back: it is no part of the bike’s history", "took the booking back", pricing.TakeBackBooking)
}

func reopenJob(v *visit, t *typed) (string, error) {
	return v.undo(t, "the job is open again", "opened the job again", pricing.Reopen)
}

func releaseJob(v *visit, t *typed) (string, error) {
	return v.undo(t, "what was held is free", "let go of what was held", func(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand) error {
		_, err := pricing.Release(ctx, tx, id, hand)
		return err
	})
}
