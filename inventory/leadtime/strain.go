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
	DaysLate           int     // its likeliest size, in working days on top of each supplier's own lateness
	Suppliers, Parcels int     // that should have come in the last fortnight
	Late               int     // of these parcels, those that did not come by their quotes
	LastYear           bool    // there was one in these weeks a year ago
}

// The figures are the project's own judgement.
const (
	strainWindow  = 14 // calendar days in which a parcel was due that tells of a strain
	strainRate    = 0.15
	strainAgain   = 0.6  // chance that last year's comes again
	strainFollows = 0.95 // of the suppliers in a strain are as late as the rest
	ownBadSpell   = 0.03 // of the suppliers are late of themselves in any fortnight
	mostStrain    = 15   // working days
)

// strain is the belief in a common lateness: ordinary is what each supplier does
// without it, chances[n] that of one of n days, chances[0] that of none.
type strain struct {
	ordinary *Experience
	chances  []float64
	found    Strain
}

// trace is a parcel by which a strain would show: how late it came, or, if it is
// still open, how late it is by now.
type trace struct {
	supplier string
	quoted   int
	signal   Signal
	due      calendar.Day
	late     int
	open     bool
}

// findStrain compares the parcels that were due of late, and those of these weeks
// a year ago, with what their suppliers do at other times.
func findStrain(receipts []Receipt, outstanding []Outstanding, now calendar.Day) *strain {
	const year = 364 // whole weeks
	var rest []Receipt
	var lately, lastYear []trace
	for _, r := range receipts {
		if r.Arrived > now {
			continue
		}
		due := r.Arrived - inCalendar(r.DaysLate())
		t := trace{r.Supplier, quotedDays(r.Quoted, r.Signal), r.Signal, due, r.DaysLate(), false}
		switch {
		case due > now-strainWindow:
			lately = append(lately, t)
		case due > now-year-strainWindow/2 && due <= now-year+strainWindow:
			lastYear = append(lastYear, t)
		default:
			rest = append(rest, r)
		}
	}
	for _, o := range outstanding {
		overdue := o.DaysOverdue()
		if due := now - inCalendar(overdue); overdue > 0 && due > now-strainWindow {
			lately = append(lately, trace{o.Supplier, quotedDays(o.Quoted, o.Signal), o.Signal, due, overdue, true})
		}
	}
	s := &strain{ordinary: learn(rest, nil, now)}
	then := s.judge(lastYear, onsets(now-year-strainWindow/2, now-year+strainWindow/2), strainChances(strainRate, nil))
	began := onsets(now-strainWindow, now-2)
	if then[0] < 0.5 {
		// It is as likely to begin only now as to have begun.
		began = append(began, slices.Repeat([]onset{{now, now}}, len(began))...)
	}
	before := strainChances(math.Max(strainRate, strainAgain*(1-then[0])), then)
	s.chances = spokenFor(s.judge(lately, began, before), then[0] < 0.5, before)
	s.found = describe(lately, s.chances, then)
	return s
}

// inCalendar is a number of working days in calendar days, at five a week.
func inCalendar(workingDays int) calendar.Day {
	return calendar.Day(math.Round(float64(workingDays) * 7 / 5))
}

// strainChances are those of a strain by its days before anything is known of it:
// the longer the less, and half of them like last year's if there was one.
func strainChances(rate float64, lastYear []float64) []float64 {
	chances := make([]float64, mostStrain+1)
	chances[0] = 1 - rate
	like := 0.0
	if lastYear != nil && lastYear[0] < 0.5 {
		like = 0.5
	}
	for days := 1; days <= mostStrain; days++ {
		chances[days] = rate * (1 - like) / float64(days*(days+1))
		if like > 0 {
			chances[days] += rate * like * lastYear[days] / (1 - lastYear[0])
		}
	}
	return chances
}

// spokenFor leaves out what was believed of a strain beforehand, unless last year
// spoke for it: in most fortnights there is none, and every date would be a little
// late for what nothing has shown.
func spokenFor(chances []float64, lastYear bool, before []float64) []float64 {
	shown := 1.0
	if !lastYear {
		shown = math.Max(0, before[0]-chances[0]) / (before[0] * (1 - chances[0]))
	}
	for days := 1; days < len(chances); days++ {
		chances[0] += chances[days] * (1 - shown)
		chances[days] *= shown
	}
	return chances
}

