package desk

import (
	"context"
	"fmt"
	"slices"
	"time"

	"stead/inventory"
	"stead/pricing"
	"stead/pricing/billing"
)

// AgreedPaper is what a customer said yes to, line by line, with each difference word for word as it stood on the quote.
type AgreedPaper struct {
	Job
	Different []string
	Cautions  []string
	Wished    []pricing.Wish // of the differences, what is to be as it was next time
}

// LoadAgreedPaper gathers what was agreed on a job, or an error where nothing was.
func LoadAgreedPaper(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (p AgreedPaper, err error) {
	if p.Job, err = LoadJob(ctx, db, jobID, now); err != nil {
		return p, err
	}
	if p.Agreement == nil {
		return p, fmt.Errorf("job %d is %s: nothing is agreed on it yet", jobID, p.State)
	}
	agreed, err := p.agreedTo(ctx, db)
	if err != nil {
		return p, err
	}
	wishes, err := pricing.OpenWishes(ctx, db, p.Bike.ID)
	for _, a := range agreed {
		p.take(a.version, a.Option)
		p.Wished = append(p.Wished, slices.DeleteFunc(slices.Clone(wishes), func(w pricing.Wish) bool { return !slices.ContainsFunc(a.Deviations, w.Against) })...)
	}
	return p, err
}

// WishedWords say what of the differences is remembered to be as it was next time.
func (p AgreedPaper) WishedWords() (out []string) {
	for _, w := range p.Wished {
		out = append(out, "remembered for next time: "+w.Words)
	}
	return out
}

// agreedOption is an option that a customer said yes to, of a version of the job's quotes.
type agreedOption struct {
	version int
	pricing.Option
}

// agreedTo are all that the customer of the job said yes to, the amendments after what they amend.
func (v Job) agreedTo(ctx context.Context, db inventory.DB) (out []agreedOption, err error) {
	for _, word := range v.Agreement.Words {
		q, _, err := pricing.QuoteVersion(ctx, db, v.ID, word.Version)
		if err != nil {
			return nil, err
		}
		for _, o := range q.Options {
			if o.Named(word.Option) {
				out = append(out, agreedOption{word.Version, o})
			}
		}
	}
	return out, nil
}

// take adds what an option that was agreed to makes different, but for what gave way to an amendment since.
func (p *AgreedPaper) take(version int, o pricing.Option) {
	for _, d := range o.Deviations {
		gone := func(l pricing.AgreedLine) bool { return l.Version == version && l.Place == d.Place && l.GaveWay != 0 }
		if !slices.ContainsFunc(p.Agreement.Lines, gone) {
			p.Different = append(p.Different, DifferenceWords(d))
		}
	}
	for _, words := range oneCaution(o.Cautions) {
		if words = "caution: " + words; !slices.Contains(p.Cautions, words) {
			p.Cautions = append(p.Cautions, words)
		}
	}
}

// TaxWords say what each rate of tax comes to in what was agreed, as the bill will; none where no tax is asked.
func (p AgreedPaper) TaxWords() (out []string) {
	rates := pricing.ByRate(p.Agreement.Standing())
	if !slices.ContainsFunc(rates, func(r pricing.Rate) bool { return !r.Percent.IsZero() }) {
		return nil
	}
	for _, r := range rates {
		out = append(out, rateWords(r, p.Currency))
	}
	return out
}

// Title is what the paper is called, and whose it is.
func (p AgreedPaper) Title() string { return fmt.Sprintf("Agreed on job %d: %s", p.ID, p.Whose()) }

// AgreedLineWords are a line's words, as they will stand on the bill.
func AgreedLineWords(l pricing.AgreedLine) string {
	return LineWords(billing.Line{Kind: l.Kind, Words: l.Words, Pieces: l.Pieces, Minutes: l.Minutes})
}
