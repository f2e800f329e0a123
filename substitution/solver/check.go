package solver

import (
	"fmt"
	"maps"
	"slices"

	"stead/substitution"
	"stead/substitution/supply"
)

// Check adds an option up again from the problem alone, in integers, and asks the fit engine about the whole bike. It
// returns what is wrong with the option, or nil. It shares nothing with the search: a mistake there cannot hide here.
func Check(p Problem, o Option) error {
	r := recount{now: bikeBefore(p), pieces: map[source]int{}}
	for i, c := range o.Chosen {
		if err := r.buy(p, c); err != nil {
			return err
		}
		if i < len(p.Needs) {
			if err := r.meet(p, p.Needs[i], c); err != nil {
				return err
			}
		}
	}
	if len(o.Chosen) < len(p.Needs) {
		return fmt.Errorf("%d needs are not met", len(p.Needs)-len(o.Chosen))
	}
	v := substitution.Scene{Was: p.Was, Now: r.now, Waived: p.Waived}.Check(r.places...)
	if stops := v.Stops(); len(stops) > 0 {
		return fmt.Errorf("the parts do not fit: %s", stops[0].Words)
	}
	if err := checkBroughtPieces(p, o, append(r.brings, v.Brings()...)); err != nil {
		return err
	}
	if err := r.checkSums(p, o, v); err != nil {
		return err
	}
	for _, w := range p.Wishes {
		if !w.keptBy(p, o, v) {
			return fmt.Errorf("it does not keep the wish %q", w.words())
		}
	}
	return nil
}

// bikeBefore is a copy of the bike on which the choices are put.
func bikeBefore(p Problem) substitution.Build {
	switch {
	case p.Now != nil:
		return maps.Clone(p.Now)
	case p.Was != nil:
		return maps.Clone(p.Was)
	}
	return substitution.Build{}
}

// recount is what an option comes to, added up choice by choice.
type recount struct {
	now    substitution.Build   // the bike with what was chosen for the needs
	places []substitution.Place // that the needs name
	brings []substitution.Bring // what the needs and the chosen parts bring of themselves
	pieces map[source]int
	day    int // on which everything is here
}

// buy counts the pieces of a choice, lot by lot: what comes off the shelf first, and the rest from a supplier.
func (r *recount) buy(p Problem, c Chosen) error {
	if c.Part < 0 || c.Part >= len(p.Parts) {
		return fmt.Errorf("%s: there is no part %d", c.Need, c.Part)
	}
	part, split := p.Parts[c.Part], c.Shelf != (Lot{})
	if split && (c.Brought || c.Shelf.Pieces < 1 || c.Shelf.Pieces >= c.Pieces) {
		return fmt.Errorf("%s: %d of %d pieces cannot come off the shelf before the rest", c.Need, c.Shelf.Pieces, c.Pieces)
	}
	for k, lot := range c.Lots() {
		if lot.Offer < 0 || lot.Offer >= len(part.Offers) {
			return fmt.Errorf("%s: part %d has no offer %d", c.Need, c.Part, lot.Offer)
		}
		offer := part.Offers[lot.Offer]
		if split && (offer.Supplier == supply.Shelf) != (k == 0) {
			return fmt.Errorf("%s: what comes first comes off the shelf, and the rest from a supplier", c.Need)
		}
		if len(r.pieces) == 0 || offer.Day > r.day {
			r.day = offer.Day
		}
		r.pieces[source{c.Part, lot.Offer}] += lot.Pieces
	}
	r.brings = append(r.brings, part.Brings...)
	return nil
}

// meet puts the part that was chosen for a need on the bike.
func (r *recount) meet(p Problem, n Need, c Chosen) error {
	if c.Need != n.ID || c.Pieces != n.Pieces || c.Brought || !slices.Contains(n.Candidates, c.Part) {
		return fmt.Errorf("%s is met by %d of part %d, which is not what need %s asks for", c.Need, c.Pieces, c.Part, n.ID)
	}
	for _, place := range n.Places {
		r.now[place] = p.Parts[c.Part].Part
	}
	r.places = append(r.places, n.Places...)
	r.brings = append(r.brings, n.Brings...)
	return nil
}

// checkSums compares cost, day and deviation with what the option says.
func (r *recount) checkSums(p Problem, o Option, v substitution.Verdict) error {
	cost, err := bill(p, r.pieces)
	if err != nil {
		return err
	}
	deviation := int64(0)
	for _, f := range v.Deviations() {
		deviation += weightOf(p, f.Rule)
	}
	if cost != o.Cost || r.day != o.Day || deviation != o.Deviation {
		return fmt.Errorf("it comes to %d, day %d and deviation %d, not %d, %d and %d", cost, r.day, deviation, o.Cost, o.Day, o.Deviation)
	}
	return nil
}

