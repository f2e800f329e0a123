package pages

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// asksPage is what the newest quote of a job asks before it can tell whether a part fits.
type asksPage struct {
	JobID  int64
	Whose  string
	Quoted bool
	Unsure []pricing.UnsurePart
}

func showAsks(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := pricing.JobByID(v.ctx, v.db(), id)
	if err != nil {
		return "", nil, err
	}
	p := asksPage{JobID: id, Whose: job.Bike.Customer.Name + "’s " + job.Bike.Words}
	q, quoted, err := pricing.LastQuote(v.ctx, v.db(), id)
	p.Quoted, p.Unsure = quoted, q.Unsure
	return "What is to be measured?", p, err
}

// Words say which part might fit, and how that is found out.
func (p asksPage) Words(u pricing.UnsurePart) string { return desk.UnsureWords(u) }

// Row tells apart the forms of what is asked.
func (p asksPage) Row(a pricing.Ask) string {
	if a.PartID != 0 {
		return fmt.Sprintf("part %d %s", a.PartID, a.Dimension)
	}
	return fmt.Sprintf("place %s %s", a.Place, a.Dimension)
}

// Of says of what a dimension is asked.
func (p asksPage) Of(u pricing.UnsurePart, a pricing.Ask) string {
	if a.PartID != 0 {
		return sentence(a.Words) + " of " + u.Name
	}
	return sentence(a.Words) + " of the " + desk.SiteWords(a.Place) + " on the bike"
}

// Field asks for the dimension.
func (p asksPage) Field(f *Form, u pricing.UnsurePart, a pricing.Ask) Field {
	field := f.Line("value", p.Of(u, a)).With(p.How(a))
	field.Jaws = jawsFor(a.Measure, false)
	return field
}

// How says how it is found out, and with which answers the part fits.
func (p asksPage) How(a pricing.Ask) string {
	if len(a.FitsIf) == 0 {
		return a.Measure
	}
	return strings.TrimSpace(a.Measure + " It fits if it is " + strings.Join(a.FitsIf, " or ") + ".")
}

// answerAsk keeps a dimension that a quote asked for, and makes the quote anew with it.
func answerAsk(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	kind, rest, _ := strings.Cut(t.row, " ")
	of, name, _ := strings.Cut(rest, " ")
	var part inventory.Part
	site := substitution.Site{}
	family := substitution.Family("")
	if kind == "part" {
		n, _ := strconv.ParseInt(of, 10, 64) // none is no part's
		part, err = inventory.PartByID(v.ctx, v.db(), n)
		family = part.Family
	} else {
		site, err = substitution.SiteOf(substitution.Place(of))
		family = site.Family
	}
	if err != nil {
		return "", err
	}
	table, err := substitution.TableOf(family)
	if err != nil {
		return "", err
	}
	d, known := table.Dimension(name)
	if !known {
		return "", errors.New("the form is not whole: open the page again")
	}
	text, facts := t.needed("value", "say what it is"), substitution.Spec{}
	if text != "" {
		value, err := d.Parse(text)
		t.take("value", err)
		facts[name] = substitution.Fact{Value: value, Origin: substitution.Measured}
	}
	hand := v.hand(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	_, err = change(v, "answered what the quote asked", func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Answered, error) {
		if kind == "part" {
			return pricing.AnswerOfPart(ctx, tx, id, part.ID, facts, t.ticked("alike"), hand, v.now)
		}
		return pricing.AnswerOfBike(ctx, tx, id, site.Place, facts, v.now)
	})
	return v.done(jobPath(id, "/quote"), "kept, and quoted anew with it", err)
}

// lostPage are the quotes that came to nothing, and of which nobody has said why.
type lostPage struct{ Lost []pricing.Lost }

func showLost(v *visit) (string, any, error) {
	lost, err := pricing.LostQuotes(v.ctx, v.db(), true, v.now)
	return "Why not?", lostPage{lost}, err
}

// Row tells apart the quotes.
func (p lostPage) Row(l pricing.Lost) string { return fmt.Sprintf("%d %d", l.JobID, l.Version) }

// Why asks why a quote came to nothing.
func (p lostPage) Why(f *Form) Field {
	return becauseField(f)
}

// becauseField asks why a quote came to nothing; first may be an answer that says nothing.
func becauseField(f *Form, first ...string) Field {
	return f.Choice("because", "What was it for?", "", append(first, string(pricing.ForPrice), "the price", string(pricing.ForDate), "the day", string(pricing.ForPart), "the part", string(pricing.NoAnswer), "no answer came")...)
}

func reasons() (out []string) {
	for _, r := range pricing.Reasons {
		out = append(out, string(r))
	}
	return out
}

func sayLost(v *visit, t *typed) (string, error) {
	job, version, _ := strings.Cut(t.row, " ")
	id, err := strconv.ParseInt(job, 10, 64)
	n, other := strconv.Atoi(version)
	if err != nil || other != nil {
		return "", &statusError{400, "the form is not whole: open the page again"}
	}
	because, note := pricing.Because(t.oneOf("because", reasons()...)), t.line("note")
	if because == "" {
		t.mark("because", "say why")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done("/lost", fmt.Sprintf("job %d: kept", id), v.do("said why the quote came to nothing", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.SayLost(ctx, tx, id, n, because, note, v.now)
	}))
}
