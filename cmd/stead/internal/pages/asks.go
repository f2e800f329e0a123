package pages

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// asksPage is what the newest quote of a job asks before it can tell whether a part fits: each thing to measure once,
// however many parts wait for it, first what most wait for.
type asksPage struct {
	JobID     int64
	Whose     string
	Quoted    bool
	Questions []question
}

// question is what is measured on one part: on one that is on the bike, or on one of the catalogue.
type question struct {
	Row   string
	Title string
	Part  bool // of the catalogue
	Asks  []pricing.Ask
	For   []waiting
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
	q, quoted, err := pricing.LastQuote(v.ctx, v.db(), id)
	p.Quoted, p.Questions = quoted, questionsOf(q.Unsure)
	return "What is to be measured?", p, err
}

// questionsOf gathers what is asked for some parts by what it is asked of.
func questionsOf(unsure []pricing.UnsurePart) (out []question) {
	for _, u := range unsure {
		for _, a := range u.Asks {
			row, title := fmt.Sprintf("place %s", a.Place), sentence(desk.SiteWords(a.Place))+" on the bike"
			if a.PartID != 0 {
				row, title = fmt.Sprintf("part %d", a.PartID), u.Name
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
func (p asksPage) Field(f *Form, a pricing.Ask) Field {
	field := f.Line("d-"+a.Dimension, sentence(a.Words)).With(a.Measure)
	field.Jaws = jawsFor(a.Measure, false)
	return field
}

// answerAsk keeps what was measured of what a quote asked for, and makes the quote anew with it.
func answerAsk(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	kind, of, _ := strings.Cut(t.row, " ")
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
	facts := t.spec(table, nil, substitution.Measured)
	for name := range t.values {
		if strings.HasPrefix(name, "d-") && len(facts) == 0 {
			t.mark(name, "say what you measured, here or in another field of this part")
		}
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