// checkBroughtPieces compares what the rules and parts bring with what the option buys for it.
func checkBroughtPieces(p Problem, o Option, brings []substitution.Bring) error {
	balance := map[string]int{}
	for _, b := range brings {
		balance[key(b.Family, b.Spec)] += b.Quantity
	}
	for _, c := range o.Chosen[len(p.Needs):] {
		i := slices.IndexFunc(p.Brought, func(b Brought) bool { return key(b.Family, b.Spec) == c.Need })
		if !c.Brought || i < 0 || !slices.Contains(p.Brought[i].Candidates, c.Part) {
			return fmt.Errorf("%s: part %d was not asked for", c.Need, c.Part)
		}
		balance[c.Need] -= c.Pieces
	}
	for what, n := range balance {
		if n != 0 {
			return fmt.Errorf("%s: %d pieces more are brought than are bought", what, n)
		}
	}
	return nil
}

// bill is the landed cost of pieces by offer: each offer in whole packs at the cheapest number of packs, each
// supplier's carriage once.
func bill(p Problem, pieces map[source]int) (int64, error) {
	var total int64
	goods := map[int]int64{}
	for from, n := range pieces {
		o := p.Parts[from.part].Offers[from.offer]
		if o.Most > 0 && n > o.Most {
			return 0, fmt.Errorf("offer %d of part %d has %d pieces, not %d", from.offer, from.part, o.Most, n)
		}
		least := max((n+o.Pack-1)/o.Pack, o.Breaks[0].Packs)
		best := int64(-1)
		for packs := least; packs <= max(least, o.Breaks[len(o.Breaks)-1].Packs); packs++ {
			if packs > least && o.Most > 0 && packs*o.Pack > o.Most {
				break
			}
			price := o.Breaks[0].Price
			for _, b := range o.Breaks {
				if packs >= b.Packs {
					price = b.Price
				}
			}
			if cost := int64(packs) * price; best < 0 || cost < best {
				best = cost
			}
		}
		total += best
		if o.Supplier != supply.Shelf {
			goods[o.Supplier] += best
		}
	}
	for i, s := range p.Suppliers {
		g, used := goods[i]
		switch {
		case used && g < s.MinimumOrder:
			return 0, fmt.Errorf("an order of %d is below the minimum of supplier %d", g, i)
		case used && (s.PaidAt == 0 || g < s.PaidAt):
			total += s.Carriage
		}
	}
	return total, nil
}

func weightOf(p Problem, r *substitution.Rule) int64 {
	w := p.Weights
	if w.Function == 0 && w.Finish == 0 {
		w.Function, w.Finish = DefaultWeights.Function, DefaultWeights.Finish
	}
	if own, ok := w.Rules[r.ID]; ok {
		return own
	}
	if r.Severity == substitution.Function {
		return w.Function
	}
	return w.Finish
}

// keptBy reports whether an option keeps a wish.
func (w Wish) keptBy(p Problem, o Option, v substitution.Verdict) bool {
	mine := func(need string) bool { return w.Need == "" || w.Need == need }
	switch w.Kind {
	case ByDay, NotSupplier, OnlySupplier, NotPart, OnlyPart:
		for _, c := range o.Chosen {
			if !mine(c.Need) || c.Brought && w.Kind == NotPart {
				continue
			}
			for _, lot := range c.Lots() {
				offer := p.Parts[c.Part].Offers[lot.Offer]
				kept := map[WishKind]bool{
					ByDay: offer.Day <= w.Day, NotSupplier: offer.Supplier != w.Supplier, OnlySupplier: offer.Supplier == supply.Shelf || offer.Supplier == w.Supplier,
					NotPart: c.Part != w.Part, OnlyPart: c.Part == w.Part,
				}
				if !kept[w.Kind] {
					return false
				}
			}
		}
	case AtMost:
		if w.Need == "" {
			return o.Cost <= w.Most
		}
		for _, c := range o.Chosen {
			if c.Need == w.Need {
				pieces := map[source]int{}
				for _, lot := range c.Lots() {
					pieces[source{c.Part, lot.Offer}] = lot.Pieces
				}
				alone, err := bill(Problem{Parts: p.Parts}, pieces)
				return err == nil && alone <= w.Most
			}
		}
	case SameFunction, SameFinish:
		severity := map[WishKind]substitution.Severity{SameFunction: substitution.Function, SameFinish: substitution.Finish}[w.Kind]
		for _, f := range v.Findings {
			i := slices.IndexFunc(p.Needs, func(n Need) bool { return slices.Contains(n.Places, f.At) })
			if f.Rule.Severity == severity && f.Answer != substitution.Holds && (w.Need == "" || i >= 0 && p.Needs[i].ID == w.Need) {
				return false
			}
		}
	case FewSuppliers:
		return len(o.Carriage) <= w.Count
	}
	return true
}
