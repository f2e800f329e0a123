// Package calendar counts working days.
//
// A supplier quotes "three working days" and a workshop owes its customer a
// date. Between the two stand the days on which nobody packs a parcel or opens
// the door: Sundays, bank holidays, a stock-taking week, the mechanic's own
// holiday. A [Calendar] knows these days for one business. A [Route] joins the
// two calendars that matter for a delivery, the supplier's and the workshop's,
// with the hour by which an order must be in.
//
// Dates are [Day] values, without hour or zone. A moment enters in one place
// only, [Route.OrderDay], where the clock on the supplier's wall decides.
//
// Bank holidays are calculated for any year by rule, with the one-off days that
// were proclaimed up to 2026. A day proclaimed later, or one that a business
// does not keep, is told to its calendar as closed or open.
package calendar

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"
)

// Rules say when one business is closed.
type Rules struct {
	// Country is the code whose bank holidays are kept, as listed by
	// Countries: GB, GB-SCT, DE, DE-BY, ... Empty keeps none.
	Country string `json:"country,omitempty"`
	// ClosedWeekdays are the days closed every week: for an office, Saturday
	// and Sunday.
	ClosedWeekdays []time.Weekday `json:"closed_weekdays,omitempty"`
	// Closures are further closed days: a holiday, a move, a strike.
	Closures []Closure `json:"closures,omitempty"`
	// OpenDays are open whatever the rest says: a supplier that packs on Good
	// Friday, a workshop that opens on the last Sunday before Christmas.
	OpenDays []Day `json:"open_days,omitempty"`
}

// Closure is a run of closed days, both ends included.
type Closure struct {
	First  Day    `json:"first"`
	Last   Day    `json:"last"`
	Reason string `json:"reason,omitempty"`
}

// Words are the closure as it is said: "Thursday 24 December to Friday 1 January: stocktaking".
func (c Closure) Words(today Day) string {
	words := c.First.Words(today)
	if c.Last > c.First {
		words += " to " + c.Last.Words(today)
	}
	if c.Reason != "" {
		words += ": " + c.Reason
	}
	return words
}

// longestClosure bounds a closure, so that a mistyped year is caught instead
// of pushing every date into the far future.
const longestClosure = 366

// Calendar knows the open days of one business. It never changes after New and
// may be used from several goroutines.
type Calendar struct {
	country       country
	holidays      sync.Map // year to map[Day]string, filled as years are asked for
	closedWeekday [7]bool
	closures      []Closure
	open          map[Day]bool
}

// New makes a calendar from its rules. It refuses an unknown country, a week
// without an open day, and a closure that ends before it begins or lasts
// longer than a year.
func New(rules Rules) (*Calendar, error) {
	c := &Calendar{closures: slices.Clone(rules.Closures), open: map[Day]bool{}}
	if rules.Country != "" {
		found, ok := countries[rules.Country]
		if !ok {
			return nil, fmt.Errorf("no bank holidays are known for country %q: use one of %s, or leave it empty and list the closed days", rules.Country, strings.Join(Countries(), ", "))
		}
		c.country = found
	}
	for _, weekday := range rules.ClosedWeekdays {
		if weekday < time.Sunday || weekday > time.Saturday {
			return nil, fmt.Errorf("weekday %d does not exist: 0 is Sunday, 6 is Saturday", int(weekday))
		}
		c.closedWeekday[weekday] = true
	}
	if !slices.Contains(c.closedWeekday[:], false) {
		return nil, fmt.Errorf("all seven weekdays are closed: leave at least one open")
	}
	for _, closure := range rules.Closures {
		if closure.Last < closure.First {
			return nil, fmt.Errorf("closure from %s ends before it begins, on %s", closure.First, closure.Last)
		}
		if closure.Last-closure.First >= longestClosure {
			return nil, fmt.Errorf("closure from %s to %s is longer than a year: check the dates", closure.First, closure.Last)
		}
	}
	for _, day := range rules.OpenDays {
		c.open[day] = true
	}
	return c, nil
}

// Weekdays is the calendar of an office that knows no holidays: open Monday to
// Friday. It serves where nothing better is known about a supplier.
func Weekdays() *Calendar {
	c := &Calendar{}
	c.closedWeekday[time.Saturday], c.closedWeekday[time.Sunday] = true, true
	return c
}

// Open tells whether the business works on the day.
func (c *Calendar) Open(day Day) bool {
	_, closed := c.Closed(day)
	return !closed
}

// Closed tells whether the business is closed on the day, and why, in words
// for the user: "Sunday", "Boxing Day (substitute day)", "stock-taking".
func (c *Calendar) Closed(day Day) (why string, closed bool) {
	if c.open[day] {
		return "", false
	}
	if name, ok := c.holiday(day); ok {
		return name, true
	}
	for _, closure := range c.closures {
		if closure.First <= day && day <= closure.Last {
			if closure.Reason == "" {
				return "closed", true
			}
			return closure.Reason, true
		}
	}
	if c.closedWeekday[day.Weekday()] {
		return day.Weekday().String(), true
	}
	return "", false
}

// holiday finds the bank holiday kept on the day. A year is worked out once:
// the rules for Easter are too slow to run for every day of every promise.
func (c *Calendar) holiday(day Day) (name string, kept bool) {
	if len(c.country) == 0 {
		return "", false
	}
	year := day.Time().Year()
	known, ok := c.holidays.Load(year)
	if !ok {
		known, _ = c.holidays.LoadOrStore(year, c.country.holidaysIn(year))
	}
	name, kept = known.(map[Day]string)[day]
	return name, kept
}

// NextOpen is the day itself if open, else the first open day after it.
func (c *Calendar) NextOpen(day Day) Day {
	for !c.Open(day) {
		day++
	}
	return day
}

// LastOpen is the day itself if open, else the last open day before it.
func (c *Calendar) LastOpen(day Day) Day {
	for !c.Open(day) {
		day--
	}
	return day
}

// AddWorkingDays counts n open days on from the day (which is first moved to
// the next open day): 0 is that day itself, 1 the next open day after it.
// A negative n counts as 0.
func (c *Calendar) AddWorkingDays(day Day, n int) Day {
	day = c.NextOpen(day)
	for ; n > 0; n-- {
		day = c.NextOpen(day + 1)
	}
	return day
}

// WorkingDaysBetween counts the open days after from, up to and including to.
// It is negative, counting after to up to from, when to comes first. From an
// open day it is the inverse of AddWorkingDays.
func (c *Calendar) WorkingDaysBetween(from, to Day) int {
	if to < from {
		return -c.WorkingDaysBetween(to, from)
	}
	n := 0
	for day := from + 1; day <= to; day++ {
		if c.Open(day) {
			n++
		}
	}
	return n
}
