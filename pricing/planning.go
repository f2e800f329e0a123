package pricing

import (
	"context"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/solver"
)

// Draft makes the quote that a situation allows: options where the job can be done within the customer's limits, else
// why not and what would make it possible. It is not kept; MakeQuote does that.
func (s Situation) Draft(ctx context.Context) (Quote, error) {
	q := Quote{JobID: s.Job.ID, State: Open, MadeAt: s.Now, Currency: s.Shop.Currency, Tax: s.Tax,
		ValidUntil: s.Deliveries.Today + calendar.Day(s.Shop.QuoteDays),
		Customer:   s.Job.Bike.Customer.Name, Bike: s.Job.Bike.Words, Labour: s.Labour, Unsure: s.unsure()}
	for _, n := range s.Bench {
		q.Bench = append(q.Bench, fmt.Sprintf("%s %s, %d %s", n.Family, n.Why, n.Quantity, n.Unit))
	}
	if len(s.Needs) == 0 {
		q.Options = []Option{s.labourOnly()}
		return q, nil
	}
	if why := s.unobtainable(); len(why) > 0 {
		q.Refusal = &RefusalWords{Why: why}
		return q, nil
	}
	problem, err := s.problem()
	if err != nil {
		return q, err
	}
	answer, err := solver.Solve(ctx, problem)
	if err != nil {
		return q, fmt.Errorf("job %d: %w", s.Job.ID, err)
	}
	if q.Options, err = s.options(answer); err != nil {
		return q, err
	}
	switch {
	case len(q.Options) > 0:
	case answer.Refusal != nil:
		q.Refusal, err = s.refusal(problem, answer.Refusal)
	default:
		q.Refusal = &RefusalWords{Why: []string{fmt.Sprintf("every way to do the job costs more than %s", Amount(s.Shop.Currency, s.Job.Limits.MostToSpend.Decimal))}}
	}
	return q, err
}

// labourOnly is the option of a job that needs no parts.
func (s Situation) labourOnly() Option {
	o := Option{Names: []string{"no parts"}, Landed: decimal.Zero, ReadyOn: s.Deliveries.Today, Promise: "no parts to wait for"}
	o.total(s.Labour, s.Tax)
	return o
}

// unobtainable names the needs for which nobody has any part at all.
func (s Situation) unobtainable() []string {
	var why []string
	for i, n := range s.Needs {
		if !slices.ContainsFunc(s.Candidates[i], s.obtainable) {
			why = append(why, fmt.Sprintf("neither the shelf nor any supplier has a %s for the %s", n.Family, siteWords(n.Place)))
		}
	}
	return why
}

// unsure lists what might fit with what to measure, a few for each need.
func (s Situation) unsure() []UnsurePart {
	const mostEach = 5
	var out []UnsurePart
	scene := s.scene()
	for i, n := range s.Needs {
		for _, id := range s.Unsure[i][:min(mostEach, len(s.Unsure[i]))] {
			part := s.Parts[id].Part
			u := UnsurePart{Place: n.Place, PartID: id, Name: part.Name}
			for _, m := range scene.Choose(n.Place, &part).Check(n.Place).Missing() {
				u.Measure = append(u.Measure, fmt.Sprintf("%s of the %s: %s", m.Dimension, m.Place, m.Measure))
			}
			if len(u.Measure) > 0 {
				out = append(out, u)
			}
		}
	}
	return out
}

// refusal puts the solver's refusal into words: the nearest parts with what stops each, and what to give up.
func (s Situation) refusal(p solver.Problem, r *solver.Refusal) (*RefusalWords, error) {
	out := &RefusalWords{}
	for _, near := range r.Nearest {
		id, err := number(near.Part)
		if err != nil {
			return nil, err
		}
		for _, f := range near.Stops[:min(1, len(near.Stops))] {
			verdict := "does not fit"
			if f.Answer == substitution.CantTell {
				verdict = "might fit"
			}
			words := fmt.Sprintf("%s %s: %s", s.Parts[id].Name, verdict, f.Words)
			for _, m := range f.Missing {
				words += fmt.Sprintf("; measure %s of the %s (%s)", m.Dimension, siteWords(m.Place), m.Measure)
			}
			out.Why = append(out.Why, words)
		}
	}
	for _, b := range r.Blocking {
		if len(r.GiveUps) > 0 {
			break // a wish stands in the way, not a part
		}
		for _, f := range b.Stops[:min(1, len(b.Stops))] {
			out.Why = append(out.Why, fmt.Sprintf("the %s that stays on the bike stands in the way: %s", siteWords(b.Place), f.Words))
		}
	}
	for _, g := range r.GiveUps {
		option, err := s.option(g.Best())
		if err != nil {
			return nil, err
		}
		var wishes []string
		for _, w := range g.Wishes {
			wishes = append(wishes, "“"+p.Wishes[w].Words+"”")
		}
		words := fmt.Sprintf("give up %s: %s, %s", joinAnd(wishes), Amount(s.Shop.Currency, option.Total), option.Promise)
		for _, d := range option.Deviations {
			words += "; " + d.Words
		}
		out.WaysOut = append(out.WaysOut, words)
	}
	if len(out.Why) == 0 {
		out.Why = []string{"no set of parts keeps every wish at once"}
	}
	return out, nil
}
