package ordering

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"stead/inventory/calendar"
	"stead/pricing/money"
	"stead/pricing/orderplan"
)

// dropsWhatStops takes out of a problem what the planner says stops it, and reports whether the rest can be tried.
func (b bench) dropsWhatStops(p *orderplan.Problem, list *List, err error) bool {
	none, wrong := new(orderplan.InfeasibleError), new(orderplan.InputError)
	switch {
	case errors.As(err, &none):
		b.setAside(p, list, none)
	case errors.As(err, &wrong) && wrong.Line != "" && errors.Is(err, orderplan.ErrTooLarge):
		b.leaveOut(p, list, wrong.Line, "so much of it is more than a list can plan: order it by hand")
	default:
		return false
	}
	return true
}

// setAside takes out of a problem that no order list solves what stands in the way, so that everything else can be
// ordered: a promised day where somebody brings the part later, else the part. It says which on the list. Each call
// leaves less in the way, and an empty problem is always solved.
func (b bench) setAside(p *orderplan.Problem, list *List, why *orderplan.InfeasibleError) {
	i := slices.IndexFunc(p.Lines, func(l orderplan.Line) bool { return l.ID == why.Line })
	if i < 0 {
		i = leastUrgent(*p, why.Supplier)
	}
	line := &p.Lines[i]
	name, stop := b.named(line.ID), b.minimumOf(line.ID, why)
	elsewhere := func(o orderplan.Offer) bool { return o.Line == line.ID && o.Supplier != why.Supplier }
	if line.DueDay != nil && slices.ContainsFunc(p.Offers, elsewhere) {
		due := b.deliveries.Today + calendar.Day(*line.DueDay)
		line.DueDay = nil
		list.Late = append(list.Late, fmt.Sprintf("%s was promised for %s and comes later: %s", name, due.Words(b.deliveries.Today), stop))
		return
	}
	if d, _ := b.demandOf(line.ID); d != nil && why.Supplier != "" {
		list.Waiting = append(list.Waiting, Waiting{PartID: d.Part.ID, Name: name, Jobs: d.jobs(), Supplier: why.Supplier, Words: stop})
		b.takeOut(p, line.ID)
		return
	}
	b.leaveOut(p, list, line.ID, stop)
}

// leaveOut takes a line out of a problem and says on the list why.
func (b bench) leaveOut(p *orderplan.Problem, list *List, line, why string) {
	list.Missing = append(list.Missing, b.named(line)+": "+why)
	b.takeOut(p, line)
}

func (b bench) takeOut(p *orderplan.Problem, line string) {
	p.Lines = slices.DeleteFunc(p.Lines, func(l orderplan.Line) bool { return l.ID == line })
	p.Offers = slices.DeleteFunc(p.Offers, func(o orderplan.Offer) bool { return o.Line == line })
}

// leastUrgent is the line that can best wait among those that a supplier offers, or among all where it offers none: one
// that no day is promised for, else the one with the latest.
func leastUrgent(p orderplan.Problem, supplier string) int {
	offered := map[string]bool{}
	for _, o := range p.Offers {
		if o.Supplier == supplier {
			offered[o.Line] = true
		}
	}
	canWait := func(l orderplan.Line) int {
		switch {
		case len(offered) > 0 && !offered[l.ID]:
			return -1
		case l.DueDay == nil:
			return math.MaxInt
		}
		return *l.DueDay
	}
	best := 0
	for i, l := range p.Lines {
		if canWait(l) > canWait(p.Lines[best]) {
			best = i
		}
	}
	return best
}

// named is the name of the part that a line of the plan is.
func (b bench) named(line string) string {
	d, err := b.demandOf(line)
	if err != nil {
		return "line " + line
	}
	return d.Part.Name
}

// demandOf is what a line of the plan is for.
func (b bench) demandOf(line string) (*Demand, error) {
	id, err := strconv.ParseInt(line, 10, 64)
	if err != nil || b.wanted[id] == nil {
		return nil, fmt.Errorf("the order plan names line %q, which is none of ours", line)
	}
	return b.wanted[id], nil
}

// minimumOf says which minimum order stands in a line's way.
func (b bench) minimumOf(line string, why *orderplan.InfeasibleError) string {
	id, err := strconv.ParseInt(line, 10, 64)
	if err != nil || why.Supplier == "" {
		return why.Why
	}
	for _, o := range b.offers[id] {
		if s := b.deliveries.Supplier(o.SupplierID); s.Code == why.Supplier {
			return fmt.Sprintf("%s takes no order below %s, and this list does not come to it", s.Name, money.Amount(s.Currency, s.MinimumOrder))
		}
	}
	return why.Why
}
