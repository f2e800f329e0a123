package ordering

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"stead/inventory/calendar"
	"stead/pricing/money"
	"stead/pricing/orderplan"
)

// dropsWhatStops takes out of a problem what the planner says stops it, and reports whether the rest can be tried.
func (b bench) dropsWhatStops(p *posed, list *List, err error) bool {
	none, wrong := new(orderplan.InfeasibleError), new(orderplan.InputError)
	switch {
	case errors.As(err, &none):
		b.setAside(p, list, none)
	case errors.As(err, &wrong) && wrong.Line != "" && errors.Is(err, orderplan.ErrTooLarge):
		line := p.line(wrong.Line)
		list.Missing = append(list.Missing, p.named(line)+": so much of it is more than a list can plan: order it by hand")
		p.takeOut(line)
	default:
		return false
	}
	return true
}

// setAside takes out of a problem that no order list solves what stands in the way, so that everything else can be
// ordered: a promised day where somebody brings the part later, else the part. It says which on the list. Each call
// leaves less in the way, and an empty problem is always solved.
func (b bench) setAside(p *posed, list *List, why *orderplan.InfeasibleError) {
	supplier := slices.IndexFunc(p.Suppliers, func(s orderplan.Supplier) bool { return s.ID == why.Supplier })
	i := p.line(why.Line)
	if i < 0 {
		i = leastUrgent(p.Problem, supplier)
	}
	line := &p.Lines[i]
	name, stop := p.named(i), b.minimumOf(why)
	elsewhere := func(o orderplan.Offer) bool { return o.Line == i && o.Supplier != supplier }
	switch {
	case line.DueDay != nil && slices.ContainsFunc(p.Offers, elsewhere):
		due := b.deliveries.Today + calendar.Day(*line.DueDay)
		line.DueDay = nil
		list.Late = append(list.Late, fmt.Sprintf("%s was promised for %s and comes later: %s", name, due.Words(b.deliveries.Today), stop))
		return
	case supplier >= 0:
		d := p.demands[i]
		list.Waiting = append(list.Waiting, Waiting{PartID: d.Part.ID, Name: name, Jobs: d.jobs(), Supplier: why.Supplier, Words: stop})
	default:
		list.Missing = append(list.Missing, name+": "+stop)
	}
	p.takeOut(i)
}

// takeOut takes a line out of a problem, and the offers for it.
func (p *posed) takeOut(line int) {
	p.Lines, p.demands = slices.Delete(p.Lines, line, line+1), slices.Delete(p.demands, line, line+1)
	var offers []orderplan.Offer
	var dates []dated
	for i, o := range p.Offers {
		if o.Line == line {
			continue
		}
		if o.Line > line {
			o.Line--
		}
		offers, dates = append(offers, o), append(dates, p.offers[i])
	}
	p.Offers, p.offers = offers, dates
}

// line is the index of a line by the ID that the planner's errors name; -1 where it is none.
func (p posed) line(id string) int {
	return slices.IndexFunc(p.Lines, func(l orderplan.Line) bool { return l.ID == id })
}

// named is the name of the part that a line of the plan is.
func (p posed) named(line int) string {
	if line < 0 || line >= len(p.demands) {
		return "a line of the order"
	}
	if p.standing(line) {
		return "what is on order already"
	}
	return p.demands[line].Part.Name
}

// leastUrgent is the line that can best wait among those that a supplier offers, or among all where it offers none: one
// that no day is promised for, else the one with the latest.
func leastUrgent(p orderplan.Problem, supplier int) int {
	offered := map[int]bool{}
	for _, o := range p.Offers {
		if o.Supplier == supplier {
			offered[o.Line] = true
		}
	}
	canWait := func(i int) int {
		switch {
		case len(offered) > 0 && !offered[i]:
			return -1
		case p.Lines[i].DueDay == nil:
			return math.MaxInt
		}
		return *p.Lines[i].DueDay
	}
	best := 0
	for i := range p.Lines {
		if canWait(i) > canWait(best) {
			best = i
		}
	}
	return best
}

// minimumOf says which minimum order stands in a line's way.
func (b bench) minimumOf(why *orderplan.InfeasibleError) string {
	s := b.deliveries.Supplier(b.deliveries.SupplierNumber(why.Supplier))
	if why.Supplier == "" || s.ID == 0 {
		return why.Why
	}
	return fmt.Sprintf("%s takes no order below %s, and this list does not come to it", s.Name, money.Amount(s.Currency, s.MinimumOrder))
}
