package pricing

import (
	"context"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"stead/pricing/money"
	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/solver"
)

// Comparison sets what an option has at one place beside what it could have there.
type Comparison struct {
	JobID        int64              `json:"job"`
	Option       Option             `json:"option"`
	Place        substitution.Place `json:"place"`
	Chosen       []PartLine         `json:"chosen"` // two where the shelf has too few: what comes off it, and the rest
	Alternatives []Alternative      `json:"alternatives"`
}

// Alternative is another part or source for the place, and what it alone would change.
type Alternative struct {
	PartID   int64  `json:"part_id"`
	Name     string `json:"name"`
	Supplier string `json:"supplier,omitempty"` // its code; none: the shelf
	From     string `json:"supplier_name,omitempty"`
	// Shelf is how many pieces come off the shelf before the supplier meets the rest.
	Shelf int `json:"from_shelf,omitempty"`
	// What the option comes to with it, if that can be had at all.
	With *Option         `json:"with,omitempty"`
	More decimal.Decimal `json:"more"` // what the customer would pay more; minus: less
	Days int             `json:"days"` // how many days later; minus: sooner
	// Against is what speaks against it: rules it breaks with the rest of the option, wishes of the customer's that it does
	// not keep, a source that has too few.
	Against []string `json:"against,omitempty"`
	// Cheaper is by how much less the workshop would have to pay for it, before tax, for a job with it, all else chosen
	// anew, to cost no more than this option, be no later and differ no more. Absent: no price would do.
	Cheaper *decimal.Decimal `json:"cheaper,omitempty"`
}

// mostAlternatives is how many alternatives are compared: the nearest.
const mostAlternatives = 8

// Why compares what an option of a job has at a place with the nearest alternatives for it.
func (s Situation) Why(ctx context.Context, name string, place substitution.Place) (Comparison, error) {
	c := Comparison{JobID: s.Job.ID, Place: place, Alternatives: []Alternative{}}
	if err := s.checkPlanned(); err != nil {
		return c, err
	}
	if !slices.ContainsFunc(s.Needs, func(n inspection.Need) bool { return n.Place == place }) {
		return c, fmt.Errorf("job %d needs no part for the %s", s.Job.ID, siteWords(place))
	}
	problem, answer, err := s.answer(ctx)
	if err != nil {
		return c, err
	}
	options, err := s.options(problem, answer)
	if err != nil {
		return c, err
	}
	option, names := byName(options, name)
	switch {
	case len(options) == 0:
		return c, stuck(s.Job.ID, AskWhyNot, "nothing does job %d as asked", s.Job.ID)
	case names != nil:
		return c, fmt.Errorf("job %d has no option %q: choose %s", s.Job.ID, name, joinOr(names))
	}
	c.Option = option
	chosen, err := s.behind(problem, answer, c.Option)
	if err != nil {
		return c, err
	}
	for _, line := range c.Option.Parts {
		if line.Place == place && !line.Brought {
			c.Chosen = append(c.Chosen, line)
		}
	}
	alternatives, err := solver.Why(ctx, problem.Problem, chosen, needName(place), mostAlternatives)
	if err != nil {
		return c, fmt.Errorf("job %d: %w", s.Job.ID, err)
	}
	for _, a := range alternatives {
		alternative, err := s.alternative(problem, c.Option, a)
		if err != nil {
			return c, err
		}
		c.Alternatives = append(c.Alternatives, alternative)
	}
	return c, nil
}

// behind is the solver's choice that an option was made from.
func (s Situation) behind(p posed, answer solver.Answer, option Option) (solver.Option, error) {
	for _, o := range answer.Front {
		made, err := s.option(p, o)
		if err != nil {
			return o, err
		}
		if made.same(option) {
			return o, nil
		}
	}
	return solver.Option{}, fmt.Errorf("option %s of job %d is none of the solver's", option.Name(), s.Job.ID)
}

// alternative puts the solver's alternative into names, money and words.
func (s Situation) alternative(p posed, option Option, a solver.Alternative) (Alternative, error) {
	id := p.parts[a.Part]
	out := Alternative{PartID: id, Name: s.Parts[id].Name, Shelf: a.Shelf.Pieces}
	if offer := p.offers[a.Part][a.Offer]; offer.ID != 0 {
		supplier := s.Deliveries.Supplier(offer.SupplierID)
		out.Supplier, out.From = supplier.Code, supplier.Name
	}
	for _, f := range a.Stops {
		out.Against = append(out.Against, f.Words)
	}
	for _, w := range a.Against {
		out.Against = append(out.Against, "against “"+p.Wishes[w].Words+"”")
	}
	switch {
	case a.With != nil:
		with, err := s.option(p, *a.With)
		if err != nil {
			return out, err
		}
		out.With, out.More, out.Days = &with, with.Total.Sub(option.Total), int(with.ReadyOn-option.ReadyOn)
	case len(a.Stops) == 0:
		out.Against = append(out.Against, s.whyNone(p, out.Supplier))
	}
	if a.Falls != nil {
		cheaper := money.FromFine(*a.Falls)
		out.Cheaper = &cheaper
	}
	return out, nil
}

// whyNone says why what fits cannot be had from a source: the shelf has too few, or it would not make an order.
func (s Situation) whyNone(p posed, supplier string) string {
	terms, err := s.Deliveries.HomeTerms(s.Deliveries.SupplierNumber(supplier))
	if supplier == "" || err != nil || !limited(p) || !terms.MinimumOrder.IsPositive() {
		return "there are too few of it"
	}
	return fmt.Sprintf("%s takes no order below %s, and this does not come to it", terms.Name, Amount(s.Shop.Currency, terms.MinimumOrder))
}
