package solver

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"stead/substitution"
	"stead/substitution/supply"
)

type facts = map[string]substitution.Value

// drivetrain is a random job on a nine-speed bike with two rings: some of its parts are needs, the others are kept, now
// and then one of them unmeasured. Rules over two and over five places bind them.
func drivetrain(seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 3))
	num, count, text, list := substitution.Num, substitution.Count, substitution.Text, substitution.List
	colours := []string{"black", "silver"}
	one := func(xs ...int) substitution.Value { return count(xs[r.IntN(len(xs))]) }
	kinds := []struct {
		place  substitution.Place
		family substitution.Family
		was    facts
		some   func() facts
	}{
		{"crank.outer-ring", "chainring", facts{"teeth": count(50), "bcd_mm": num(110), "bolts": count(5), "bolt_pattern": text("even"), "speeds": list(9), "position": text("outer")},
			func() facts {
				return facts{"teeth": one(46, 48, 50, 52), "bcd_mm": num([]float64{110, 110, 130}[r.IntN(3)]), "bolts": count(5), "bolt_pattern": text("even"), "speeds": list(9, 10), "position": text("outer")}
			}},
		{"crank.inner-ring", "chainring", facts{"teeth": count(34), "bcd_mm": num(110), "bolts": count(5), "bolt_pattern": text("even"), "speeds": list(9), "position": text("inner")},
			func() facts {
				return facts{"teeth": one(30, 34, 36), "bcd_mm": num(110), "bolts": count(5), "bolt_pattern": text("even"), "speeds": list(9), "position": text("inner")}
			}},
		{"rear.cassette", "cassette", facts{"speeds": list(9), "teeth_min": count(11), "teeth_max": count(28), "freehub": text("hg")},
			func() facts {
				return facts{"speeds": list(9), "teeth_min": one(11, 12), "teeth_max": one(25, 28, 32, 34), "freehub": text("hg")}
			}},
		{"rear.derailleur", "rear-derailleur", facts{"speeds": list(9), "teeth_max": count(30), "capacity": count(35), "pull_family": text("a"), "mount": text("hanger"), "cage": text("medium")},
			func() facts {
				return facts{"speeds": list(9), "teeth_max": one(28, 32, 36), "capacity": one(29, 35, 43), "pull_family": text("a"), "mount": text("hanger"), "cage": text([]string{"short", "medium", "long"}[r.IntN(3)])}
			}},
		{"chain", "chain", facts{"speeds": list(9), "chain_width": text("11/128"), "links": count(114)},
			func() facts {
				return facts{"speeds": list(8 + r.IntN(3)), "chain_width": text("11/128"), "links": one(108, 114, 118)}
			}},
	}
	p := Problem{Was: substitution.Build{
		"frame":     {Family: "frame", Spec: substitution.MakeSpec(facts{"chainstay_mm": num(425)}, nil, nil)},
		"rear.hub":  {Family: "hub", Spec: substitution.MakeSpec(facts{"freehub": text("hg")}, nil, nil)},
		"crank":     {Family: "crankset", Spec: substitution.MakeSpec(facts{"bcd_mm": num(110), "bolts": count(5)}, nil, nil)},
		"fork":      nil,
		"front.hub": nil,
	}}
	for range 1 + r.IntN(3) {
		sup := supply.Supplier{Carriage: 200 + r.Int64N(600)}
		if r.IntN(2) == 0 {
			sup.PaidAt = 2000 + r.Int64N(6000)
		}
		p.Suppliers = append(p.Suppliers, sup)
	}
	for _, k := range kinds {
		was := k.was
		was["colour"] = text("black")
		p.Was[k.place] = &substitution.Part{Family: k.family, Spec: substitution.MakeSpec(was, nil, nil)}
		if r.IntN(5) < 2 {
			if r.IntN(6) == 0 {
				p.Was[k.place] = nil
			}
			continue
		}
		need := Need{ID: string(k.place), Family: k.family, Places: []substitution.Place{k.place}, Pieces: 1}
		for c := range 1 + r.IntN(5) {
			spec := k.some()
			spec["colour"] = text(colours[r.IntN(2)])
			if r.IntN(8) == 0 {
				delete(spec, []string{"teeth", "speeds", "capacity", "colour"}[r.IntN(4)])
			}
			var offers []supply.Offer
			for range 1 + r.IntN(2) {
				supplier := supply.Shelf
				if s := r.IntN(len(p.Suppliers) + 1); s < len(p.Suppliers) {
					supplier = s
				}
				offers = append(offers, at(supplier, r.IntN(5), 500+r.Int64N(4000)))
			}
			need.Candidates = append(need.Candidates, len(p.Parts))
			p.Parts = append(p.Parts, part(fmt.Sprint(k.place, " ", c), k.family, spec, offers...))
		}
		p.Needs = append(p.Needs, need)
	}
	return p
}

// wishAtRandom adds wishes, of which some can be given up.
func wishAtRandom(r *rand.Rand, p *Problem) {
	for range r.IntN(5) {
		w := Wish{Kind: WishKind(1 + r.IntN(9)), Day: r.IntN(5), Most: 1000 + r.Int64N(12000), Count: 1 + r.IntN(2)}
		if len(p.Needs) > 0 {
			n := p.Needs[r.IntN(len(p.Needs))]
			if w.Kind == OnlyPart || w.Kind != FewSuppliers && r.IntN(3) == 0 {
				w.Need = n.ID
			}
			w.Part = n.Candidates[r.IntN(len(n.Candidates))]
		}
		w.Supplier = r.IntN(len(p.Suppliers))
		p.Wishes = append(p.Wishes, w)
		if _, err := read(p); err != nil {
			p.Wishes = p.Wishes[:len(p.Wishes)-1]
		}
	}
}

