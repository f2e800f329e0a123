package pages

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// optionsPage is what can be offered: the options that are the best at something as cards, all of them as a picture.
type optionsPage struct {
	desk.Options
	Whose     string
	Limits    desk.Limits
	Cards     []optionCard
	Plots     []plot
	Suppliers []inventory.Supplier
	Sorry     string    // why there is none yet
	Shared    desk.Said // by all of several cards
}

// optionCard is an option line by line.
type optionCard struct {
	desk.Choice
	Shape string
}

func showOptions(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := pricing.JobByID(v.ctx, v.db(), id)
	if err != nil {
		return "", nil, err
	}
	p := optionsPage{Whose: job.Bike.Customer.Name + "’s " + job.Bike.Words, Options: desk.Options{Front: pricing.Front{JobID: id}}}
	if p.Limits, err = desk.LoadLimits(v.ctx, v.db(), id, v.now); err != nil {
		return "", nil, err
	}
	if p.Suppliers, err = inventory.Suppliers(v.ctx, v.db()); err != nil {
		return "", nil, err
	}
	p.Options, err = desk.LoadOptions(v.ctx, v.db(), id, v.now)
	var undecided *pricing.UndecidedError
	switch {
	case errors.As(err, &undecided):
		p.Options.JobID, p.Sorry = id, err.Error()
		return "What can you offer?", p, nil
	case err != nil:
		return "", nil, err
	}
	p.Plots = plots(p.Options)
	told := desk.TellQuote(pricing.Quote{JobID: id, Options: named(p.Front.Options), Currency: p.Currency, WantedBy: job.WantedBy}, p.Clock)
	for _, c := range told.Choices {
		at := slices.IndexFunc(p.Marked, func(m desk.Marked) bool { return slices.Equal(m.Names, c.Names) })
		p.Cards = append(p.Cards, optionCard{c, shapeOf(p.Marked[at].Differs)})
	}
	p.Shared = told.Shared
	return "What can you offer " + job.Bike.Customer.Name + "?", p, nil
}

// MightFit are the parts that might do, with what to measure of each.
func (p optionsPage) MightFit() []string { return desk.MightFit(p.Unsure) }

// named are the options that are the best at something.
func named(all []pricing.Option) []pricing.Option {
	return slices.DeleteFunc(slices.Clone(all), func(o pricing.Option) bool { return len(o.Names) == 0 })
}

// LatestText and MostText are limits as they are typed.
func (p optionsPage) LatestText() string {
	if p.Limits.Latest == nil {
		return ""
	}
	return p.Limits.Latest.String()
}

func (p optionsPage) MostText() string {
	if !p.Limits.MostToSpend.Valid {
		return ""
	}
	return p.Limits.MostToSpend.Decimal.StringFixed(2)
}

// Why leads to why an option has what it has at a place.
func (p optionsPage) Why(c optionCard, l desk.QuoteLine) string {
	if l.Place == "" {
		return ""
	}
	return fmt.Sprintf("/jobs/%d/why?option=%s&place=%s", p.JobID, url.QueryEscape(c.Name()), url.QueryEscape(string(l.Place)))
}

// Title is what a card is called.
func (c optionCard) Title() string {
	t := c.Choice.Title()
	return sentence(t)
}

// Only asks from whom alone what the shelf has not may come.
func (p optionsPage) Only(f *Form) Field {
	choices := []string{"", "anybody", pricing.Shelf, "nobody: all from the shelf"}
	for _, s := range p.Suppliers {
		choices = append(choices, s.Code, s.Name)
	}
	return f.Select("only", "What the shelf has not comes from", p.Limits.OnlySupplier, choices...)
}

// ManyText is how many suppliers at most, as it is typed.
func (p optionsPage) ManyText() string {
	if p.Limits.MostSuppliers == 0 {
		return ""
	}
	return fmt.Sprint(p.Limits.MostSuppliers)
}

// NotShelf reports whether nothing is taken from the shelf.
func (p optionsPage) NotShelf() bool { return slices.Contains(p.Limits.NotSuppliers, pricing.Shelf) }

// Pinned reports whether something was said of single parts, which is forgotten all at once.
func (p optionsPage) Pinned() bool {
	return len(p.Limits.Declined)+len(p.Limits.NotParts)+len(p.Limits.OnlyParts) > 0
}

// Not is the choice of suppliers that are left out.
func (p optionsPage) Not(f *Form, s inventory.Supplier) Field {
	return f.Tick("not-"+s.Code, "Nothing from "+s.Name, slices.Contains(p.Limits.NotSuppliers, s.Code))
}

func limitJob(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	latest, most, only, many := t.comingDay("latest"), t.amount("most"), t.line("only"), 0
	if t.line("many") != "" {
		many = t.whole("many")
	}
	suppliers, err := inventory.Suppliers(v.ctx, v.db())
	if err != nil {
		return "", err
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	_, err = change(v, "said what the job must keep to", func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Limits, error) {
		return pricing.Limit(ctx, tx, id, func(l pricing.Limits) (pricing.Limits, error) {
			if t.ticked("anew") {
				l = pricing.Limits{}
			}
			l.Latest, l.MostToSpend = latest, most
			l.SameFinish, l.NoFunctionChange = t.ticked("same-finish"), t.ticked("no-function-change")
			l.OnlySupplier, l.MostSuppliers = only, many
			l.NotSuppliers = nil
			if t.ticked("not-shelf") {
				l.NotSuppliers = append(l.NotSuppliers, pricing.Shelf)
			}
			for _, s := range suppliers {
				if t.ticked("not-" + s.Code) {
					l.NotSuppliers = append(l.NotSuppliers, s.Code)
				}
			}
			return l, nil
		})
	})
	return v.done(fmt.Sprintf("/jobs/%d/options", id), "planned again within that", err)
}

// whyPage sets a part of an option beside the nearest alternatives.
type whyPage struct {
	desk.Why
	JobID int64
	Place string
}

func showWhy(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	site, err := substitution.SiteOf(substitution.Place(v.asked("place")))
	if err != nil {
		return "", nil, err
	}
	w, err := desk.LoadWhy(v.ctx, v.db(), id, v.asked("option"), site.Place, v.now)
	return "Why this " + site.Words + "?", whyPage{Why: w, JobID: id, Place: site.Words}, ofTheQuestion(err)
}

// onlyPart and notPart say that a part is the only one for the place, or not one at all.
func onlyPart(v *visit, t *typed) (string, error) {
	return v.ofPart(t, "planned again with that part alone", "wants one part alone at", func(l *pricing.Limits, place substitution.Place, part int64) {
		if l.OnlyParts == nil {
			l.OnlyParts = map[substitution.Place]int64{}
		}
		l.OnlyParts[place] = part
	})
}

func notPart(v *visit, t *typed) (string, error) {
	return v.ofPart(t, "planned again without that part", "will not have a part at", func(l *pricing.Limits, _ substitution.Place, part int64) {
		l.NotParts = append(l.NotParts, part)
	})
}

func (v *visit) ofPart(t *typed, said, words string, set func(l *pricing.Limits, place substitution.Place, part int64)) (string, error) {
	id, site, err := v.jobPlace()
	if err != nil {
		return "", err
	}
	part := t.number64("row")
	if err := t.wrong(); err != nil {
		return "", err
	}
	if _, err := inventory.PartByID(v.ctx, v.db(), part); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/jobs/%d/options", id), said, v.do(words+" the "+site.Words, func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.Limit(ctx, tx, id, func(l pricing.Limits) (pricing.Limits, error) {
			set(&l, site.Place, part)
			return l, nil
		})
		return err
	}))
}
