package pages

import (
	"errors"
	"fmt"
	"net/url"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// fitPage asks whether a part goes on: at a place of a bike, in the stead of another, with another.
type fitPage struct {
	Ask   string // place, instead, pair
	JobID int64
	Jobs  []desk.OnStand
	Place substitution.Place
	Sites []substitution.Site
	A, B  string // parts as they were named
	About string // what the answer is of: "chain of Ines Falkner's blue touring bike"
	Sure  []fitLine
	Might []fitLine
	Asked bool // for all of the catalogue
	One   *ruling
	Sorry string
	Near  []nearPart // parts whose words were typed in the place of a code
	query url.Values
}

// fitLine is a part of the catalogue with a link to what each rule says of it.
type fitLine struct {
	desk.Fitting
	Path string
}

// ruling is what the rules say of one part, one by one.
type ruling struct {
	substitution.Verdict
	What string
	None string // why there is nothing to say; empty: there is
}

// nearPart is a part that may be meant.
type nearPart struct {
	inventory.Part
	Path string
}

// mostFitting bounds how many parts of the catalogue are judged at once.
const mostFitting = 40

func showFit(v *visit) (string, any, error) {
	p := fitPage{Ask: v.asked("ask"), JobID: v.askedNumber("job"), Place: substitution.Place(v.asked("place")), A: v.asked("a"), B: v.asked("b"),
		Sites: substitution.Sites(), query: v.r.URL.Query()}
	if p.Ask != "instead" && p.Ask != "pair" {
		p.Ask = "place"
	}
	var err error
	if p.Jobs, err = desk.LoadJobs(v.ctx, v.db(), pricing.JobSearch{}, v.now); err != nil {
		return "", nil, err
	}
	named := "" // the field in which a part's name may be wrong
	switch {
	case p.Ask == "place" && p.JobID != 0 && p.Place != "":
		named, err = p.atPlace(v)
	case p.Ask == "instead" && p.A != "":
		named, err = p.instead(v)
	case p.Ask == "pair" && p.A != "" && p.B != "":
		named, err = p.pair(v)
	}
	if err != nil {
		err = p.sorry(v, named, err)
	}
	return "Does it fit?", p, err
}

func (p *fitPage) atPlace(v *visit) (named string, err error) {
	site, err := substitution.SiteOf(p.Place)
	if err != nil {
		return "", err
	}
	fit, err := desk.LoadFitAtPlace(v.ctx, v.db(), p.JobID, site, p.B, mostFitting)
	if err != nil {
		return "b", err
	}
	p.About = fmt.Sprintf("%s, %s’s %s", site.Words, fit.Job.Bike.Customer.Name, fit.Job.Bike.Words)
	if p.B != "" {
		one := fit.Fittings[0]
		p.One = &ruling{Verdict: one.Verdict, What: one.Part.Name + " as " + site.Words}
		return "", nil
	}
	p.list(fit.Fittings)
	return "", nil
}

func (p *fitPage) instead(v *visit) (named string, err error) {
	if _, err := inventory.PartNamed(v.ctx, v.db(), p.A); err != nil {
		return "a", err
	}
	fit, err := desk.LoadFitInstead(v.ctx, v.db(), p.A, p.B, mostFitting)
	if err != nil {
		return "b", err
	}
	p.About = "in the stead of " + fit.Was.Name
	if p.B != "" {
		one := fit.Fittings[0]
		p.One = &ruling{Verdict: one.Verdict, What: one.Part.Name + " in the stead of " + fit.Was.Name}
		return "", nil
	}
	p.list(fit.Fittings)
	return "", nil
}

func (p *fitPage) pair(v *visit) (named string, err error) {
	if _, err := inventory.PartNamed(v.ctx, v.db(), p.A); err != nil {
		return "a", err
	}
	fit, err := desk.LoadFitPair(v.ctx, v.db(), p.A, p.B)
	if err != nil {
		return "b", err
	}
	p.One = &ruling{Verdict: fit.Verdict, What: fit.A.Name + " with " + fit.B.Name}
	if len(fit.Verdict.Findings) == 0 {
		p.One.None = fit.NoRuleWords()
	}
	return "", nil
}

// list tells what fits from what might.
func (p *fitPage) list(all []desk.Fitting) {
	p.Asked = true
	for _, f := range all {
		line := fitLine{f, p.with("b", fmt.Sprint(f.Part.ID))}
		switch f.Verdict.Fits {
		case substitution.Holds, substitution.NoRule:
			p.Sure = append(p.Sure, line)
		case substitution.CantTell:
			p.Might = append(p.Might, line)
		}
	}
}

// sorry keeps the page where a part was not found or cannot be asked about, with the parts that may be meant.
func (p *fitPage) sorry(v *visit, field string, err error) error {
	var unknown *inventory.UnknownError
	var place *substitution.UnknownPlaceError
	switch {
	case errors.As(err, &place), errors.As(err, &unknown) && unknown.Kind != inventory.OfPart:
		return err
	case errors.As(err, &unknown):
		found, err := inventory.FindParts(v.ctx, v.db(), inventory.Search{Words: v.asked(field), Limit: 12})
		for _, part := range found {
			p.Near = append(p.Near, nearPart{part, p.with(field, fmt.Sprint(part.ID))})
		}
		p.Sorry = fmt.Sprintf("no part has the number or code %q", v.asked(field))
		return err
	}
	var told *statusError
	if err = ofTheQuestion(err); errors.As(err, &told) {
		p.Sorry = told.sentence
		return nil
	}
	return err
}

// with is the same question with another answer in one field.
func (p fitPage) with(field, value string) string {
	q := url.Values{}
	for name, values := range p.query {
		q[name] = values
	}
	q.Set(field, value)
	return "/fit?" + q.Encode()
}

// Vouch leads to where a person answers for what a rule finds against the part at a place of a job; empty where nobody can.
func (p fitPage) Vouch(f substitution.Finding) string {
	if p.Ask != "place" || p.JobID == 0 || f.Answer == substitution.Holds || f.Rule.Severity == substitution.Finish {
		return ""
	}
	q := url.Values{"place": {string(p.Place)}, "part": {p.B}, "rule": {f.Rule.ID}}
	return fmt.Sprintf("/jobs/%d/vouch?%s", p.JobID, q.Encode())
}

// AllPath asks the same of the whole catalogue again.
func (p fitPage) AllPath() string { return p.with("b", "") }

// Answer is the answer in words, with the mark that goes with it.
func (r ruling) Answer() placeMark {
	words := desk.AnswerWords(r.Verdict)
	return placeMark{string(answerMark(r.Fits)), sentence(words)}
}

// Mark is the mark of what one rule says.
func (r ruling) Mark(f substitution.Finding) placeMark {
	return placeMark{string(answerMark(f.Answer)), f.Answer.String()}
}

// Differs reports whether it goes on, so that what is different matters.
func (r ruling) Differs() bool { return r.Fits != substitution.Breaks }

// Beside is what it needs beside it.
func (r ruling) Beside() string { return desk.BesideWords(r.Verdict) }

// Different says what a part makes different.
func (l fitLine) Different() string { return desk.DifferentWords(l.Verdict) }

// Measure says what to measure before anybody can tell.
func (l fitLine) Measure() string { return desk.MissingWords(l.Verdict) }

// answerMark is the shape of an answer; the word stands beside it.
func answerMark(a substitution.Answer) desk.Mark {
	switch a {
	case substitution.Holds:
		return desk.Fine
	case substitution.Breaks:
		return desk.Replace
	case substitution.CantTell:
		return desk.Unseen
	}
	return "same"
}
