package solver

import (
	"context"
	"maps"
	"slices"

	"stead/substitution"
	"stead/substitution/solver/choose"
	"stead/substitution/supply"
)

// Solve finds every option worth naming, with its proof. When nothing fits, the answer's refusal says why and what
// would help. When the context ends first, the answer holds the best so far and is not proven. The error is a
// *ProblemError, for a problem that cannot be meant.
func Solve(ctx context.Context, p Problem) (Answer, error) {
	m, err := read(&p)
	if err != nil {
		return Answer{}, err
	}
	f := m.under(all, "")
	result, err := choose.Solve(ctx, f.Problem)
	if err != nil {
		return Answer{}, coreError(err)
	}
	a := Answer{Front: f.options(result.Front), Proven: result.Proven, Bound: result.Bound, Nodes: result.Nodes}
	a.Picks = pick(a.Front)
	if len(a.Front) == 0 && a.Proven {
		a.Refusal = m.refuse(ctx)
	}
	return a, nil
}

// all keeps every wish.
func all(int) bool { return true }

// options puts points of the core back into parts, sources and words.
func (f *fit) options(front choose.Front) []Option {
	out := make([]Option, len(front))
	for i, pt := range front {
		out[i] = f.option(pt)
	}
	return out
}

func (f *fit) option(pt choose.Point) Option {
	m, o := f.m, Option{Cost: pt.Cost, Day: pt.Day, Deviation: pt.Deviation}
	scene := substitution.Scene{Was: m.p.Was, Now: maps.Clone(m.now), Waived: m.p.Waived}
	if scene.Now == nil {
		scene.Now = substitution.Build{}
	}
	pieces := map[int]int{}
	var places []substitution.Place
	brought := make([]int, len(f.Extras))
	bring := func(list []choose.Bring) {
		for _, b := range list {
			brought[b.Extra] += b.Pieces
		}
	}
	for i, k := range pt.Options {
		opt := f.Needs[i].Options[k]
		for _, p := range m.needs[i].Places {
			scene.Now[p] = m.p.Parts[m.offerOf[opt.Offer].part].Part
			places = append(places, p)
		}
		for _, lot := range (way{opt.Offer, opt.First}).lots(m.needs[i].Pieces) {
			pieces[lot.Offer] += lot.Pieces
		}
		bring(opt.Brings)
		o.Chosen = append(o.Chosen, m.chosen(i, opt))
	}
	o.Verdict = scene.Check(places...)
	for _, rule := range f.Rules {
		marks := make([]int, len(rule.Needs))
		for k, i := range rule.Needs {
			marks[k] = rule.Marks[k][pt.Options[i]]
		}
		bring(rule.Judge(marks).Brings)
	}
	for e, k := range pt.Extras {
		if k < 0 {
			continue
		}
		// What an extra brings in its turn has been counted by the search; here only the totals are wanted, and an extra
		// comes after all that brings it.
		bring(f.Extras[e].Options[k].Brings)
	}
	for e, k := range pt.Extras {
		if k < 0 {
			continue
		}
		opt := f.Extras[e].Options[k]
		src := m.offerOf[opt.Offer]
		pieces[opt.Offer] += brought[e]
		o.Chosen = append(o.Chosen, Chosen{Need: f.Extras[e].Name, Part: src.part, Offer: src.offer, Pieces: brought[e], Brought: true})
	}
	o.Purchases, o.Carriage = m.bill(pieces)
	for _, finding := range o.Verdict.Deviations() {
		o.Deviations = append(o.Deviations, Deviation{finding, m.weight(finding.Rule)})
	}
	return o
}

// bill turns pieces by offer into purchases, and those into carriage.
func (m *model) bill(pieces map[int]int) ([]Purchase, []Carriage) {
	var purchases []Purchase
	goods, used := make([]int64, len(m.p.Suppliers)), make([]bool, len(m.p.Suppliers))
	for _, o := range slices.Sorted(maps.Keys(pieces)) {
		src := m.offerOf[o]
		buy, _ := m.offers[o].Cover(pieces[o])
		purchases = append(purchases, Purchase{Offer: src.offer, Part: src.part, Supplier: m.offers[o].Supplier,
			Pieces: pieces[o], Packs: buy.Packs, Cost: buy.Cost, Day: m.offers[o].Day})
		if s := m.offers[o].Supplier; s != supply.Shelf {
			goods[s] += buy.Cost
			used[s] = true
		}
	}
	var carriage []Carriage
	for s, sup := range m.p.Suppliers {
		if used[s] {
			carriage = append(carriage, Carriage{Supplier: s, Goods: goods[s], Cost: sup.Charge(goods[s])})
		}
	}
	return purchases, carriage
}
