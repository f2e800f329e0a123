package ical_test

import (
	"fmt"
	"strings"
	"time"

	"stead/cmd/stead/internal/ical"
	"stead/inventory/calendar"
)

func ExampleWrite() {
	day := time.Date(2026, time.December, 1, 0, 0, 0, 0, time.UTC)
	var file strings.Builder
	err := ical.Write(&file, ical.Calendar{Name: "Workshop", Events: []ical.Event{
		{UID: "job-101", Stamp: day, Day: calendar.DayOf(day), Summary: "Job 101: new chain"},
	}})
	event := file.String()[strings.Index(file.String(), "BEGIN:VEVENT"):]
	fmt.Println(strings.ReplaceAll(event, "\r", ""), err)
	// Output:
	// BEGIN:VEVENT
	// UID:job-101
	// DTSTAMP:20261201T000000Z
	// DTSTART;VALUE=DATE:20261201
	// DTEND;VALUE=DATE:20261202
	// SUMMARY:Job 101: new chain
	// TRANSP:TRANSPARENT
	// END:VEVENT
	// END:VCALENDAR
	//  <nil>
}
