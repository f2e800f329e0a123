package pages

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution"
)

// termsPage is what stands on a job beside what was found: work that no finding asks for, discounts, what is left out, the
// customer's own parts, what is done only if it proves so.
type termsPage struct{ desk.Job }

func showTerms(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := desk.LoadJob(v.ctx, v.db(), id, v.now)
	return "Besides what was found", termsPage{job}, err
}

// Ended reports whether the job takes no more.
func (p termsPage) Ended() bool { return p.State == pricing.Closed || p.State == pricing.Cancelled }

// PlaceWords is a place as it is called on paper; empty for none.
func (p termsPage) PlaceWords(place substitution.Place) string {
	if place == "" {
		return ""
	}
	return desk.SiteWords(place)
}

// PlacePath leads to what is done at a place.
func (p termsPage) PlacePath(place substitution.Place) string { return atPath(p.ID, place) }

// Opened is what is done only if it proves so, in words.
func (p termsPage) Opened(o pricing.IfOpened) string { return o.Words(p.Currency) }

// Left is what is left out, with why.
func (p termsPage) Left(a pricing.Advice) string { return desk.AdviceWords(a) }

// Usual are the works that have a name.
func (p termsPage) Usual(f *Form) Field {
	choices := []string{"", "something else"}
	for _, w := range pricing.UsualWorks() {
		choices = append(choices, w.Name, w.Words)
	}
	return f.Choice("usual", "What is done?", "", choices...)
}

// Place asks for a place, where it is at one.
func (p termsPage) Place(f *Form, label, nothing string) Field {
	return f.Select("place", label, "", sites(nothing)...)
}

func addWork(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	w := pricing.AddedWork{Place: t.site("place"), Words: t.line("usual")}
	if w.Words == "" {
		w.Words = t.needed("words", "say what is done")
	}
	w.Minutes, _ = t.pieces("minutes")
	price := t.amount("price")
	if err := t.wrong(); err != nil {
		return "", err
	}
	added, err := change(v, "added work: "+w.Words, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.AddedWork, error) {
		return pricing.AddWork(ctx, tx, id, w, price, v.now)
	})
	return v.done(jobPath(id, "/terms"), fmt.Sprintf("%s is added, %d min", added.Words, added.Minutes), err)
}

func dropWork(v *visit, t *typed) (string, error) {
	return v.drop(t, "the work is off the job", "took added work off", pricing.DropWork)
}

func addDiscount(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	d := pricing.Discount{Place: t.site("place"), Percent: t.plain("percent"), Amount: t.amount("amount"), Warranty: t.ticked("warranty"), Why: t.needed("why", "say why: it stands on the quote")}
	if d.Warranty && !d.Percent.Valid && !d.Amount.Valid {
		d.Percent = decimal.NewNullDecimal(decimal.NewFromInt(100))
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	given, err := change(v, "gave a discount: "+d.Why, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Discount, error) {
		return pricing.AddDiscount(ctx, tx, id, d, v.now)
	})
	return v.done(jobPath(id, "/terms"), given.Words()+": given", err)
}

func dropDiscount(v *visit, t *typed) (string, error) {
	return v.drop(t, "the discount is taken back", "took a discount back", pricing.DropDiscount)
}

// drop takes back something of a job that the form's line names.
func (v *visit) drop(t *typed, said, words string, do func(ctx context.Context, tx pgx.Tx, job, id int64, now time.Time) error) (string, error) {
	job, err := v.number("job")
	if err != nil {
		return "", err
	}
	id := t.number64("row")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(jobPath(job, "/terms"), said, v.do(words, func(ctx context.Context, tx pgx.Tx, _ string) error { return do(ctx, tx, job, id, v.now) }))
}
