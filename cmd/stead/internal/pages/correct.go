package pages

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

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

// usedPage takes parts for a job beyond what it holds, and puts back what a customer brings back.
type usedPage struct {
	desk.Job
	Bins []string
	Used []usedPart // what was used, and has not come back
}

// usedPart is how many pieces of a part were used on the job.
type usedPart struct {
	inventory.Part
	Pieces int
}

func showUsed(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	p := usedPage{}
	if p.Job, err = desk.LoadJob(v.ctx, v.db(), id, v.now); err != nil {
		return "", nil, err
	}
	used, err := inventory.UsedOn(v.ctx, v.db(), id)
	if err != nil {
		return "", nil, err
	}
	parts, err := inventory.Parts(v.ctx, v.db(), slices.Collect(maps.Keys(used)))
	if err != nil {
		return "", nil, err
	}
	for _, part := range parts {
		p.Used = append(p.Used, usedPart{part, used[part.ID]})
	}
	slices.SortFunc(p.Used, func(a, b usedPart) int { return cmp.Compare(a.Name, b.Name) })
	p.Bins, err = inventory.Bins(v.ctx, v.db())
	return "Parts used", p, err
}

// Back asks which of the parts that were used comes back.
func (p usedPage) Back(f *Form) Field {
	var choices []string
	for _, u := range p.Used {
		choices = append(choices, fmt.Sprint(u.ID), u.Name)
	}
	return f.Choice("part", "Which part?", "", choices...)
}

// Ended reports whether the bike has gone home.
func (p usedPage) Ended() bool { return p.State == pricing.Closed || p.State == pricing.Cancelled }

// Extra is what was used beyond what was agreed.
func (p usedPage) Extra(x pricing.Extra) string { return desk.ExtraWords(x, p.Currency) }

// Place and Bin ask where the pieces go.
func (p usedPage) Place(f *Form) Field {
	return f.Select("place", "Where does it go?", "", sites("on the bench")...)
}

func (p usedPage) Bin(f *Form) Field {
	return f.Select("bin", "Into which bin?", "", append([]string{"", "where it belongs"}, twice(p.Bins)...)...)
}

// namedPart is the part that a field names, by number, GTIN or code.
func (v *visit) namedPart(t *typed, field string) inventory.Part {
	name := t.needed(field, "say which part: its number, code or bar code")
	if name == "" {
		return inventory.Part{}
	}
	p, err := inventory.PartNamed(v.ctx, v.db(), name)
	t.take(field, err)
	return p
}

func usePart(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	part, use := v.namedPart(t, "part"), pricing.Use{JobID: id, Place: t.site("place"), Pieces: t.count("pieces"), Free: t.ticked("free")}
	if use.PartID = part.ID; use.Place == "" {
		use.Place = inventory.Bench
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	used, err := change(v, fmt.Sprintf("used %d of %s", use.Pieces, part.Name), func(ctx context.Context, tx pgx.Tx, key string) (pricing.Used, error) {
		return pricing.UsePart(ctx, tx, key, use, v.now)
	})
	words := fmt.Sprintf("%d of %s used on job %d", use.Pieces, part.Name, id)
	if x := used.Extra; x != nil && x.Amount.IsPositive() {
		words += fmt.Sprintf("; %d of them beyond what was agreed, %s", x.Pieces, pricing.Amount(v.shop.Currency, x.Amount))
	}
	return v.done(jobPath(id, "/used"), words, err)
}

func bringBack(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	part, n, bin, note := v.namedPart(t, "part"), t.count("pieces"), t.line("bin"), t.line("note")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(jobPath(id, "/used"), fmt.Sprintf("%d of %s back from job %d", n, part.Name, id), v.do("put back "+part.Name, func(ctx context.Context, tx pgx.Tx, key string) error {
		return inventory.BringBack(ctx, tx, key, id, part.ID, bin, n, note)
	}))
}
