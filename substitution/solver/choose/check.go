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
	day, deviation, first := 0, int64(0), true
	pieces, brought := map[int]int{}, make([]int, len(p.Extras))
	take := func(n *Need, o, quantity int) error {
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
			pieces[l.Offer] += l.Pieces
			if d := p.Offers[l.Offer].Day; first || d > day {
				day, first = d, false
			}
		}
		deviation += opt.Deviation
		for _, b := range opt.Brings {
			brought[b.Extra] += b.Pieces
		}
		return nil
	}
	for i, o := range pt.Options {
		if err := take(&p.Needs[i], o, p.Needs[i].Pieces); err != nil {
			return err
		}
	}
	for r, rule := range p.Rules {
		marks := make([]int, len(rule.Needs))
		for k, i := range rule.Needs {
			marks[k] = rule.Marks[k][pt.Options[i]]
		}
		ruling := rule.Judge(marks)
		if ruling.Stops {
			return fmt.Errorf("rule %d is broken", r)
		}
		deviation += ruling.Deviation
		for _, b := range ruling.Brings {
			brought[b.Extra] += b.Pieces
		}
	}
	order, err := p.extraOrder()
	if err != nil {
		return err
	}
	for _, e := range order {
		if (pt.Extras[e] >= 0) != (brought[e] > 0) {
			return fmt.Errorf("%s: %d pieces are brought and option %d is chosen", p.Extras[e].Name, brought[e], pt.Extras[e])
		}
		if brought[e] > 0 {
			if err := take(&p.Extras[e], pt.Extras[e], brought[e]); err != nil {
				return err
			}
		}
	}
	cost, ok := p.landed(pieces)
	switch {
	case !ok:
		return fmt.Errorf("it cannot be ordered so: too few pieces, an order below its minimum, or too many suppliers")
	case cost != pt.Cost || day != pt.Day || deviation != pt.Deviation:
		return fmt.Errorf("it comes to (%d, %d, %d), not (%d, %d, %d)", cost, day, deviation, pt.Cost, pt.Day, pt.Deviation)
	case p.MostCost != nil && cost > *p.MostCost, p.LatestDay != nil && day > *p.LatestDay, p.MostDeviation != nil && deviation > *p.MostDeviation:
		return fmt.Errorf("it is beyond a limit of the problem")
	}
	return nil
}
