package ordering

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"stead/inventory/calendar"
	"stead/pricing/money"
	"stead/pricing/orderplan"
)

// setAside plans what is left of a problem that no order list solves. First it sets aside what stands in the way of jobs, as
// if the shelf needed nothing and might be given anything; then of the shelf what stands in the way beside that. So no job
// waits for the shelf's sake. It says on the list what waits.
func (b bench) setAside(ctx context.Context, p *posed, list *List) (orderplan.Plan, error) {
	jobs, err := orderplan.Solve(ctx, p.jobsFirst())
	for none := new(orderplan.InfeasibleError); errors.As(err, &none); {
		i := p.jobInTheWay(none)
		if i < 0 {
			return jobs, err
		}
		b.giveUp(p, list, i, none)
		jobs, err = orderplan.Solve(ctx, p.jobsFirst())
	}
	if err != nil {
		return jobs, err
	}
	plan, err := b.solveWithRoom(ctx, p, list)
	for none := new(orderplan.InfeasibleError); errors.As(err, &none); {
		out := p.shelfInTheWay(none, jobs)
		if len(out) == 0 {
			return plan, err
		}
		b.wait(p, list, out, none)
		plan, err = orderplan.Solve(ctx, p.Problem)
	}
	return plan, err
}

// jobsFirst is the problem in which nothing is needed for the shelf, and what it lacks may be bought where that helps.
func (p posed) jobsFirst() orderplan.Problem {
	q := p.Problem
	q.Lines = slices.Clone(p.Lines)
	for i, d := range p.demands {
		if d != nil {
			q.Lines[i].Need = d.ForJobs
		}
	}
	beside, _ := q.Room(p.jobsThenShelf())
	for i := range q.Lines {
		if !beside[i] && p.shelfOnly(i) {
			q.Lines[i].Max = 0
		}
	}
	return q
}

// jobInTheWay is the line that stands in the way of jobs: the one that the planner names, else the one that can best wait; -1
// where there is none.
func (p posed) jobInTheWay(why *orderplan.InfeasibleError) int {
	if i := p.line(why.Line); i >= 0 && !p.standing(i) {
		return i
	}
	return p.leastUrgent(p.supplier(why.Supplier))
}

// giveUp gives up of what a job waits for the promised day, where somebody brings it later, else the line. It says which.
func (b bench) giveUp(p *posed, list *List, i int, why *orderplan.InfeasibleError) {
	supplier := p.supplier(why.Supplier)
	line := &p.Lines[i]
	elsewhere := func(o orderplan.Offer) bool { return o.Line == i && o.Supplier != supplier }
	if line.DueDay != nil && slices.ContainsFunc(p.Offers, elsewhere) {
		due := b.deliveries.Today + calendar.Day(*line.DueDay)
		line.DueDay = nil
		list.Late = append(list.Late, fmt.Sprintf("%s was promised for %s and comes later: %s", p.named(i), due.Words(b.deliveries.Today), b.minimumOf(why)))
		return
	}
	b.wait(p, list, []int{i}, why)
}

// wait takes lines out of a problem and says on the list why.
func (b bench) wait(p *posed, list *List, lines []int, why *orderplan.InfeasibleError) {
	sole := p.soleSuppliers()
	for _, i := range lines {
		because := *why
		if s, one := sole[i]; one {
			because.Supplier = p.Suppliers[s].ID
		}
		d, stop := p.demands[i], b.minimumOf(&because)
		if because.Supplier != "" {
			list.Waiting = append(list.Waiting, Waiting{PartID: d.Part.ID, Name: p.named(i), Jobs: d.jobs(), Supplier: because.Supplier, Words: stop})
		} else {
			list.Missing = append(list.Missing, p.named(i)+": "+stop)
		}
	}
	p.takeOut(lines...)
}

