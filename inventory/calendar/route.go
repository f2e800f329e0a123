package calendar

import (
	"fmt"
	"time"
)

// CutOff is the hour by which an order must reach a supplier to be handled on
// the same day, on the clock of the supplier's own town.
type CutOff struct {
	Hour   int // 0 to 23
	Minute int // 0 to 59
	Zone   *time.Location
}

// NewCutOff reads an hour written as 15:30 and a time zone such as
// Europe/London.
func NewCutOff(hour, zone string) (CutOff, error) {
	t, err := time.Parse("15:04", hour)
	if err != nil {
		return CutOff{}, fmt.Errorf("cut-off hour %q is not written as hour:minute, for example 15:30", hour)
	}
	location, err := time.LoadLocation(zone)
	if err != nil || zone == "" {
		return CutOff{}, fmt.Errorf("time zone %q is not known: write it as Europe/London", zone)
	}
	return CutOff{Hour: t.Hour(), Minute: t.Minute(), Zone: location}, nil
}

// Route is the way of a parcel: the supplier packs on its days, the workshop
// takes in on its days.
//
// A lead time of n working days counts the supplier's working days from the
// order day; a parcel that comes while the workshop is closed is in on the
// workshop's next open day.
type Route struct {
	Supplier *Calendar
	Workshop *Calendar
	// CutOff is absent when the supplier has none: an order then counts for the
	// day on which it is placed, by the clock of the moment given.
	CutOff *CutOff
}

// OrderDay is the day from which the supplier counts an order placed at the
// moment: the same day before the cut-off of a working day, else the next
// working day. An order at the very minute of the cut-off is too late.
func (r Route) OrderDay(placed time.Time) Day {
	if r.CutOff == nil {
		return r.Supplier.NextOpen(DayOf(placed))
	}
	local := placed.In(r.CutOff.Zone)
	day := DayOf(local)
	// The hands of the clock decide, not the hours since midnight, which on two
	// days a year are one more or one fewer.
	hour, minute, _ := local.Clock()
	if hour > r.CutOff.Hour || hour == r.CutOff.Hour && minute >= r.CutOff.Minute {
		day++
	}
	return r.Supplier.NextOpen(day)
}

// Arrival is the day on which a parcel is in the workshop, n of the supplier's
// working days after the order day.
func (r Route) Arrival(orderDay Day, n int) Day {
	return r.Workshop.NextOpen(r.Supplier.AddWorkingDays(orderDay, n))
}

// WorkingDays is the number of the supplier's working days that a parcel took
// from the order day to its arrival. An arrival on a day when the supplier is
// closed counts as its next working day: never fewer days than it took.
func (r Route) WorkingDays(orderDay, arrived Day) int {
	return r.Supplier.WorkingDaysBetween(orderDay, r.Supplier.NextOpen(arrived))
}

// WithinDays is the largest number of working days that a parcel may take and
// still be in the workshop by the end of the day. It is negative for a day
// before the order day.
func (r Route) WithinDays(orderDay, by Day) int {
	taken := r.Workshop.LastOpen(by)
	start := r.Supplier.NextOpen(orderDay)
	if taken < start {
		return -1
	}
	return r.Supplier.WorkingDaysBetween(start, taken)
}