// onset is how a strain may have come: from a day on, all of it at once, or more each
// day until another, on which it is whole.
type onset struct{ from, whole calendar.Day }

// of is how much of a strain a parcel is under that was due on a day; nought before it.
func (o onset) of(days int, due calendar.Day) int {
	switch {
	case due < o.from:
		return 0
	case due >= o.whole:
		return days
	}
	return int(math.Round(float64(days) * float64(due-o.from+1) / float64(o.whole-o.from+1)))
}

// onsets are how a strain may have come between two days: two in three all at once. One that grows does so until the
// second day.
func onsets(first, last calendar.Day) []onset {
	var all []onset
	for day := first; day <= last; day += 2 {
		all = append(all, onset{day, day}, onset{day, day}, onset{day, last})
	}
	return all
}

// judge turns the chances of a strain before into those after the traces, any of
// the onsets being as likely.
func (s *strain) judge(traces []trace, onsets []onset, chances []float64) []float64 {
	leads := s.usual(traces)
	after := make([]float64, len(chances))
	for _, onset := range onsets {
		for days, gain := range gains(traces, leads, onset) {
			after[days] += chances[days] * gain / float64(len(onsets))
		}
	}
	total := 0.0
	for _, c := range after {
		total += c
	}
	for i := range after {
		after[i] /= total
	}
	return after
}

// usual is how late each of the traces would be without a strain.
func (s *strain) usual(traces []trace) []lateness {
	type kind struct {
		supplier string
		quoted   int
		signal   Signal
	}
	known := map[kind]lateness{}
	leads := make([]lateness, len(traces))
	for i, t := range traces {
		k := kind{t.supplier, t.quoted, t.signal}
		if _, ok := known[k]; !ok {
			known[k] = s.ordinary.forecast(Order{Supplier: t.supplier, Quoted: &t.quoted, Signal: t.signal}).lateness(t.quoted)
		}
		leads[i] = known[k]
	}
	return leads
}

// gains are how much likelier the traces are under a strain of so many days since
// the onset than under none. Each supplier has a say, however many parcels it
// sent: it may be late for reasons of its own, and on time when others are not.
func gains(traces []trace, leads []lateness, came onset) (gains [mostStrain + 1]float64) {
	bySupplier := map[string]*[mostStrain + 1]float64{}
	for i, t := range traces {
		if t.due < came.from {
			continue
		}
		chances := bySupplier[t.supplier]
		if chances == nil {
			chances = new([mostStrain + 1]float64)
			for days := range chances {
				chances[days] = 1
			}
			bySupplier[t.supplier] = chances
		}
		for days := range chances {
			if strained := came.of(days, t.due); t.open {
				chances[days] *= leads[i].beyond(t.late - strained)
			} else {
				chances[days] *= leads[i].chance(t.late - strained)
			}
		}
	}
	for days := range gains {
		gains[days] = 1
	}
	if len(bySupplier) < 2 {
		return gains // one supplier alone says nothing of the others
	}
	for _, supplier := range slices.Sorted(maps.Keys(bySupplier)) {
		chances := bySupplier[supplier]
		alone := 0.0
		for days := 1; days < len(chances); days++ {
			alone += chances[days] / float64(days*(days+1))
		}
		without := (1-ownBadSpell)*chances[0] + ownBadSpell*alone
		for days := 1; days < len(chances); days++ {
			gains[days] *= 1 - strainFollows + strainFollows*chances[days]/without
		}
	}
	return gains
}

// describe puts the strain in figures for people.
func describe(traces []trace, chances, lastYear []float64) Strain {
	found := Strain{Chance: 1 - chances[0], Parcels: len(traces), LastYear: lastYear[0] < 0.5}
	suppliers := map[string]bool{}
	for _, t := range traces {
		suppliers[t.supplier] = true
		if t.late > 0 {
			found.Late++
		}
	}
	found.Suppliers = len(suppliers)
	for days := 1; days < len(chances); days++ {
		if found.DaysLate == 0 || chances[days] > chances[found.DaysLate] {
			found.DaysLate = days
		}
	}
	return found
}
