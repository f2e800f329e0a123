package calendar

import (
	"database/sql/driver"
	"fmt"
	"time"
)

// Day is one day of the civil calendar, without hour or time zone: the number
// of days since 1 January 1970. Days are compared and added like numbers, so
// an hour lost or gained to summer time can never move a date.
type Day int

// Date is the day with the given year, month and day of the month. Values
// outside their range roll over, as in time.Date.
func Date(year int, month time.Month, day int) Day {
	return DayOf(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

// DayOf is the date that a clock in t's own time zone shows at t.
func DayOf(t time.Time) Day {
	year, month, day := t.Date()
	const secondsPerDay = 24 * 60 * 60
	seconds := time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix()
	if seconds < 0 { // Go divides towards zero; days before 1970 must go down
		seconds -= secondsPerDay - 1
	}
	return Day(seconds / secondsPerDay)
}

// ParseDay reads a day written as 2026-12-10.
func ParseDay(text string) (Day, error) {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return 0, fmt.Errorf("date %q is not written as year-month-day, for example 2026-12-10", text)
	}
	return DayOf(t), nil
}

// Time is the start of the day in UTC.
func (d Day) Time() time.Time {
	return time.Date(1970, time.January, 1+int(d), 0, 0, 0, 0, time.UTC)
}

// Weekday is the day of the week. Day 0, 1 January 1970, was a Thursday.
func (d Day) Weekday() time.Weekday {
	return time.Weekday(((int(d)+int(time.Thursday))%7 + 7) % 7)
}

// String writes the day as 2026-12-10.
func (d Day) String() string { return d.Time().Format(time.DateOnly) }

// Words writes the day as it is said across the counter: Thursday 10 December.
// The year is added when the day is more than nine months from today, where
// leaving it out could mislead.
func (d Day) Words(today Day) string { return d.Time().Format("Monday 2 January" + d.year(today)) }

// Short writes the day as it stands in a list: Thu 10 Dec, with the year where
// Words has it.
func (d Day) Short(today Day) string { return d.Time().Format("Mon 2 Jan" + d.year(today)) }

func (d Day) year(today Day) string {
	const nineMonths = 274
	if d-today > nineMonths || today-d > nineMonths {
		return " 2006"
	}
	return ""
}

// MarshalText writes the day as 2026-12-10, which is also its JSON form.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (d *Day) UnmarshalText(text []byte) error {
	day, err := ParseDay(string(text))
	if err != nil {
		return err
	}
	*d = day
	return nil
}

// Value is the day as a DATE of the database.
func (d Day) Value() (driver.Value, error) { return d.Time(), nil }

// Scan reads a DATE of the database.
func (d *Day) Scan(column any) error {
	t, ok := column.(time.Time)
	if !ok {
		return fmt.Errorf("a %T in the database is no day", column)
	}
	*d = DayOf(t)
	return nil
}
