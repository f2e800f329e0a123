package pricing

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/solver"
	"stead/substitution/supply"
)

// Patience is how long a search may take; what is best by then is given, and said not to be proven.
const Patience = 20 * time.Second

// Draft makes the quote that a situation allows: options where the job can be done within the customer's limits, else
// why not and what would make it possible. It is not kept; MakeQuote does that.
func (s Situation) Draft(ctx context.Context) (Quote, error) {
	q := Quote{JobID: s.Job.ID, State: Open, MadeAt: s.Now, Currency: s.Shop.Currency, Tax: s.Taxes.Tax,
		ValidUntil: s.Deliveries.Today + calendar.Day(s.Shop.QuoteDays),
		Customer:   s.Job.Bike.Customer.Name, Bike: s.Job.Bike.Words, WantedBy: s.Job.WantedBy, Carriage: s.carriageRule(), Labour: s.Labour, Options: []Option{}, LeftOut: s.LeftOut, Unsure: s.unsure()}
	q.Advised, q.Own = s.Terms.Advised, s.Terms.Own
	if s.Amends == nil {
		q.IfOpened = s.Terms.Opened
	}
	for _, m := range s.Smears {
		q.Bench = append(q.Bench, m.Words)
	}
	q.Smears = s.Smears
	if why := append(s.noSetUp(), s.unobtainable()...); len(why) > 0 {
		q.Refusal = &RefusalWords{Why: why}
		return q, nil
	}
	if len(s.Needs) == 0 {
		q.Options = []Option{s.labourOnly()}
		return q, nil
	}
	problem, answer, err := s.answer(ctx)
	if err != nil {
		return q, err
	}
	q.Unproven = !answer.Proven
	if q.Options, err = s.options(problem, answer); err != nil {
		return q, err
	}
	below, err := s.belowTheirMinimum(ctx, problem)
	if err != nil {
		return q, err
	}
	q.LeftOut = append(slices.Clone(q.LeftOut), below...)
	if len(q.Options) == 0 {
		q.Refusal, err = s.refusal(ctx, problem, answer)
	}
	return q, err
}

// answer finds the job's options among what can be ordered as things stand: at suppliers whose minimum orders it
// reaches, with what else is wanted there. Only where nothing does the job so are the minimum orders let go; the
// options then say of which supplier's they fall short.
func (s Situation) answer(ctx context.Context) (posed, solver.Answer, error) {
	problem, err := s.problem()
	if err != nil {
		return problem, solver.Answer{}, err
	}
	answer, err := s.solve(ctx, problem)
	if err == nil && limited(problem) {
		var options []Option
		if options, err = s.options(problem, answer); err == nil && len(options) == 0 {
			problem = anyWorth(problem)
			answer, err = s.solve(ctx, problem)
		}
	}
	if err != nil {
		return problem, answer, fmt.Errorf("job %d: %w", s.Job.ID, err)
	}
	return problem, answer, nil
}

// limited reports whether a problem keeps to minimum orders.
func limited(p posed) bool {
	return slices.ContainsFunc(p.Suppliers, func(s supply.Supplier) bool { return s.MinimumOrder > 0 })
}

// anyWorth is a problem whose suppliers take orders of any worth.
func anyWorth(p posed) posed {
	p.Suppliers = slices.Clone(p.Suppliers)
	for i := range p.Suppliers {
		p.Suppliers[i].MinimumOrder = 0
	}
	return p
}

// belowTheirMinimum names the suppliers that a problem leaves out for their minimum orders, and what they would make
// possible.
func (s Situation) belowTheirMinimum(ctx context.Context, p posed) (out []string, err error) {
	if !limited(p) {
		return nil, nil
	}
	p = anyWorth(p)
	answer, err := s.solve(ctx, p)
	if err != nil {
		return nil, fmt.Errorf("job %d: %w", s.Job.ID, err)
	}
	options, err := s.options(p, answer)
	if err != nil {
		return nil, err
	}
	said := map[int64]bool{}
	for _, o := range options {
		for _, f := range o.short {
			if !said[f.supplier] {
				out = append(out, fmt.Sprintf("%s; else option %s would be %s, %s", f.words, o.Name(), Amount(s.Shop.Currency, o.Total), o.Promise))
			}
			said[f.supplier] = true
		}
	}
	return out, nil
}

// solve finds the job's options without any difference that was declined. Candidates that bring one by themselves were
// never put to the solver; one that brings it only together with others is taken away here, and the rest solved again.
func (s Situation) solve(ctx context.Context, p posed) (solver.Answer, error) {
	ctx, cancel := context.WithTimeout(ctx, Patience)
	defer cancel()
	for {
		if slices.ContainsFunc(p.Needs, func(n solver.Need) bool {
			return !slices.ContainsFunc(n.Candidates, func(c int) bool { return s.obtainable(p.parts[c]) })
		}) {
			return solver.Answer{Proven: true}, nil
		}
		answer, err := solver.Solve(ctx, p.Problem)
		if err != nil {
			return answer, err
		}
		place, part := s.declinedIn(answer)
		i := slices.IndexFunc(p.Needs, func(n solver.Need) bool { return part >= 0 && n.ID == place })
		if i < 0 {
			return answer, nil
		}
		p.Needs = slices.Clone(p.Needs)
		p.Needs[i].Candidates = slices.DeleteFunc(slices.Clone(p.Needs[i].Candidates), func(c int) bool { return c == part })
	}
}

// declinedIn is a choice of an answer's that brings a difference which was declined: the need and the part, or -1.
func (s Situation) declinedIn(answer solver.Answer) (need string, part int) {
	for _, o := range answer.Front {
		for _, d := range o.Deviations {
			if !s.Job.Limits.declined(d.Finding) || s.asked(d.At) {
				continue
			}
			for _, c := range o.Chosen {
				if c.Need == needName(d.At) && !c.Brought {
					return c.Need, c.Part
				}
			}
		}
	}
	return "", -1
}

// labourOnly is the option of a job that needs no parts.
func (s Situation) labourOnly() Option {
	o := Option{Names: []string{"no parts"}, Parts: []PartLine{}, Deviations: []Deviation{}, Landed: decimal.Zero, ReadyOn: s.Deliveries.Today, Promise: "no parts to wait for"}
	s.withSetUps(&o)
	s.total(&o)
	return o
}

// unobtainable names the needs for which nobody has any part at all, or none whose price is known.
func (s Situation) unobtainable() []string {
	var why []string
	for i, n := range s.Needs {
		if slices.ContainsFunc(s.Candidates[i], s.obtainable) {
			continue
		}
		words := fmt.Sprintf("neither the shelf nor any supplier has any %s for the %s", pluralOf(n.Family), siteWords(n.Place))
		if s.wantsTubeless(n.Place) {
			words += " that is known to be tubeless"
		}
		for _, id := range s.Candidates[i] {
			if s.Stock[id].Free() > 0 {
				words = fmt.Sprintf("%s is on the shelf and has no price: give it a retail price, or record what a supplier asks", s.Parts[id].Name)
				break
			}
		}
		why = append(why, words)
	}
	return why
}

// pluralOf is what a family's parts are called.
func pluralOf(family substitution.Family) string {
	table, err := substitution.TableOf(family)
	if err != nil {
		return string(family)
	}
	return table.Plural
}
