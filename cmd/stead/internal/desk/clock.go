package desk

import (
	"time"

	"stead/inventory/calendar"
)

// Clock is the moment of which a screen tells, by the clock on the shop's wall. Days in words are told from it.
type Clock struct{ now time.Time }

// At is the clock at a moment, in whose zone the shop is.
func At(now time.Time) Clock { return Clock{now} }

// Today is the day that it shows.
func (c Clock) Today() calendar.Day { return calendar.DayOf(c.now) }

// Zone is where the clock hangs.
func (c Clock) Zone() *time.Location { return c.now.Location() }

// Day is a day as it is said across the counter: Thursday 10 December.
func (c Clock) Day(d calendar.Day) string { return d.Words(c.Today()) }

// DayOf is the day of a moment as it is said across the counter.
func (c Clock) DayOf(t time.Time) string { return c.Day(calendar.DayOf(t.In(c.now.Location()))) }

// Date is the day of a moment as it stands in a table of the terminal, which sorts by it: 2026-12-10.
func (c Clock) Date(t time.Time) string { return t.In(c.now.Location()).Format("2006-01-02") }

// Written is the day of a moment as it stands on a paper that is kept: 10 December 2026.
func (c Clock) Written(t time.Time) string { return t.In(c.now.Location()).Format("2 January 2006") }

// Short is the day of a moment as it stands in a list: Thu 10 Dec.
func (c Clock) Short(t time.Time) string {
	return calendar.DayOf(t.In(c.now.Location())).Short(c.Today())
}

// Moment is a moment as it stands in a list, to the minute: Thu 10 Dec, 15:04.
func (c Clock) Moment(t time.Time) string {
	return c.Short(t) + t.In(c.now.Location()).Format(", 15:04")
}

// Stamp is a moment to the minute as it stands in a table of the terminal, which sorts by it: 2026-12-10 15:04.
func (c Clock) Stamp(t time.Time) string { return t.In(c.now.Location()).Format("2006-01-02 15:04") }

// DayOrNone is a day as it stands in a table, empty where there is none.
func DayOrNone(d *calendar.Day) string {
	if d == nil {
		return ""
	}
	return d.String()
}
