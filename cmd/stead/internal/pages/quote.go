package pages

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

// quotePage is the newest quote as it is sent, and the customer's answer taken at the counter.
type quotePage struct {
	desk.Quote
	Job    desk.Job
	Option *desk.Choice // the one whose differences are asked about
	Open   bool         // it can still be answered
}

func showQuote(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := desk.LoadJob(v.ctx, v.db(), id, v.now)
	if err != nil {
		return "", nil, err
	}
	p := quotePage{Job: job}
	q, quoted, err := desk.LoadQuote(v.ctx, v.db(), id, v.now)
	if err != nil {
		return "", nil, err
	}
	if !quoted {
		return fmt.Sprintf("Quote for job %d", id), p, nil
	}
	p.Quote, p.Open = q, q.State == pricing.Open && len(q.Options) > 0
	if p.Open {
		p.Option = &p.Choices[0]
		for i, c := range p.Choices {
			if c.Named(v.asked("option")) {
				p.Option = &p.Choices[i]
			}
		}
	}
	return fmt.Sprintf("Quote %d for job %d", q.Version, id), p, nil
}

// UnsureWords are what might fit, with what to measure.
func (p quotePage) UnsureWords() []string { return desk.MightFit(p.Unsure) }

// saidOn is what is said of options, on its screen.
type saidOn struct {
	desk.Said
	Screen *screen
}

// Said sets what is said of options.
func (p quotePage) Said(on *screen, s desk.Said) saidOn { return saidOn{s, on} }

// Path chooses an option.
func (p quotePage) Path(c desk.Choice) string {
	return fmt.Sprintf("/jobs/%d/quote?option=%s", p.JobID, c.Name())
}

// Chosen reports whether an option is the one that is asked about.
func (p quotePage) Chosen(c desk.Choice) bool { return p.Option != nil && c.Name() == p.Option.Name() }

// Title is what an option is called.
func (p quotePage) Title(c desk.Choice) string {
	t := c.Title()
	return sentence(t)
}

// Says asks what the customer says to a difference.
func (p quotePage) Says(f *Form, d pricing.Deviation) Field {
	return f.Choice("d-"+d.Name(), sentence(d.Words), "", "yes", "that is fine", "next", "fine, and as it was next time", "no", "no")
}

func answerQuote(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	q, quoted, err := desk.LoadQuote(v.ctx, v.db(), id, v.now)
	if err != nil {
		return "", err
	}
	if !quoted {
		return "", &statusError{400, "there is no quote to answer: make one"}
	}
	d := pricing.Decision{JobID: id, Version: q.Version, Option: t.line("option"), ReadyBy: t.comingDay("ready-by"), Allow: t.amount("allow"), WhyNot: t.whyNot()}
	d.By = t.needed("by", "say who gave their word")
	var wishes []string
	for _, o := range q.Options {
		if !o.Named(d.Option) {
			continue
		}
		for _, dev := range o.Deviations {
			switch t.oneOf("d-"+dev.Name(), "yes", "next", "no") {
			case "yes":
				d.Accept = append(d.Accept, dev.Name())
			case "next":
				d.Accept, wishes = append(d.Accept, dev.Name()), append(wishes, dev.Name())
			case "no":
				d.Decline = append(d.Decline, dev.Name())
			default:
				t.mark("d-"+dev.Name(), "say what they say to this")
			}
		}
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	answered, err := change(v, "took the customer’s answer to the quote", func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Quote, error) {
		return pricing.Approve(ctx, tx, d, wishes, v.now)
	})
	if err != nil {
		return "", err
	}
	if answered.State != pricing.Approved {
		return v.done(fmt.Sprintf("/jobs/%d/quote", id), fmt.Sprintf("planned again without what was declined: quote %d", answered.Version), nil)
	}
	return v.done(fmt.Sprintf("/jobs/%d", id), "approved by "+d.By, nil)
}
