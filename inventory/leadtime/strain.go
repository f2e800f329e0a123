package leadtime

import (
	"maps"
	"math"
	"slices"

	"stead/inventory/calendar"
)

// Strain is a time in which all suppliers are late together: before Christmas, in
// spring, when a port is shut.
type Strain struct {
	Chance             float64 // that there is one now
	DaysLate           int     // its likeliest size, or the mean of one that is another for each parcel, in working days on top of each supplier's own lateness
	Suppliers, Parcels int     // that should have come in the last fortnight
	Late               int     // of these parcels, those that did not come by their quotes
	LastYear           bool    // there was one in these weeks a year ago
}

// strain is the belief in a common lateness.
type strain struct {
	now      calendar.Day
	began    began
	ordinary *Experience // what suppliers do without it
	found    Strain
}

const (
	strainWindow = 14      // calendar days of the parcels that are told of
	year         = 52 * 7  // calendar days, whole weeks
	underStrain  = 1.0 / 3 // chance of a strain from which a parcel says nothing of its supplier
)

// trace is a parcel by which a strain would show: how late it came, or, if it is
// still open, how late it is by now.
type trace struct {
	asked Order
	due   calendar.Day
	late  int
	open  bool
}

// findStrain compares the parcels that were due of late, and those of these weeks a year ago, with what their suppliers do
// at other times. Which these are is not known beforehand: first all receipts are taken for usual, and then those that a
// strain explains are left out and the rest asked again.
func (e *Experience) findStrain(receipts []Receipt, outstanding []Outstanding, now calendar.Day) *strain {
	traces := tracesOf(receipts, outstanding, now)
	s := &strain{now: now, ordinary: e}
	then := s.judge(traces)
	var rest []Receipt
	for _, r := range receipts {
		if t := traceOf(r); r.Arrived > now || math.Max(s.began.chance(t.due), then.chance(t.due)) < underStrain {
			rest = append(rest, r)
		}
	}
	if len(rest) < len(receipts) {
		s.ordinary = learn(rest, nil, now)
		then = s.judge(traces)
	}
	s.found = describe(traces, now)
	s.found.LastYear = then.chance(now-year) > 0.5
	s.found.tell(s.shown(now))
	return s
}

func traceOf(r Receipt) trace {
	return trace{Order{r.Supplier, r.Quoted, r.Signal}, r.Arrived - inCalendar(r.DaysLate()), r.DaysLate(), false}
}

// tracesOf are those of all parcels that had come by now or are overdue, one a parcel whatever its lines.
func tracesOf(receipts []Receipt, outstanding []Outstanding, now calendar.Day) (traces []trace) {
	came := parcels(receipts, now)
	for _, supplier := range slices.Sorted(maps.Keys(came)) {
		for _, r := range came[supplier] {
			traces = append(traces, traceOf(r))
		}
	}
	for _, o := range overdueParcels(outstanding) {
		overdue := o.DaysOverdue()
		traces = append(traces, trace{Order{o.Supplier, o.Quoted, o.Signal}, now - inCalendar(overdue), overdue, true})
	}
	return traces
}

// inCalendar is a number of working days in calendar days, at five a week.
func inCalendar(workingDays int) calendar.Day {
	return calendar.Day(math.Round(float64(workingDays) * 7 / 5))
}

// judge finds what strains there were of late, and what there were in these weeks a year ago, by the traces.
func (s *strain) judge(traces []trace) (then began) {
	usual := s.ordinary.steady()
	known := map[kind]lateness{}
	witnesses := func(from, to calendar.Day) []witness {
		outside := func(t trace) bool { return t.due < from || t.due > to }
		return usual.witnesses(slices.DeleteFunc(slices.Clone(traces), outside), known)
	}
	then = beginnings(s.now-year, nil)
	then.weigh(witnesses(then.first(), then.last()))
	s.began = beginnings(s.now, then.again())
	s.began.weigh(witnesses(s.began.first(), s.now))
	return then
}

// steady is the experience without what changed of late: a strain is no change of each supplier.
func (e *Experience) steady() *Experience {
	steady := &Experience{suppliers: map[string]*record{}, worthOfBase: e.worthOfBase}
	for supplier, r := range e.suppliers {
		steady.suppliers[supplier] = &record{receipts: r.receipts, votes: r.votes, alike: r.alike, memories: newRecord().memories}
	}
	return steady
}

// shown are the chances that what is due on a day is under a strain of a size, as far as more is believed of it than
// before anything was seen: in most fortnights there is none, and every date would be a little late for what nothing has
// shown.
func (s *strain) shown(due calendar.Day) sizes {
	levels, before := s.began.levels(due, s.now)
	shown := shownBy(before, levels.sum())
	for size := range levels {
		levels[size] *= shown
	}
	return levels
}

// levels are the chances that what is due on a day is under a strain by which it is so many days later, 0 included. Over is
// the chance that there was one, which is over by then or yet to come.
func (s *strain) levels(due calendar.Day) (levels [mostSpread + 1]float64, over float64) {
	believed, _ := s.began.levels(due, s.now)
	over = s.began.total() - believed.sum()
	shown := s.shown(due)
	copy(levels[:], shown[:mostStrain+1])
	for n, chances := range spreadChances {
		for days, chance := range chances {
			levels[days] += shown[mostStrain+1+n] * chance
		}
	}
	return levels, over
}

// shownBy is how much of what is believed after the traces they have shown, and was not believed before.
func shownBy(before, after float64) float64 {
	if after <= before {
		return 0
	}
	return (after - before) / ((1 - before) * after)
}

// describe counts the parcels by which a strain would show now.
func describe(traces []trace, now calendar.Day) (found Strain) {
	suppliers := map[string]bool{}
	for _, t := range traces {
		if t.due <= now-strainWindow {
			continue
		}
		suppliers[t.asked.Supplier] = true
		found.Parcels++
		if t.late > 0 {
			found.Late++
		}
	}
	found.Suppliers = len(suppliers)
	return found
}

// tell puts the strain in figures for people.
func (found *Strain) tell(levels sizes) {
	found.Chance = levels.sum()
	likeliest := 1
	for size, chance := range levels {
		if chance > levels[likeliest] {
			likeliest = size
		}
	}
	found.DaysLate = likeliest
	if likeliest > mostStrain {
		found.DaysLate = int(spreads[likeliest-mostStrain-1])
	}
}
