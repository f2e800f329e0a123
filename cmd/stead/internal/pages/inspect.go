package pages

import (
	"context"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory/photo"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// inspectPage is the bike with its places, one of them open: what is read there, what that proposes, what is decided.
type inspectPage struct {
	desk.Job
	Bike   drawing
	Rounds []desk.Round
	At     *desk.AtPlace // the place that is open; nil: none yet
	Photos []desk.Photo  // of that place
	Next   *desk.PlaceMark
}

func showInspect(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := desk.LoadJob(v.ctx, v.db(), id, v.now)
	if err != nil {
		return "", nil, err
	}
	p := inspectPage{Job: job, Rounds: desk.RoundsOf(job)}
	place := substitution.Place(v.asked("place"))
	p.Bike = draw(job, place, p.Path)
	title := "What did you find?"
	if place != "" {
		at, err := job.At(place)
		if err != nil {
			return "", nil, err
		}
		for _, one := range job.Photos {
			if one.Place == place {
				p.Photos = append(p.Photos, one)
			}
		}
		p.At, title = &at, "What did you find at the "+at.Words+"?"
	}
	p.Next = p.unseen(place)
	return title, p, nil
}

// OnRecord reports whether anything is known of the bike yet: else its places are all in one list, which stands open.
func (p inspectPage) OnRecord() bool {
	return slices.ContainsFunc(p.Rounds, func(r desk.Round) bool { return len(r.Known) > 0 })
}

// PhotosPath leads to the photos of the place that is open.
func (p inspectPage) PhotosPath() string {
	return photosPath(photo.Of{JobID: p.ID, Place: p.At.Place})
}

// Path leads to a place of the same bike.
func (p inspectPage) Path(place substitution.Place) string { return inspectPath(p.ID, place) }

// AtPath leads to what is agreed about the place that is open.
func (p inspectPage) AtPath() string { return atPath(p.ID, p.At.Place) }

func inspectPath(job int64, place substitution.Place) string {
	return fmt.Sprintf("/jobs/%d/inspect?place=%s#at", job, url.QueryEscape(string(place)))
}

// unseen is the next place on the walk that is on record and was not looked at, after the one that is open.
func (p inspectPage) unseen(after substitution.Place) *desk.PlaceMark {
	var first *desk.PlaceMark
	passed := false
	for _, r := range p.Rounds {
		for _, m := range r.Known {
			if m.Place == after {
				passed = true
				continue
			}
			if m.Told() || strings.HasPrefix(string(m.Place), "frame") {
				continue
			}
			if passed {
				return &m
			}
			if first == nil {
				first = &m
			}
		}
	}
	return first
}

// Reading is the field of a reading: figures with a step, yes and no, or words.
func (p inspectPage) Reading(f *Form, r substitution.Reading) Field {
	label := sentence(r.Plain())
	name := "r-" + r.Name
	switch r.Form {
	case substitution.Flag:
		return f.Choice(name, label, "", "yes", "yes", "no", "no").With(r.Measure)
	case substitution.Word:
		var choices []string
		for _, w := range r.Words {
			choices = append(choices, w, strings.ReplaceAll(w, "-", " "))
		}
		return f.Choice(name, label, "", choices...).With(r.Measure)
	}
	field := f.field("step", name, label).With(r.Measure)
	field.Step = tapOf(r.Dimension)
	return field
}

// finest is up to where a measure is read to a tenth: wear in per cent, the thickness of a rotor.
const finest = 20

// tapOf is by how much one tap changes what is read: what is counted goes by one, and never by a part of one.
func tapOf(d substitution.Dimension) string {
	if d.Form == substitution.Number && d.High <= finest {
		return "0.1"
	}
	return "1"
}

// Actions are what can be decided, with what the readings decide as the first.
func (p inspectPage) Actions(f *Form) Field {
	return f.Choice("action", "What is to be done?", "", "", "what the readings say", "keep", "keep it", "clean", "clean it", "adjust", "adjust it", "replace", "replace it")
}

// FactField is the field of a dimension of what is fitted.
func (p inspectPage) FactField(f *Form, d desk.Fact) Field {
	return dimensionField(f, d.Dimension, d.Value)
}

// jobPlace is the job of the path and the place of the query.
func (v *visit) jobPlace() (job int64, site substitution.Site, err error) {
	if job, err = v.number("job"); err != nil {
		return job, site, err
	}
	site, err = substitution.SiteOf(substitution.Place(v.asked("place")))
	return job, site, err
}

func inspectPlace(v *visit, t *typed) (string, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", err
	}
	visit := inspection.Taken{Place: site.Place, Readings: inspection.Readings{}, Note: t.line("note"), Correct: t.ticked("correct")}
	for _, r := range inspection.ReadingsOf(site.Family) {
		text := t.line("r-" + r.Name)
		if text == "" {
			continue
		}
		value, err := inspection.Parse(site.Family, r.Name, text)
		if err != nil {
			t.takeOf("r-"+r.Name, r, err)
			continue
		}
		visit.Readings[r.Name] = value
	}
	if action := t.oneOf("action", "keep", "clean", "adjust", "replace"); action != "" {
		visit.Action = inspection.Action(action)
	}
	if len(visit.Readings) == 0 && visit.Action == "" && visit.Note == "" {
		t.mark("action", "read something, or say what is to be done")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	found, err := change(v, "looked at the "+site.Words, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Found, error) {
		return pricing.Inspect(ctx, tx, id, visit, v.now)
	})
	if err != nil {
		return "", err
	}
	return v.done(inspectPath(id, site.Place), desk.TellFinding(found.Finding).Words, nil)
}

func takeBackReading(v *visit, t *typed) (string, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", err
	}
	return v.done(inspectPath(id, site.Place), "taken back", v.do("took a reading back at the "+site.Words, func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.Inspect(ctx, tx, id, inspection.Taken{Place: site.Place, TakeBack: []string{t.row}}, v.now)
		return err
	}))
}

// recordPlace keeps what is fitted: every field that is filled in; an empty one is not known.
func recordPlace(v *visit, t *typed) (string, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", err
	}
	table, err := substitution.TableOf(site.Family)
	if err != nil {
		return "", err
	}
	job, err := pricing.JobByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	var was substitution.Spec
	if part := job.Bike.Build[site.Place]; part != nil {
		was = part.Spec
	}
	part := &substitution.Part{Family: site.Family, Name: t.line("name"), Spec: t.spec(table, was, substitution.Measured)}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(inspectPath(id, site.Place), site.Words+" recorded", v.do("recorded what is fitted at the "+site.Words, func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.RecordFitted(ctx, tx, id, site.Place, part)
	}))
}
