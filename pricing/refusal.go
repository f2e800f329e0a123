package pricing

import (
	"context"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"stead/substitution"
	"stead/substitution/solver"
)

// refusal says why no option is left: nothing fits or keeps every wish, all that does costs too much, or it brings what
// was declined; and the ways out.
func (s Situation) refusal(ctx context.Context, p posed, answer solver.Answer) (*RefusalWords, error) {
	out := &RefusalWords{Why: []string{"every set of parts that does the job brings a difference that was declined"}}
	var err error
	switch {
	case answer.Refusal != nil:
		out, err = s.nothingFits(p, answer.Refusal)
	case len(answer.Front) > 0:
		out, err = s.tooDear(p, answer)
	case !answer.Proven:
		out.Why = []string{fmt.Sprintf("no set of parts was found in %.0f seconds, and there may be one: ask for less at once, or name parts that it must have", Patience.Seconds())}
	}
	if err != nil || len(s.Job.Limits.Declined) == 0 {
		return out, err
	}
	s.Job.Limits.Declined = nil
	q, err := s.Draft(ctx)
	if err != nil {
		return nil, err
	}
	for _, o := range q.Options {
		out.WaysOut = append(out.WaysOut, s.wayOut("accept what was declined", o))
	}
	return out, nil
}

// tooDear says what the cheapest way costs where all cost more than the customer will spend.
func (s Situation) tooDear(p posed, answer solver.Answer) (*RefusalWords, error) {
	limit := Amount(s.Shop.Currency, s.Job.Limits.MostToSpend.Decimal)
	s.Job.Limits.MostToSpend = decimal.NullDecimal{}
	options, err := s.options(p, answer)
	if err != nil {
		return nil, err
	}
	out := &RefusalWords{Why: []string{"every way to do the job costs more than " + limit}}
	for _, o := range options {
		if o.Named("cheapest") {
			out.WaysOut = []string{s.wayOut(fmt.Sprintf("spend more than %s", limit), o)}
		}
	}
	return out, nil
}

// wayOut says what an option costs, when it is there and how it differs, after what must be given up for it.
func (s Situation) wayOut(giveUp string, o Option) string {
	words := fmt.Sprintf("%s: %s, %s", giveUp, Amount(s.Shop.Currency, o.Total), o.Promise)
	for _, d := range o.Deviations {
		words += "; " + d.Words
	}
	return words
}

// notFitting says why a part does not fit, or what to measure to know whether it does.
func notFitting(name string, f substitution.Finding) string {
	verdict := "does not fit"
	if f.Answer == substitution.CantTell {
		verdict = "might fit"
	}
	words := fmt.Sprintf("%s %s: %s", name, verdict, f.Words)
	for _, m := range f.Missing {
		words += fmt.Sprintf("; measure %s of the %s (%s)", m.Dimension, siteWords(m.Place), m.Measure)
	}
	return words
}

func mightWords(parts int) string {
	if parts == 1 {
		return "one part might, with an answer"
	}
	return fmt.Sprintf("%d parts might, with an answer", parts)
}

// nothingFits puts the solver's refusal into words: the nearest parts with what stops each, and what to give up.
func (s Situation) nothingFits(p posed, r *solver.Refusal) (*RefusalWords, error) {
	out := &RefusalWords{}
	out.Why = append(s.askedDoesNotFit(), s.lackingBeside()...)
	might := map[substitution.Place]int{}
	for _, u := range s.unsure() {
		might[u.Place]++
	}
	for _, near := range r.Nearest {
		id, place := p.parts[near.Part], substitution.Place(near.Need)
		if len(near.Stops) > 0 && near.Stops[0].Answer == substitution.CantTell && might[place] > 0 {
			words := fmt.Sprintf("what fits as %s cannot be told yet: %s", siteWords(place), mightWords(might[place]))
			if !slices.Contains(out.Why, words) {
				out.Why = append(out.Why, words)
			}
			continue
		}
		for _, f := range near.Stops[:min(1, len(near.Stops))] {
			if words := notFitting(s.Parts[id].Name, f); !slices.Contains(out.Why, words) {
				out.Why = append(out.Why, words)
			}
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
		option, err := s.option(p, g.Best())
		if err != nil {
			return nil, err
		}
		var wishes []string
		for _, w := range g.Wishes {
			wishes = append(wishes, "“"+p.Wishes[w].Words+"”")
		}
		if most := s.Job.Limits.MostToSpend; most.Valid && option.Total.GreaterThan(most.Decimal) {
			wishes = append(wishes, "“at most "+Amount(s.Shop.Currency, most.Decimal)+"”")
		}
		out.WaysOut = append(out.WaysOut, s.wayOut("give up "+joinAnd(wishes), option))
	}
	if len(out.Why) == 0 {
		out.Why = []string{"no set of parts keeps every wish at once"}
	}
	return out, nil
}
