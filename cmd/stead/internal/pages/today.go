package pages

import (
	"fmt"
	"slices"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
)

// todayPage is what there is to do: one thing first, then the rest by what it waits for.
type todayPage struct {
	desk.Today
	First  *desk.OnStand
	Say    string // what to do first, as a sentence
	Act    step
	Groups []todayGroup
	Coming []comingDay        // orders on their way, the soonest first
	Asked  []pricing.Question // by customers, and not answered yet
	Unsent []messageLine
	Lost   int // quotes that came to nothing, of which nobody has said why
}

// todayGroup are the jobs that wait for the same thing.
type todayGroup struct {
	Title string
	Jobs  []desk.OnStand
}

// comingDay is a day on which orders are expected.
type comingDay struct {
	Day    *calendar.Day // nil: none can be given
	due    desk.Due
	Orders []inventory.Order
}

// others are the steps in which the workshop waits for somebody else.
var others = []desk.Step{desk.Ask, desk.Await, desk.NoStep}

func showToday(v *visit) (string, any, error) {
	t, err := desk.LoadToday(v.ctx, v.db(), v.now)
	if err != nil {
		return "", nil, err
	}
	p := todayPage{Today: t}
	// They stand in the order in which they are due.
	if i := slices.IndexFunc(t.Stand, func(j desk.OnStand) bool { return !slices.Contains(others, j.Next) }); i >= 0 {
		p.First = &t.Stand[i]
		p.Act = stepOf(p.First.ID, p.First.Next)
		p.Say = fmt.Sprintf("%s’s %s: %s", p.First.Customer, p.First.Bike, p.First.Next)
	}
	promised := map[int64]bool{}
	for _, j := range t.Promised {
		promised[j.ID] = true
	}
	at := func(steps ...desk.Step) (jobs []desk.OnStand) {
		for _, j := range t.Stand {
			if slices.Contains(steps, j.Next) && !promised[j.ID] {
				jobs = append(jobs, j)
			}
		}
		return jobs
	}
	late, today := overdue(t)
	p.add("Promised before today", late)
	p.add("Promised today", today)
	p.add("Parts here, bike waiting", at(desk.Fit))
	p.add("Done, to go home", at(desk.HandBack))
	p.add("To look at", at(desk.Inspect, desk.Decide, desk.Answer))
	p.add("Found since they agreed", at(desk.Amend))
	p.add("To price", at(desk.MakeQuote))
	p.add("The customer said no", at(desk.Turned))
	p.add("Needs a word from the customer", at(desk.Ask, desk.GiveUp))
	p.add("Parts to order", at(desk.OrderParts))
	p.add("Waiting for parts", at(desk.Await))
	p.Coming = comingDays(t)
	if p.Unsent, err = unsent(v); err != nil {
		return "", nil, err
	}
	if p.Asked, err = pricing.OpenQuestions(v.ctx, v.db()); err != nil {
		return "", nil, err
	}
	lost, err := pricing.LostQuotes(v.ctx, v.db(), true, v.now)
	p.Lost = len(lost)
	return "Today", p, err
}

// overdue are the jobs that should have gone home, and those that do today.
func overdue(t desk.Today) (late, today []desk.OnStand) {
	for _, j := range t.Promised {
		if *j.Promised < t.Today() {
			late = append(late, j)
		} else {
			today = append(today, j)
		}
	}
	return late, today
}

func (p *todayPage) add(title string, jobs []desk.OnStand) {
	if len(jobs) > 0 {
		p.Groups = append(p.Groups, todayGroup{title, jobs})
	}
}

// comingDays are the orders on their way by the day on which the last of each is expected, those without a day at the end.
func comingDays(t desk.Today) (days []comingDay) {
	for _, o := range t.Coming {
		due := desk.DueOf(o, t.Said)
		i := slices.IndexFunc(days, func(d comingDay) bool { return d.due.Compare(due) == 0 })
		if i < 0 {
			days = append(days, comingDay{Day: due.By, due: due})
			i = len(days) - 1
		}
		days[i].Orders = append(days[i].Orders, o)
	}
	slices.SortFunc(days, func(a, b comingDay) int { return a.due.Compare(b.due) })
	return days
}

// ByThen says how much of an order is here by its day, and how surely.
func (p todayPage) ByThen(o inventory.Order) string {
	switch due := desk.DueOf(o, p.Said); {
	case due.By == nil:
		return "no day can be given"
	case !due.Whole:
		return "some of it by then, for the rest no day can be given"
	case due.Said:
		return "here by then, they say"
	}
	return "here by then, " + p.Sure
}

// ToCome is how many lines of an order are still to come.
func (p todayPage) ToCome(o inventory.Order) string {
	words := desk.Several(len(desk.StillToCome(o)), "line") + " to come"
	if due := desk.DueOf(o, p.Said); due.Sooner() {
		words += ", the first by " + due.First.Short(p.Today.Today())
	}
	return words
}

// Supplier is who an order is from.
func (p todayPage) Supplier(o inventory.Order) string { return p.Suppliers[o.SupplierID].Name }
