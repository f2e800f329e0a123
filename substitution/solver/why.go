package solver

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"stead/substitution"
	"stead/substitution/solver/choose"
)

// Alternative is another part or source for one need of an option, and what it would change.
type Alternative struct {
	Part  int // index into Problem.Parts
	Offer int // index into the part's offers
	Shelf Lot // what would come off the shelf first, as of what was chosen

	// Stops say why it does not go with the rest of the option; Against are the wishes, by index, that the option would
	// no longer keep with it. Changes are told where Orderable holds.
	Stops     []substitution.Finding
	Against   []int
	Orderable bool // the sources have enough and every order reaches its supplier's minimum

	// With is the option with it alone put in place of what was chosen, and what that changes: minus is cheaper, sooner,
	// closer.
	With      *Option
	Cost      int64
	Days      int
	Deviation int64

	// Falls is by how much the part would have to become cheaper for the best job with it, all else chosen
	// anew, to match this option in cost without being later or deviating more. It is absent where no price would do.
	Falls *int64
}

// Why compares an option with the other parts and sources for one of its needs, at most so many: first those that keep
// most wishes, of these the closest, then the cheapest; last what does not go with the rest.
func Why(ctx context.Context, p Problem, o Option, need string, most int) ([]Alternative, error) {
	m, err := read(&p)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(p.Needs, func(n Need) bool { return n.ID == need })
	if i < 0 || i >= len(o.Chosen) {
		return nil, fault(Malformed, need, "the job has no such need")
	}
	free := m.under(func(int) bool { return false }, "")
	var out []Alternative
	for _, id := range p.Needs[i].Candidates {
		for _, way := range m.ways(i, id) {
			if c := m.chosen(i, choose.Option{Offer: way.offer, First: way.first}); c != o.Chosen[i] {
				out = append(out, free.swap(o, i, c))
			}
		}
	}
	slices.SortStableFunc(out, nearer)
	out = out[:min(len(out), most)]
	for k := range out {
		if out[k].Falls, err = m.falls(ctx, o, i, out[k]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// nearer orders alternatives by how little stands against them.
func nearer(a, b Alternative) int {
	out := func(a Alternative) int {
		switch {
		case len(a.Stops) > 0:
			return 2
		case !a.Orderable:
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(out(a), out(b)), cmp.Compare(len(a.Against), len(b.Against)), cmp.Compare(a.Deviation, b.Deviation),
		cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Days, b.Days))
}

// swap puts one choice for a need in place of another and leaves the rest.
func (f *fit) swap(o Option, need int, other Chosen) Alternative {
	a, m := Alternative{Part: other.Part, Offer: other.Offer, Shelf: other.Shelf}, f.m
	pt := choose.Point{Options: make([]int, len(m.needs))}
	chosen := slices.Clone(o.Chosen[:len(m.needs)])
	chosen[need] = other
	scene := substitution.Scene{Was: m.p.Was, Now: substitution.Build{}, Waived: m.p.Waived}
	for place, kept := range m.now {
		scene.Now[place] = kept
	}
	var places []substitution.Place
	for i, c := range chosen {
		pt.Options[i] = slices.IndexFunc(f.Needs[i].Options, func(x choose.Option) bool { return m.chosen(i, x) == c })
		for _, place := range m.needs[i].Places {
			scene.Now[place] = m.p.Parts[c.Part].Part
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
	a.With, a.Cost, a.Days, a.Deviation = &with, with.Cost-o.Cost, with.Day-o.Day, with.Deviation-o.Deviation
	for w, wish := range m.p.Wishes {
		if !wish.keptBy(*m.p, with, with.Verdict) {
			a.Against = append(a.Against, w)
		}
	}
	return a
}

// falls finds the cheapest job with one alternative that is no later than the option and deviates no more.
func (m *model) falls(ctx context.Context, o Option, need int, a Alternative) (*int64, error) {
	f := m.under(all, "")
	f.pin(need, func(x choose.Option) bool {
		c := m.chosen(need, x)
		return c.Part != a.Part || c.Offer != a.Offer || c.Shelf != a.Shelf
	})
	f.LatestDay, f.MostDeviation, f.MostCost = &o.Day, &o.Deviation, nil
	result, err := choose.Cheapest(ctx, f.Problem)
	if err != nil {
		return nil, coreError(err)
	}
	if !result.Proven {
		return nil, fmt.Errorf("comparing offer %d of part %s: %w", a.Offer, m.name(a.Part), context.Cause(ctx))
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
