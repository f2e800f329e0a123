package calendar_test

import (
	"fmt"
	"time"

	"stead/inventory/calendar"
)

func ExampleCalendar_AddWorkingDays() {
	fmt.Println(calendar.Weekdays().AddWorkingDays(calendar.Date(2026, time.December, 4), 2))
	// Output: 2026-12-08
}
