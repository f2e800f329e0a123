package pages

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory/calendar"
	"stead/pricing"
)

// letterPage is the customer's page: one version of one quote.
type letterPage struct {
	desk.Letter
	Secret string
	Later  *calendar.Day // a later day that must be agreed to before it can be approved
	Agreed bool
}

// follow finds where the path's link leads.
func (v *visit) follow() error {
	link, err := pricing.FollowLink(v.ctx, v.db(), v.r.PathValue("link"), v.today())
	var nowhere *pricing.LinkError
	switch {
	case errors.As(err, &nowhere) && nowhere.Gone:
		return &statusError{410, nowhere.Error()}
	case errors.As(err, &nowhere):
		return &statusError{404, nowhere.Error()}
	case err != nil:
		return err
	}
	v.link = link
	job, err := pricing.JobByID(v.ctx, v.db(), link.JobID)
	v.holder = job.Bike.Customer.Name
	return err
}

func showLetter(v *visit) (string, any, error) {
	l, err := desk.LoadLetter(v.ctx, v.db(), v.link.JobID, v.link.Version, v.asked("option"), v.now)
	if err != nil {
		return "", nil, err
	}
	p := letterPage{Letter: l, Secret: v.r.PathValue("link"), Agreed: l.Approval != nil}
	if next := secretAfter(p.Secret); p.Replaced() {
		switch _, err := pricing.FollowLink(v.ctx, v.db(), next, v.today()); {
		case err == nil:
			return "", nil, &elsewhere{"/q/" + next}
		case !errors.As(err, new(*pricing.LinkError)):
			return "", nil, err
		}
	}
	if v.typed != nil {
		if d, err := calendar.ParseDay(v.typed.values.Get("later")); err == nil {
			p.Later = &d
		}
	}
	return "Your " + l.Bike, p, nil
}

// fieldOf names the fields of a difference by its number on the page.
func fieldOf(what string, i int) string { return fmt.Sprintf("%s-%d", what, i+1) }

// sayYes is the customer's answer: with all accepted the work is agreed, with one declined it is planned anew.
func sayYes(v *visit, t *typed) (string, error) {
	l, err := desk.LoadLetter(v.ctx, v.db(), v.link.JobID, v.link.Version, t.line("option"), v.now)
	if err != nil {
		return "", err
	}
	if l.Chosen == nil || l.Chosen.Option != t.line("option") {
		return "", &statusError{400, "the form is not whole: open the page again"}
	}
	d := pricing.Decision{JobID: l.JobID, Version: l.Version, Option: l.Chosen.Option, By: t.needed("name", "write your name: it is your word"), ReadyBy: t.day("ready-by"), WhyNot: t.whyNot()}
	var wish []string
	for i, one := range l.Chosen.Different {
		switch t.oneOf(fieldOf("answer", i), "accept", "decline") {
		case "accept":
			d.Accept = append(d.Accept, one.Name)
			if t.ticked(fieldOf("wish", i)) {
				wish = append(wish, one.Name)
			}
		case "decline":
			d.Decline = append(d.Decline, one.Name)
		default:
			t.mark(fieldOf("answer", i), "accept or decline this one")
		}
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.decide(t, d, wish)
}

// decide makes the customer's word good. Where a difference was declined the new version has a link of its own, to which
// the page goes on, and the old link ever after.
func (v *visit) decide(t *typed, d pricing.Decision, wish []string) (string, error) {
	words := "agreed to the quote"
	if len(d.Decline) > 0 {
		words, wish = "declined a difference", nil
	}
	secret := secretAfter(v.r.PathValue("link"))
	state, err := change(v, words, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.QuoteState, error) {
		q, err := pricing.Approve(ctx, tx, d, wish, v.now)
		if err != nil || q.State == pricing.Approved || len(q.Options) == 0 {
			return q.State, err
		}
		_, err = pricing.MakeLink(ctx, tx, d.JobID, q.Version, secret, v.now)
		return q.State, err
	})
	var later *pricing.LaterDayError
	switch {
	case errors.As(err, &later):
		t.values.Set("later", later.Day.String())
		t.mark("ready-by", fmt.Sprintf("ordered now, everything would be here by %s: is that good enough?", later.Day.Words(v.today())))
		return "", errWrong
	case err != nil:
		return "", err
	}
	if len(d.Decline) > 0 && state != pricing.Approved {
		// Where nothing does it any more no link was made, and the old one says that we look further.
		if _, err := pricing.FollowLink(v.ctx, v.db(), secret, v.today()); err == nil {
			return "/q/" + secret, nil
		}
	}
	return "/q/" + v.r.PathValue("link"), nil
}

// sayNo is the customer's no to all of it.
func sayNo(v *visit, t *typed) (string, error) {
	by, why := t.needed("name", "write your name, so that we know who said no"), t.whyNot()
	if err := t.wrong(); err != nil {
		return "", err
	}
	_, err := change(v, "said no to the quote", func(ctx context.Context, tx pgx.Tx, _ string) ([]pricing.Advice, error) {
		return pricing.DeclineQuote(ctx, tx, v.link.JobID, v.link.Version, by, why, v.now)
	})
	return "/q/" + v.r.PathValue("link"), err
}

func askUs(v *visit, t *typed) (string, error) {
	words := t.text("question")
	if words == "" {
		t.mark("question", "write what you would like to know")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return "/q/" + v.r.PathValue("link") + "#questions", v.do("asked a question", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.AskQuestion(ctx, tx, v.link, words, v.now)
	})
}

// AnswerOf is the field of a difference's answer; WishOf that of the wish to have it as it was next time.
func (p letterPage) AnswerOf(f *Form, i int) Field {
	return f.Choice(fieldOf("answer", i), "Is that all right?", "", "accept", "Accept", "decline", "Decline")
}

func (p letterPage) WishOf(f *Form, i int) Field {
	return f.Tick(fieldOf("wish", i), "As it was, next time")
}

// Reason and OwnWords ask why they decline.
func (p letterPage) Reason(f *Form) Field {
	return f.Choice("because", "Why not?", "", "price", "Too dear", "date", "Too late for me", "part", "I want the part I had").With("Only if you like. It helps us to find something better.")
}
func (p letterPage) OwnWords(f *Form) Field { return f.Line("words", "In your own words") }

// Number is how a difference is counted.
func (p letterPage) Number(i int) int { return i + 1 }

// LaterWords are the customer's word for a later day.
func (p letterPage) LaterWords() string { return "Yes, by " + p.Clock.Day(*p.Later) }

// Open reports whether the quote waits for the customer's word.
func (p letterPage) Open() bool { return p.State == pricing.Open && p.Chosen != nil }

// Replaced reports whether a newer version took its place.
func (p letterPage) Replaced() bool {
	return slices.Contains([]pricing.QuoteState{pricing.Superseded, pricing.Declined}, p.State)
}