// shelfInTheWay are lines for the shelf that stand in the way of others. It keeps all that the plan for the jobs buys or that
// its suppliers offer. Of the rest it is all that one supplier alone sells: where its minimum order is not reached with all
// of them, it is not with some; else the line that the planner names, or the first. None where none is left.
func (p posed) shelfInTheWay(why *orderplan.InfeasibleError, jobs orderplan.Plan) []int {
	left, beside := p.besideJobs(jobs)
	groups, sole := map[int][]int{}, p.soleSuppliers()
	for _, i := range beside {
		if s, one := sole[i]; one && p.Suppliers[s].MinimumOrder > 0 {
			groups[s] = append(groups[s], i)
		}
	}
	if group := groups[p.supplier(why.Supplier)]; len(group) > 0 {
		return group
	}
	if i := p.line(why.Line); slices.Contains(beside, i) || why.Supplier == "" && slices.Contains(left, i) {
		return []int{i}
	}
	var smallest []int
	for _, s := range slices.Sorted(maps.Keys(groups)) {
		if len(smallest) == 0 || len(groups[s]) < len(smallest) {
			smallest = groups[s]
		}
	}
	for _, out := range [][]int{beside, left} {
		if len(smallest) == 0 && len(out) > 0 {
			smallest = out[:1]
		}
	}
	return smallest
}

// besideJobs are the lines for the shelf alone that a plan for the jobs does not buy, and of these those that nobody offers
// from whom it buys.
func (p posed) besideJobs(jobs orderplan.Plan) (left, beside []int) {
	bought, used, there := map[string]int{}, map[string]bool{}, map[int]bool{}
	for _, l := range jobs.Lines {
		bought[l.ID] += l.Units
		used[l.Supplier] = true
	}
	for _, o := range p.Offers {
		there[o.Line] = there[o.Line] || used[p.Suppliers[o.Supplier].ID]
	}
	for i, l := range p.Lines {
		if !p.shelfOnly(i) || bought[l.ID] >= l.Need {
			continue
		}
		left = append(left, i)
		if !there[i] {
			beside = append(beside, i)
		}
	}
	return left, beside
}

// soleSuppliers are, by line, the supplier that alone offers it in time.
func (p posed) soleSuppliers() map[int]int {
	sole, several := map[int]int{}, map[int]bool{}
	for _, o := range p.Offers {
		if due := p.Lines[o.Line].DueDay; due != nil && o.Day > *due {
			continue
		}
		if s, known := sole[o.Line]; known && s != o.Supplier {
			several[o.Line] = true
		}
		sole[o.Line] = o.Supplier
	}
	for i := range several {
		delete(sole, i)
	}
	return sole
}

// takeOut takes lines out of a problem, and the offers for them.
func (p *posed) takeOut(lines ...int) {
	if len(lines) == 0 {
		return
	}
	out := make([]bool, len(p.Lines))
	for _, i := range lines {
		out[i] = true
	}
	at := make([]int, len(p.Lines)) // where each line stands then
	var left []orderplan.Line
	var demands []*Demand
	for i, l := range p.Lines {
		if at[i] = len(left); !out[i] {
			left, demands = append(left, l), append(demands, p.demands[i])
		}
	}
	var offers []orderplan.Offer
	var dates []dated
	for i, o := range p.Offers {
		if out[o.Line] {
			continue
		}
		o.Line = at[o.Line]
		offers, dates = append(offers, o), append(dates, p.offers[i])
	}
	p.Lines, p.demands, p.Offers, p.offers = left, demands, offers, dates
}

// line is the index of a line by the ID that the planner's errors name; -1 where it is none.
func (p posed) line(id string) int {
	return slices.IndexFunc(p.Lines, func(l orderplan.Line) bool { return l.ID == id })
}

// supplier is the index of a supplier by the ID that the planner's errors name; -1 where it is none.
func (p posed) supplier(id string) int {
	return slices.IndexFunc(p.Suppliers, func(s orderplan.Supplier) bool { return s.ID == id })
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

// leastUrgent is the line that jobs can best wait for, among those that a supplier offers, or among all where it offers none:
// the one with the latest day, or that no day is promised for; -1 where jobs wait for none.
func (p posed) leastUrgent(supplier int) int {
	offered := map[int]bool{}
	for _, o := range p.Offers {
		if o.Supplier == supplier && !p.standing(o.Line) && !p.shelfOnly(o.Line) {
			offered[o.Line] = true
		}
	}
	canWait := func(i int) int {
		switch {
		case p.standing(i) || p.shelfOnly(i) || len(offered) > 0 && !offered[i]:
			return -1
		case p.Lines[i].DueDay == nil:
			return math.MaxInt
		}
		return *p.Lines[i].DueDay
	}
	best, longest := -1, -1
	for i := range p.Lines {
		if days := canWait(i); days > longest {
			best, longest = i, days
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
