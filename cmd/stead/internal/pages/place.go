package pages

import (
	"context"
	"errors"
	"net/url"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// placePage is what is agreed about one place of a job: that it is left out, done only if it proves so, or has a part of the
// customer's own.
type placePage struct {
	desk.Job
	At     desk.AtPlace
	Left   *pricing.Advice
	Opened *pricing.IfOpened
	Own    *pricing.OwnPart
	Vouch  []pricing.Vouched
	Ended  bool
}

func atPath(job int64, place substitution.Place) string {
	return jobPath(job, "/at?place="+url.QueryEscape(string(place)))
}

func showPlace(v *visit) (string, any, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", nil, err
	}
	job, err := desk.LoadJob(v.ctx, v.db(), id, v.now)
	if err != nil {
		return "", nil, err
	}
	p := placePage{Job: job, Ended: job.State == pricing.Closed || job.State == pricing.Cancelled}
	if p.At, err = job.At(site.Place); err != nil {
		return "", nil, err
	}
	p.Left = at(job.Terms.Advised, func(a pricing.Advice) bool { return a.JobID == id && a.Place == site.Place })
	p.Opened = at(job.Terms.Opened, func(o pricing.IfOpened) bool { return o.Place == site.Place })
	p.Own = at(job.Terms.Own, func(o pricing.OwnPart) bool { return o.Place == site.Place })
	for _, vouched := range job.Limits.Vouched {
		if vouched.Place == site.Place {
			p.Vouch = append(p.Vouch, vouched)
		}
	}
	return sentence(site.Words), p, nil
}

// at is the first of a list that is meant; nil for none.
func at[T any](list []T, meant func(T) bool) *T {
	if i := slices.IndexFunc(list, meant); i >= 0 {
		return &list[i]
	}
	return nil
}

// LeftWords say that the place is left out.
func (p placePage) LeftWords() string { return desk.AdviceWords(*p.Left) }

// OpenedWords say what is done only if it proves so.
func (p placePage) OpenedWords() string { return p.Opened.Words(p.Currency) }

// VouchedWords say who answers for what.
func (p placePage) VouchedWords(v pricing.Vouched) string { return desk.VouchedWords(v) }

// InspectPath leads back to what was found there.
func (p placePage) InspectPath() string { return inspectPath(p.ID, p.At.Place) }

// Fact asks for a dimension of the customer's own part.
func (p placePage) Fact(f *Form, d desk.Fact) Field { return dimensionField(f, d.Dimension, "") }

// atPlace makes a change about the place of the page.
func (v *visit) atPlace(said, words string, do func(ctx context.Context, tx pgx.Tx, job int64, site substitution.Site) error) (string, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", err
	}
	if err := v.typed.wrong(); err != nil {
		return "", err
	}
	return v.done(atPath(id, site.Place), said, v.do(words+" the "+site.Words, func(ctx context.Context, tx pgx.Tx, _ string) error { return do(ctx, tx, id, site) }))
}

func leaveOut(v *visit, t *typed) (string, error) {
	why := t.line("why")
	return v.atPlace("left out, and remembered with the bike as advised", "left out", func(ctx context.Context, tx pgx.Tx, job int64, site substitution.Site) error {
		_, err := pricing.LeaveOut(ctx, tx, job, site.Place, why, v.now)
		return err
	})
}

func takeIn(v *visit, _ *typed) (string, error) {
	return v.atPlace("it is done now", "took in again", func(ctx context.Context, tx pgx.Tx, job int64, site substitution.Site) error {
		return pricing.TakeIn(ctx, tx, job, site.Place)
	})
}

// sayIfOpened agrees on what is done only if it proves so; with nothing to do it is taken away.
func sayIfOpened(v *visit, t *typed) (string, error) {
	action := inspection.Action(t.oneOf("action", "clean", "adjust", "replace"))
	if action == "" {
		t.mark("action", "say what is done then")
	}
	most := t.amount("most")
	if !most.Valid {
		t.mark("most", "say for how much at most; 0 takes it away")
	}
	return v.atPlace("agreed beforehand, once the quote is approved", "said what is done if it proves so at", func(ctx context.Context, tx pgx.Tx, job int64, site substitution.Site) error {
		return pricing.SetIfOpened(ctx, tx, job, pricing.IfOpened{Place: site.Place, Action: action, Most: most.Decimal}, v.now)
	})
}

func ownPart(v *visit, t *typed) (string, error) {
	_, site, err := v.jobPlace()
	if err != nil {
		return "", err
	}
	table, err := substitution.TableOf(site.Family)
	if err != nil {
		return "", err
	}
	o := pricing.OwnPart{Place: site.Place, Words: t.needed("words", "say what part it is, in their words"), Back: t.ticked("back")}
	if spec := t.spec(table, nil, substitution.Measured); len(spec) > 0 {
		o.Part = &substitution.Part{Family: site.Family, Spec: spec}
	}
	return v.atPlace(o.Said(), "took the customer’s own for", func(ctx context.Context, tx pgx.Tx, job int64, _ substitution.Site) error {
		return pricing.SetOwnPart(ctx, tx, job, o, v.now)
	})
}

func dropOwnPart(v *visit, _ *typed) (string, error) {
	return v.atPlace("the workshop finds the part after all", "finds the part itself for", func(ctx context.Context, tx pgx.Tx, job int64, site substitution.Site) error {
		return pricing.DropOwnPart(ctx, tx, job, site.Place)
	})
}

func takeBackVouched(v *visit, t *typed) (string, error) {
	return v.atPlace("the rules are asked there as before", "took back the word for a part at", func(ctx context.Context, tx pgx.Tx, job int64, site substitution.Site) error {
		return pricing.TakeBackVouched(ctx, tx, job, site.Place, v.hand(t))
	})
}

// vouchPage asks a person to answer for what a rule finds against a part at a place.
type vouchPage struct {
	Job     pricing.Job
	Site    substitution.Site
	Part    inventory.Part
	Rule    *substitution.Rule
	Caution string // to be read before; empty: none was told yet
}

func showVouch(v *visit) (string, any, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", nil, err
	}
	p := vouchPage{Site: site}
	if p.Job, err = pricing.JobByID(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	if p.Part, err = inventory.PartNamed(v.ctx, v.db(), v.asked("part")); err != nil {
		return "", nil, err
	}
	if p.Rule, err = substitution.RuleByID(v.asked("rule")); err != nil {
		return "", nil, err
	}
	if v.typed != nil {
		p.Caution = v.typed.errors["caution"]
	}
	return "Do you answer for it?", p, nil
}

// vouch takes a person's word. Where a rule of fit or safety is broken it is asked again with the caution to be read.
func vouch(v *visit, t *typed) (string, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", err
	}
	part, err := inventory.PartNamed(v.ctx, v.db(), v.asked("part"))
	if err != nil {
		return "", err
	}
	hand := v.hand(t)
	if hand.By = t.needed("by", "give your name: it stands on quote and job"); hand.Why == "" {
		t.mark("why", "say why: it stands beside your name")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	vouched, err := change(v, "answered for "+part.Name+" as "+site.Words, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Vouched, error) {
		return pricing.Vouch(ctx, tx, id, site.Place, part.ID, v.asked("rule"), t.ticked("caution"), hand)
	})
	var caution *pricing.CautionError
	if errors.As(err, &caution) {
		t.mark("caution", caution.Error())
		return "", errWrong
	}
	return v.done(jobPath(id, "/options"), desk.VouchedWords(vouched)+": quote again", err)
}
