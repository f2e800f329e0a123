package pages

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// jobPage is a job from booking in to going home: what is next, what was found, what was agreed, what it waits for.
type jobPage struct {
	desk.Job
	Act     step
	Marked  []markedPlaces // places by how they stand
	Option  *pricing.Option
	Ended   bool
	Mail    []messageLine
	History []string
}

// markedPlaces are the places with one mark.
type markedPlaces struct {
	Mark   desk.Mark
	Places []desk.Finding
}

func showJob(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := desk.LoadJob(v.ctx, v.db(), id, v.now)
	if err != nil {
		return "", nil, err
	}
	p := jobPage{Job: job, Act: stepOf(id, job.Next), Marked: marked(job), Ended: job.State == pricing.Closed || job.State == pricing.Cancelled}
	if job.Approval != nil {
		if i := slices.IndexFunc(job.Quote.Options, func(o pricing.Option) bool { return o.Named(job.Approval.Option) }); i >= 0 {
			p.Option = &job.Quote.Options[i]
		}
	}
	switch {
	case job.State == pricing.Closed:
		p.Act = moneyStep(job)
	case job.Next == desk.Decide:
		if i := slices.IndexFunc(p.Marked, func(m markedPlaces) bool { return m.Mark == desk.Open }); i >= 0 {
			p.Act.Path = inspectPath(id, p.Marked[i].Places[0].Place) // the first of them
		}
	}
	p.Mail = messageLines(job.Clock, job.Post)
	happened, err := inventory.Happenings(v.ctx, v.db(), inventory.Subject{Kind: inventory.OfJob, ID: id}, 0)
	for _, h := range slices.Backward(happened) {
		p.History = append(p.History, v.tells(h))
	}
	return fmt.Sprintf("Job %d, %s", id, job.Bike.Words), p, err
}

// moneyStep is what is left to do about a bike that has gone home: its bill, and what is due of it.
func moneyStep(job desk.Job) step {
	s := step{Path: billPath(job.ID)}
	switch due := job.Account.Due; {
	case job.Account.Open():
		s.Words = "Write the bill"
	case due.IsPositive():
		s.Words = "Take the money that is due"
	case due.IsNegative():
		s.Words = "Pay back what is too much"
	default:
		return step{}
	}
	return s
}

// marked are the places that were looked at, by how they stand: what is to be done first.
func marked(job desk.Job) (out []markedPlaces) {
	for _, mark := range []desk.Mark{desk.Open, desk.Unseen, desk.Replace, desk.Wait, desk.Here, desk.Done, desk.Adjust, desk.Clean, desk.Later, desk.Fine} {
		group := markedPlaces{Mark: mark}
		for _, f := range job.Found() {
			if job.MarkAt(f.Place) == mark {
				group.Places = append(group.Places, f)
			}
		}
		if len(group.Places) > 0 {
			out = append(out, group)
		}
	}
	return out
}

// PlaceWords is a place as it is called on paper.
func (p jobPage) PlaceWords(place substitution.Place) string { return desk.SiteWords(place) }

// Name is the name of a part that the job holds or waits for.
func (p jobPage) Name(part int64) string { return p.Parts[part].Name }

// Torque is how tight a part of the job is put on at its place.
func (p jobPage) Torque(place substitution.Place, part int64) []string {
	fitted := p.Parts[part]
	return substitution.TorqueWords(place, &fitted.Part)
}

// Because asks why the quote came to nothing.
func (p jobPage) Because(f *Form) Field { return becauseField(f, "", "not said") }

// WishWords are the wishes for this bike that can be met now.
func (p jobPage) WishWords() (out []string) {
	for _, g := range p.Wishes {
		out = append(out, desk.WishWords(g))
	}
	return out
}

// awaited is a claim that has not arrived, with when it is expected as things stand.
type awaited struct {
	inventory.Claim
	When string
}

// Awaited are the claims that have not arrived.
func (p jobPage) Awaited() (out []awaited) {
	for _, c := range p.Claims {
		if c.State != inventory.ClaimWanted && c.State != inventory.ClaimOrdered {
			continue
		}
		when := "no day can be given"
		if i := len(out); i < len(p.Expected) && p.Expected[i].Expected != nil { // they are of these, in their order
			when = "by " + p.Expected[i].Expected.Short(p.Today()) + p.Expected[i].GuessWords()
		}
		out = append(out, awaited{c, when})
	}
	return out
}

func makeQuote(v *visit, _ *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	q, err := change(v, "made a quote", func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Quote, error) {
		return pricing.MakeQuote(ctx, tx, id, v.now)
	})
	if len(q.Options) == 0 { // there is nothing to send: the page of options says why, and what would help
		return v.done(jobPath(id, "/options"), "nothing does the job as asked", err)
	}
	return v.done(jobPath(id, "/quote"), fmt.Sprintf("quote %d is made: send it, or take their answer below", q.Version), err)
}

func useHeld(v *visit, _ *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	used, err := change(v, "fitted the parts that were held", func(ctx context.Context, tx pgx.Tx, key string) ([]inventory.Reservation, error) {
		return pricing.UseHeld(ctx, tx, key, id)
	})
	return v.done(fmt.Sprintf("/jobs/%d", id), desk.Several(len(used), "part")+" taken off the shelf and onto the bike", err)
}

func closeJob(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/jobs/%d", id), "the bike has gone home", v.do("handed the bike back", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.CloseJob(ctx, tx, id, t.ticked("leave-out"), v.now)
	}))
}

func cancelJob(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	why := t.needed("why", "say why: it is kept with the job")
	parts := pricing.PartsGo(t.oneOf("parts", string(pricing.PartsToShelf), string(pricing.PartsHeld), string(pricing.PartsBack)))
	because := pricing.Because(t.oneOf("because", reasons()...))
	if err := t.wrong(); err != nil {
		return "", err
	}
	back, err := change(v, "gave the job up: "+why, func(ctx context.Context, tx pgx.Tx, key string) ([]inventory.Return, error) {
		back, err := pricing.CancelWith(ctx, tx, key, id, why, parts, v.now)
		if err == nil && because != "" {
			err = pricing.SayLost(ctx, tx, id, 0, because, why, v.now)
		}
		return back, err
	})
	words := []string{"the job is given up"}
	for _, r := range back {
		words = append(words, desk.ReturnWords(r))
	}
	return v.done(fmt.Sprintf("/jobs/%d", id), strings.Join(words, "; "), err)
}