// fitting is a combination that fits the bike, whatever the wishes say of it.
type fitting struct {
	option  Option
	verdict substitution.Verdict
}

// everyFit asks the engine about the whole bike for every combination of parts and sources.
func everyFit(p Problem) []fitting {
	var out []fitting
	chosen := make([]Chosen, len(p.Needs))
	var need func(i int)
	need = func(i int) {
		if i < len(p.Needs) {
			for _, id := range p.Needs[i].Candidates {
				for k, o := range p.Parts[id].Offers {
					chosen[i] = Chosen{Need: p.Needs[i].ID, Part: id, Offer: k, Pieces: p.Needs[i].Pieces}
					need(i + 1)
					for s, shelf := range p.Parts[id].Offers {
						if shelf.Supplier == supply.Shelf && 0 < shelf.Most && shelf.Most < p.Needs[i].Pieces && o.Supplier != supply.Shelf {
							chosen[i].Shelf = Lot{s, shelf.Most}
							need(i + 1)
							chosen[i].Shelf = Lot{}
						}
					}
				}
			}
			return
		}
		o := Option{Chosen: append([]Chosen(nil), chosen...)}
		if v, err := measure(p, &o); err == nil && v.Acceptable() {
			out = append(out, fitting{o, v})
		}
	}
	need(0)
	return out
}

// measure fills in what an option comes to, or says why it cannot be ordered so.
func measure(p Problem, o *Option) (substitution.Verdict, error) {
	pieces := map[source]int{}
	now := substitution.Build{}
	for place, kept := range p.Was {
		now[place] = kept
	}
	var places []substitution.Place
	used := map[int]bool{}
	for i, c := range o.Chosen {
		part, offer := p.Parts[c.Part], p.Parts[c.Part].Offers[c.Offer]
		pieces[source{c.Part, c.Offer}] += c.Pieces - c.Shelf.Pieces
		if i == 0 || offer.Day > o.Day {
			o.Day = offer.Day
		}
		if c.Shelf.Pieces > 0 {
			pieces[source{c.Part, c.Shelf.Offer}] += c.Shelf.Pieces
			o.Day = max(o.Day, part.Offers[c.Shelf.Offer].Day)
		}
		if offer.Supplier != supply.Shelf && !used[offer.Supplier] {
			used[offer.Supplier] = true
			o.Carriage = append(o.Carriage, Carriage{Supplier: offer.Supplier})
		}
		for _, place := range p.Needs[i].Places {
			now[place] = part.Part
			places = append(places, place)
		}
	}
	var err error
	if o.Cost, err = bill(p, pieces); err != nil {
		return substitution.Verdict{}, err
	}
	v := substitution.Scene{Was: p.Was, Now: now}.Check(places...)
	for _, f := range v.Deviations() {
		o.Deviation += weightOf(p, f.Rule)
	}
	return v, nil
}

// several makes of a job one that needs several pieces of its parts, of which shelves have few and suppliers sell packs, at
// breaks and above minimum orders.
func several(r *rand.Rand, p *Problem) {
	p.Needs = p.Needs[:min(3, len(p.Needs))]
	for i := range p.Needs {
		n := &p.Needs[i]
		n.Pieces, n.Candidates = 2+r.IntN(3), n.Candidates[:min(3, len(n.Candidates))]
	}
	for i := range p.Suppliers {
		if r.IntN(6) == 0 {
			p.Suppliers[i].MinimumOrder = 1000 + r.Int64N(6000)
		}
	}
	for i := range p.Parts {
		for k := range p.Parts[i].Offers {
			o := &p.Parts[i].Offers[k]
			if o.Supplier == supply.Shelf {
				o.Most = 1 + r.IntN(3)
				continue
			}
			o.Pack = 1 + r.IntN(2)
			if r.IntN(3) == 0 {
				o.Breaks = append(o.Breaks, supply.Break{Packs: 2 + r.IntN(2), Price: o.Breaks[0].Price * 3 / 4})
			}
			if r.IntN(5) == 0 {
				o.Breaks[0].Packs = 2
				o.Breaks = o.Breaks[:1]
			}
		}
		if r.IntN(4) > 0 {
			own := at(supply.Shelf, r.IntN(3), 400+r.Int64N(1500))
			own.Most = 1 + r.IntN(3)
			p.Parts[i].Offers = append(p.Parts[i].Offers, own)
		}
	}
}

// frontOf is the front of the fits that keep some wishes.
func frontOf(fits []fitting, p Problem, wishes []Wish) [][3]int64 {
	var front [][3]int64
	better := func(a, b [3]int64) bool { return a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2] }
next:
	for _, f := range fits {
		for _, w := range wishes {
			if !w.keptBy(p, f.option, f.verdict) {
				continue next
			}
		}
		x := [3]int64{f.option.Cost, int64(f.option.Day), f.option.Deviation}
		for _, y := range front {
			if better(y, x) {
				continue next
			}
		}
		front = append(slices.DeleteFunc(front, func(y [3]int64) bool { return better(x, y) }), x)
	}
	return front
}
