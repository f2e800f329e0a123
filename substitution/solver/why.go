package solver

import (
	"context"
	"fmt"
	"slices"

	"stead/substitution"
	"stead/substitution/solver/choose"
)

// Alternative is another part or source for one need of an option, and what it would change.
type Alternative struct {
	Part  string
	Offer string

	// Stops say why it does not go with the rest of the option; Against are the wishes, by index, that the option would
	// no longer keep with it. Changes are told where Orderable holds.
	Stops     []substitution.Finding
	Against   []int
	Orderable bool // the sources have enough and every order reaches its supplier's minimum

	// What changes if it alone is put in place of what was chosen: minus is cheaper, sooner, closer.
	Pence     int64
	Days      int
	Deviation int64

	// Falls is by how many pence the part would have to become cheaper for the best job with it, all else chosen
	// anew, to match this option in cost without being later or deviating more. It is absent where no price would do.
	Falls *int64
}

// Why compares an option with every other part and source for one of its needs, in the order of the candidates.
func Why(ctx context.Context, p Problem, o Option, need string) ([]Alternative, error) {
	m, err := read(&p)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(p.Needs, func(n Need) bool { return n.ID == need })
	if i < 0 || i >= len(o.Chosen) {
		return nil, fault(Malformed, need, "the job has no such need")
	}
	var out []Alternative
	for _, id := range p.Needs[i].Candidates {
		for k := range m.parts[id].Offers {
			offer := &m.parts[id].Offers[k]
			if offer.ID == o.Chosen[i].Offer {
				continue
			}
			a := m.swap(o, i, id, offer)
			if a.Falls, err = m.falls(ctx, o, i, id, offer.ID); err != nil {
				return nil, err
			}
			out = append(out, a)
		}
	}
	return out, nil
}

// swap puts one part in place of another and leaves the rest.
func (m *model) swap(o Option, need int, part string, offer *Offer) Alternative {
	a := Alternative{Part: part, Offer: offer.ID}
	f := m.under(func(int) bool { return false }, "")
	pt := choose.Point{Options: make([]int, len(m.needs))}
	chosen := slices.Clone(o.Chosen[:len(m.needs)])
	chosen[need].Part, chosen[need].Offer = part, offer.ID
	scene := substitution.Scene{Was: m.p.Was, Now: substitution.Build{}}
	for place, kept := range m.now {
		scene.Now[place] = kept
	}
	var places []substitution.Place
	for i, c := range chosen {
		pt.Options[i] = slices.IndexFunc(f.Needs[i].Options, func(x choose.Option) bool { return m.offerOf[x.Offer].offer.ID == c.Offer })
		for _, place := range m.needs[i].Places {
			scene.Now[place] = m.parts[c.Part].Part
			places = append(places, place)
		}
	}
	if a.Stops = scene.Check(places...).Stops(); len(a.Stops) > 0 {
		return a
	}
	pt, a.Orderable = f.Complete(pt)
	if !a.Orderable {
		return a
	}
	with := f.option(pt)
	a.Pence, a.Days, a.Deviation = with.Cost-o.Cost, with.Day-o.Day, with.Deviation-o.Deviation
	for w, wish := range m.p.Wishes {
		if !wish.keptBy(*m.p, with, with.Verdict) {
			a.Against = append(a.Against, w)
		}
	}
	return a
}

// falls finds the cheapest job with one offer that is no later than the option and deviates no more.
func (m *model) falls(ctx context.Context, o Option, need int, part, offer string) (*int64, error) {
	f := m.under(all, "")
	only := func(x choose.Option) bool {
		s := m.offerOf[x.Offer]
		return s.part.ID != part || s.offer.ID != offer
	}
	f.pin(need, only)
	f.LatestDay, f.MostDeviation, f.MostCost = &o.Day, &o.Deviation, nil
	result, err := choose.Cheapest(ctx, f.Problem)
	if err != nil {
		return nil, coreError(err)
	}
	if !result.Proven {
		return nil, fmt.Errorf("comparing %s: %w", offer, context.Cause(ctx))
	}
	if len(result.Front) == 0 {
		return nil, nil
	}
	falls := max(0, result.Front[0].Cost-o.Cost)
	return &falls, nil
}

// pin takes options away from a need.
func (f *fit) pin(need int, away func(choose.Option) bool) {
	kept, options := []int{}, []choose.Option{}
	for k, o := range f.Needs[need].Options {
		if !away(o) {
			kept, options = append(kept, k), append(options, o)
		}
	}
	f.Needs[need].Options = options
	for r, rule := range f.Rules {
		if k := slices.Index(rule.Needs, need); k >= 0 {
			marks := make([]int, len(kept))
			for i, o := range kept {
				marks[i] = rule.Marks[k][o]
			}
			f.Rules[r].Marks[k] = marks
		}
	}
}
