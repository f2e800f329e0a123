package pages

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// asksPage is what a job asks before it can tell whether a part fits: each thing to measure once,
// however many parts wait for it, first what most wait for.
type asksPage struct {
	JobID     int64
	Whose     string
	Questions []question
}

// question is what is measured on one part: on one that is on the bike, or on one of the catalogue.
type question struct {
	Row    string // "place:rear.hub", "part:70"
	Title  string
	Part   bool // of the catalogue
	family substitution.Family
	Asks   []pricing.Ask
	For    []waiting
}

// waiting is a part of which the answer tells whether it fits.
type waiting struct {
	Name, Place string
	If          []string // the answers with which it does, as far as they can be told
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
	unsure, err := v.unsure(id)
	if err != nil {
		return "", nil, err
	}
	p.Questions = questionsOf(unsure)
	for i := range p.Questions {
		if p.Questions[i].family, err = v.familyOf(p.Questions[i].Row); err != nil {
			return "", nil, err
		}
	}
	return "What is to be measured?", p, nil
}

// unsure are the parts of which a job's newest quote cannot tell whether they fit; without any quote, of which one would.
func (v *visit) unsure(job int64) ([]pricing.UnsurePart, error) {
	q, quoted, err := pricing.LastQuote(v.ctx, v.db(), job)
	if err != nil || quoted {
		return q.Unsure, err
	}
	s, err := pricing.LoadSituation(v.ctx, v.db(), job, v.now)
	if undecided := (*pricing.UndecidedError)(nil); errors.As(err, &undecided) {
		return nil, nil // what was found asks before any part is looked for
	}
	if err != nil {
		return nil, err
	}
	q, err = s.Draft(v.ctx)
	return q.Unsure, err
}

// familyOf is the family of what a row of questions is about.
func (v *visit) familyOf(row string) (substitution.Family, error) {
	kind, of, _ := strings.Cut(row, ":")
	if kind != "part" {
		site, err := substitution.SiteOf(substitution.Place(of))
		return site.Family, err
	}
	n, _ := strconv.ParseInt(of, 10, 64) // none is no part's
	part, err := inventory.PartByID(v.ctx, v.db(), n)
	return part.Family, err
}

// questionsOf gathers what is asked for some parts by what it is asked of.
func questionsOf(unsure []pricing.UnsurePart) (out []question) {
	for _, u := range unsure {
		for _, a := range u.Asks {
			row, title := fmt.Sprintf("place:%s", a.Place), sentence(desk.SiteWords(a.Place))+" on the bike"
			if a.PartID != 0 {
				row, title = fmt.Sprintf("part:%d", a.PartID), u.Name
			}
			at := slices.IndexFunc(out, func(q question) bool { return q.Row == row })
			if at < 0 {
				at, out = len(out), append(out, question{Row: row, Title: title, Part: a.PartID != 0})
			}
			out[at].add(u, a)
		}
	}
	slices.SortStableFunc(out, func(a, b question) int { return len(b.For) - len(a.For) })
	return out
}

// add takes in a dimension that is asked for a part.
func (q *question) add(u pricing.UnsurePart, a pricing.Ask) {
	if !slices.ContainsFunc(q.Asks, func(b pricing.Ask) bool { return b.Dimension == a.Dimension }) {
		q.Asks = append(q.Asks, a)
	}
	at := slices.IndexFunc(q.For, func(w waiting) bool { return w.Name == u.Name && w.Place == desk.SiteWords(u.Place) })
	if at < 0 {
		at, q.For = len(q.For), append(q.For, waiting{Name: u.Name, Place: desk.SiteWords(u.Place)})
	}
	if len(a.FitsIf) > 0 {
		q.For[at].If = append(q.For[at].If, a.Words+" "+strings.Join(a.FitsIf, " or "))
	}
}

// Words say which part waits, and with which answer it fits.
func (w waiting) Words() string {
	words := w.Name + " as " + w.Place
	if len(w.If) > 0 {
		words += ": fits if it is " + strings.Join(w.If, ", ")
	}
	return words
}

// Field asks for a dimension.
func (p asksPage) Field(f *Form, q question, a pricing.Ask) Field {
	name := "d-" + q.Row + ":" + a.Dimension
	table, err := substitution.TableOf(q.family)
	if err == nil {
		if d, ok := table.Dimension(a.Dimension); ok {
			return dimensionNamed(f, name, d, "")
		}
	}
	return f.Line(name, sentence(a.Words)).With(a.Measure)
}

// Alike asks whether an answer is of all parts that say the same.
func (p asksPage) Alike(f *Form, q question) Field {
	return f.Tick("alike-"+q.Row, "For every part that says the same")
}

// answerAsk keeps all that was measured of what a quote asked for, and makes the quote anew with it, once.
func answerAsk(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	answers, first := []pricing.Answer{}, ""
	for _, field := range slices.Sorted(maps.Keys(t.values)) {
		of, asked := strings.CutPrefix(field, "d-")
		at := strings.LastIndexByte(of, ':')
		if !asked || at < 0 {
			continue
		}
		first = cmp.Or(first, field)
		row, dimension := of[:at], of[at+1:]
		fact, given, err := v.measured(t, field, row, dimension)
		if err != nil {
			return "", err
		}
		if !given {
			continue
		}
		a := answerOf(row, t)
		if n := len(answers) - 1; n >= 0 && answers[n].Place == a.Place && answers[n].PartID == a.PartID {
			answers[n].Facts[dimension] = fact
			continue
		}
		a.Facts = substitution.Spec{dimension: fact}
		answers = append(answers, a)
	}
	if len(answers) == 0 {
		t.mark(first, "say what you measured, here or in another field")
	}
	hand := v.hand(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	_, err = change(v, "answered what the quote asked", func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Answered, error) {
		return pricing.AnswerAsks(ctx, tx, id, answers, hand, v.now)
	})
	return v.done(jobPath(id, "/quote"), "kept, and quoted anew with it", err)
}

// answerOf begins the answer about what a row of questions is about.
func answerOf(row string, t *typed) (a pricing.Answer) {
	kind, of, _ := strings.Cut(row, ":")
	if kind == "part" {
		a.PartID, _ = strconv.ParseInt(of, 10, 64)
		a.Alike = t.ticked("alike-" + row)
		return a
	}
	a.Place = substitution.Place(of)
	return a
}

// measured reads what was typed of a dimension; given is false where nothing was, or nothing that can be read.
func (v *visit) measured(t *typed, field, row, dimension string) (fact substitution.Fact, given bool, err error) {
	family, err := v.familyOf(row)
	if err != nil {
		return fact, false, err
	}
	table, err := substitution.TableOf(family)
	if err != nil {
		return fact, false, err
	}
	d, known := table.Dimension(dimension)
	if !known {
		return fact, false, &statusError{400, "the form is not whole: open the page again"}
	}
	text := t.line(field)
	if text == "" {
		return fact, false, nil
	}
	value, err := d.Parse(text)
	if err != nil {
		t.takeOf(field, d, err)
		return fact, false, nil
	}
	return substitution.Fact{Value: value, Origin: substitution.Measured}, true, nil
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
