package ordering

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"stead/pricing/orderplan"
)

// solveWithRoom plans as much of a problem as one list can hold: what jobs wait for, then what the shelf lacks, the small lines
// first. The list says what is left for the next.
func (b bench) solveWithRoom(ctx context.Context, p *posed, list *List) (orderplan.Plan, error) {
	b.leaveRoom(p, list)
	plan, err := orderplan.Solve(ctx, p.Problem)
	for errors.Is(err, orderplan.ErrTooLarge) && b.leaveMore(p, list, err) {
		plan, err = orderplan.Solve(ctx, p.Problem)
	}
	return plan, err
}

// leaveRoom takes out of a problem what no list has room for beside the rest.
func (b bench) leaveRoom(p *posed, list *List) {
	beside, _ := p.Room(p.jobsThenShelf())
	for i, d := range p.demands {
		if d != nil && !beside[i] && d.ForJobs > 0 && d.ForShelf > 0 {
			list.Missing = append(list.Missing, p.named(i)+": so much of it for the shelf is more than a list can plan: order that by hand")
			b.onlyForJobs(p, i)
		}
	}
	beside, alone := p.Room(p.jobsThenShelf())
	var out []int
	for i := range p.Lines {
		switch {
		case beside[i]:
			continue
		case alone[i] && p.shelfOnly(i):
			list.Left++
		default:
			list.Missing = append(list.Missing, p.named(i)+": so much of it is more than a list can plan: order it by hand")
		}
		out = append(out, i)
	}
	p.takeOut(out...)
}

// leaveMore takes out the larger half of what is for the shelf alone, where several offers of one supplier make more
// quantities than was reckoned; else the line that the planner names. It reports whether there was any.
func (b bench) leaveMore(p *posed, list *List, err error) bool {
	var shelf []int
	for _, i := range p.jobsThenShelf() {
		if p.shelfOnly(i) {
			shelf = append(shelf, i)
		}
	}
	if half := shelf[len(shelf)/2:]; len(half) > 0 {
		list.Left += len(half)
		p.takeOut(half...)
		return true
	}
	wrong := new(orderplan.InputError)
	if !errors.As(err, &wrong) || p.line(wrong.Line) < 0 {
		return false
	}
	i := p.line(wrong.Line)
	list.Missing = append(list.Missing, p.named(i)+": so much of it is more than a list can plan: order it by hand")
	p.takeOut(i)
	return true
}

// jobsThenShelf are the lines in the order in which they matter: what is on order already, what jobs wait for, the first due
// first, and what is for the shelf alone, the fewest pieces first.
func (p posed) jobsThenShelf() []int {
	order := make([]int, len(p.Lines))
	for i := range order {
		order[i] = i
	}
	rank := func(i int) int {
		if !p.shelfOnly(i) {
			return math.MinInt + *cmp.Or(p.Lines[i].DueDay, new(int))
		}
		return p.Lines[i].Max
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rank(a), rank(b)) })
	return order
}

// shelfOnly reports whether no job waits for anything of a line, which is none of an open order's.
func (p posed) shelfOnly(line int) bool { return !p.standing(line) && p.demands[line].ForJobs == 0 }

// onlyForJobs leaves out of a line what it is to bring for the shelf.
func (b bench) onlyForJobs(p *posed, line int) {
	d := *p.demands[line]
	d.ForShelf = 0
	p.demands[line] = &d
	p.Lines[line].Need, p.Lines[line].Max = d.ForJobs, b.most(&d, b.usable(d.Part.ID))
}
