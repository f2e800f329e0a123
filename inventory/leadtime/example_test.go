package leadtime_test

import (
	"fmt"
	"time"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

// A job waits for one parcel. The supplier packs on weekdays but bank holidays,
// takes orders until three, and has come late now and then.
func Example() {
	office, _ := calendar.New(calendar.Rules{Country: "GB", ClosedWeekdays: []time.Weekday{time.Saturday, time.Sunday}})
	workshop, _ := calendar.New(calendar.Rules{Country: "GB", ClosedWeekdays: []time.Weekday{time.Sunday, time.Monday}})
	three, _ := calendar.NewCutOff("15:00", "Europe/London")
	route := calendar.Route{Supplier: office, Workshop: workshop, CutOff: &three}

	quoted := 2
	var receipts []leadtime.Receipt
	for week, days := range []calendar.Day{2, 2, 3, 2, 2, 3, 2} { // calendar days from a Tuesday
		ordered := calendar.Date(2026, time.October, 6) + calendar.Day(7*week)
		receipt, err := leadtime.NewReceipt("Ashdown", route, ordered, ordered+days, &quoted, leadtime.InStock)
		if err != nil {
			fmt.Println(err)
			return
		}
		receipts = append(receipts, receipt)
	}

	now := time.Date(2026, time.December, 4, 15, 10, 0, 0, three.Zone) // a Friday, ten past three
	today := calendar.DayOf(now)
	forecast := leadtime.Learn(receipts, nil, today).
		Forecast(leadtime.Order{Supplier: "Ashdown", Quoted: &quoted, Signal: leadtime.InStock})
	promise, err := leadtime.PromiseDay([]leadtime.Shipment{
		{Supplier: "Ashdown", OrderDay: route.OrderDay(now), Route: route, Lead: forecast.Distribution},
	}, 0.9, today)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(promise.Words(today))
	for _, sentence := range forecast.Words(today) {
		fmt.Println(sentence)
	}
	// Output:
	// Thursday 10 December, 9 in 10
	// Quoted 2 working days, in stock.
	// Of 7 receipts from them, 5 came by the day quoted.
	// The forecast rests 62 % on its own orders, 38 % on the assumption that 25 orders in 100 come late, by 2 working days on average.
}
