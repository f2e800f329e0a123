package pages

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution"
)

// amendPage is what was agreed on a job, and what has come since: an amendment stands beside it until it is answered.
type amendPage struct {
	desk.Job
	Open bool // the job can be amended
}

func showAmend(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := desk.LoadJob(v.ctx, v.db(), id, v.now)
	return "What has changed?", amendPage{job, job.State == pricing.JobApproved}, err
}

// Parts are the agreed parts that stand.
func (p amendPage) Parts() (out []pricing.AgreedLine) {
	for _, l := range p.Agreement.Standing() {
		if l.Kind == pricing.PartsLine && !l.Brought {
			out = append(out, l)
		}
	}
	return out
}

// Anew asks whether another part is wanted than an agreed one.
func (p amendPage) Anew(f *Form, l pricing.AgreedLine) Field {
	return f.Tick("anew-"+string(l.Place), fmt.Sprintf("%s: look for another part than %s", desk.SiteWords(l.Place), l.Words))
}

// LineWords is an agreed line with its place.
func (p amendPage) LineWords(l pricing.AgreedLine) string {
	words := l.Words
	if l.Pieces > 1 {
		words = fmt.Sprintf("%d × %s", l.Pieces, l.Words)
	}
	if l.Kind == pricing.PartsLine {
		words = desk.SiteWords(l.Place) + ": " + words
	}
	return words
}

func amendJob(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	var anew []substitution.Place
	for _, site := range substitution.Sites() {
		if t.ticked("anew-" + string(site.Place)) {
			anew = append(anew, site.Place)
		}
	}
	q, err := change(v, "quoted what has changed", func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Quote, error) {
		return pricing.Amend(ctx, tx, id, anew, v.now)
	})
	if err == nil && q.State == pricing.Approved {
		return v.done(fmt.Sprintf("/jobs/%d", id), "agreed beforehand, so it is approved", nil)
	}
	return v.done(fmt.Sprintf("/jobs/%d/quote", id), fmt.Sprintf("amendment %d is made: the customer is asked about what is new only", q.Version), err)
}

// declineQuote takes at the counter that a customer wants none of a quote or an amendment.
func declineQuote(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	by := t.needed("by", "say who declined it")
	version, why := t.count("version"), t.whyNot()
	if err := t.wrong(); err != nil {
		return "", err
	}
	advised, err := change(v, "took a no to "+pricing.QuoteTitle(version), func(ctx context.Context, tx pgx.Tx, _ string) ([]pricing.Advice, error) {
		return pricing.DeclineQuote(ctx, tx, id, version, by, why, v.now)
	})
	if advised == nil {
		return v.done(jobPath(id, ""), "kept: offer something else, or give the job up", err)
	}
	words := []string{"what was agreed stays as it is"}
	for _, a := range advised {
		words = append(words, "advised, and remembered with the bike: "+a.Words)
	}
	return v.done(fmt.Sprintf("/jobs/%d", id), strings.Join(words, "; "), err)
}

// whyNot is why a customer declines, by one tap and in their own words.
func (t *typed) whyNot() pricing.WhyNot {
	var reasons []string
	for _, r := range pricing.CustomersReasons {
		reasons = append(reasons, string(r))
	}
	return pricing.WhyNot{Because: pricing.Because(t.oneOf("because", reasons...)), Words: t.line("words")}
}

// TheirReason and TheirWords ask at the counter what the customer said.
func theirReason(f *Form) Field {
	return f.Choice("because", "Why not?", "", "", "not said", string(pricing.ForPrice), "too dear", string(pricing.ForDate), "too late", string(pricing.ForPart), "they want the part they had")
}
func theirWords(f *Form) Field { return f.Line("words", "In their own words") }

// Reason and Words ask why the customer declines.
func (p amendPage) Reason(f *Form) Field { return theirReason(f) }
func (p amendPage) Words(f *Form) Field  { return theirWords(f) }
func (p quotePage) Reason(f *Form) Field { return theirReason(f) }
func (p quotePage) Words(f *Form) Field  { return theirWords(f) }
