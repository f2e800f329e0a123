package choose

import (
	"fmt"

	"stead/substitution/supply"
)

// Verify adds a point up again from the problem alone and says what is wrong with it. It shares no code with the
// search but the price of packs: a mistake in a bound or in the order of the search cannot hide here.
func (p *Problem) Verify(pt Point) error {
	if len(pt.Options) != len(p.Needs) || len(pt.Extras) != len(p.Extras) {
		return fmt.Errorf("the point has %d options and %d extras for %d needs and %d extras", len(pt.Options), len(pt.Extras), len(p.Needs), len(p.Extras))
	}
	r := recount{pieces: map[int]int{}, brought: make([]int, len(p.Extras))}
	for i, o := range pt.Options {
		if err := r.take(p, &p.Needs[i], o, p.Needs[i].Pieces); err != nil {
			return err
		}
	}
	if err := r.rule(p, pt.Options); err != nil {
		return err
	}
	if err := r.takeExtras(p, pt.Extras); err != nil {
		return err
	}
	cost, ok := p.landed(r.pieces)
	switch {
	case !ok:
		return fmt.Errorf("it cannot be ordered so: too few pieces, an order below its minimum, or too many suppliers")
	case cost != pt.Cost || r.day != pt.Day || r.deviation != pt.Deviation:
		return fmt.Errorf("it comes to (%d, %d, %d), not (%d, %d, %d)", cost, r.day, r.deviation, pt.Cost, pt.Day, pt.Deviation)
	case p.beyondLimits(pt):
		return fmt.Errorf("it is beyond a limit of the problem")
	}
	return nil
}

// recount is what a point comes to, added up choice by choice.
type recount struct {
	pieces    map[int]int // by offer
	brought   []int       // pieces, by extra
	day       int
	deviation int64
}

// take counts an option of a need or an extra, of so many pieces.
func (r *recount) take(p *Problem, n *Need, o, quantity int) error {
	if o < 0 || o >= len(n.Options) {
		return fmt.Errorf("%s: there is no option %d", n.Name, o)
	}
	opt := n.Options[o]
	lots := []Lot{{opt.Offer, quantity}}
	if l := opt.First; l != nil {
		if l.Pieces < 1 || l.Pieces >= quantity || p.Offers[l.Offer].Supplier != supply.Shelf {
			return fmt.Errorf("%s: option %d takes %d of %d pieces off the shelf", n.Name, o, l.Pieces, quantity)
		}
		lots = []Lot{*l, {opt.Offer, quantity - l.Pieces}}
	}
	for _, l := range lots {
		if d := p.Offers[l.Offer].Day; len(r.pieces) == 0 || d > r.day {
			r.day = d
		}
		r.pieces[l.Offer] += l.Pieces
	}
	r.deviation += opt.Deviation
	r.bring(opt.Brings)
	return nil
}

func (r *recount) bring(brings []Bring) {
	for _, b := range brings {
		r.brought[b.Extra] += b.Pieces
	}
}

// rule asks every rule what it says of the needs' options.
func (r *recount) rule(p *Problem, options []int) error {
	for k, rule := range p.Rules {
		marks := make([]int, len(rule.Needs))
		for m, i := range rule.Needs {
			marks[m] = rule.Marks[m][options[i]]
		}
		ruling := rule.Judge(marks)
		if ruling.Stops {
			return fmt.Errorf("rule %d is broken", k)
		}
		r.deviation += ruling.Deviation
		r.bring(ruling.Brings)
	}
	return nil
}

// takeExtras counts what is brought, each extra after all that may bring it, and refuses one that is chosen and not brought.
func (r *recount) takeExtras(p *Problem, options []int) error {
	order, err := p.extraOrder()
	if err != nil {
		return err
	}
	for _, e := range order {
		if (options[e] >= 0) != (r.brought[e] > 0) {
			return fmt.Errorf("%s: %d pieces are brought and option %d is chosen", p.Extras[e].Name, r.brought[e], options[e])
		}
		if r.brought[e] == 0 {
			continue
		}
		if err := r.take(p, &p.Extras[e], options[e], r.brought[e]); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) beyondLimits(pt Point) bool {
	return p.MostCost != nil && pt.Cost > *p.MostCost || p.LatestDay != nil && pt.Day > *p.LatestDay ||
		p.MostDeviation != nil && pt.Deviation > *p.MostDeviation
}
