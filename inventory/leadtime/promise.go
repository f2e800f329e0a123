package leadtime

import (
	"fmt"

	"stead/inventory/calendar"
)

// Shipment is one parcel on order, or about to be: when its days begin to count,
// the way it comes, and the forecast of how many days it takes. Lines that come
// in one parcel are one shipment.
type Shipment struct {
	Supplier string
	OrderDay calendar.Day
	Route    calendar.Route
	Lead     Distribution
}

// By is the chance that the shipment is in the workshop by the end of the day.
func (s Shipment) By(day calendar.Day) float64 {
	return s.Lead.By(s.Route.WithinDays(s.OrderDay, day))
}

// ByDay is the chance that all shipments are in by the end of the day: the
// product of their chances, once a shipment. Of no shipments all are in.
func ByDay(shipments []Shipment, day calendar.Day) float64 {
	chance := 1.0
	for _, s := range shipments {
		chance *= s.By(day)
	}
	return chance
}

// Promise is a date that can be given to a customer.
type Promise struct {
	Day        calendar.Day
	Confidence float64 // what was asked for
	Chance     float64 // that all shipments are in by Day; not below Confidence
	// Last is the supplier whose shipment is the likeliest to hold up the job,
	// empty if the job waits for none.
	Last string
}

// PromiseDay is the earliest day, from today on, by which all shipments are in
// with the confidence (above 0, below 1). It fails if a shipment leaves too much
// chance beyond a year.
func PromiseDay(shipments []Shipment, confidence float64, today calendar.Day) (Promise, error) {
	if !(confidence > 0 && confidence < 1) {
		return Promise{}, fmt.Errorf("confidence %v is not between 0 and 1: use 0.9 for 9 in 10", confidence)
	}
	first, last := today, today
	for _, s := range shipments {
		days, ok := s.Lead.Within(confidence)
		if !ok {
			return Promise{}, fmt.Errorf("no date can be promised %s: orders from %s may be out for over a year: ask them", InWords(confidence), s.Supplier)
		}
		// Together the shipments cannot be surer than the least sure one alone.
		first = max(first, s.Route.Arrival(s.OrderDay, days))
		last = max(last, s.Route.Arrival(s.OrderDay, len(s.Lead.OnDay)-1))
	}
	for day := first; day <= last; day++ {
		if chance := ByDay(shipments, day); chance >= confidence-rounding {
			return Promise{Day: day, Confidence: confidence, Chance: chance, Last: lastIn(shipments, day)}, nil
		}
	}
	return Promise{}, fmt.Errorf("no date can be promised %s: together the %d shipments may be out for over a year: ask their suppliers", InWords(confidence), len(shipments))
}

// lastIn is the supplier of the shipment least likely to be in by the day.
func lastIn(shipments []Shipment, day calendar.Day) string {
	supplier, least := "", 2.0
	for _, s := range shipments {
		if chance := s.By(day); chance < least {
			supplier, least = s.Supplier, chance
		}
	}
	return supplier
}

// Words is the promise as it is said: "Thursday 10 December, 9 in 10".
func (p Promise) Words(today calendar.Day) string {
	return p.Day.Words(today) + ", " + InWords(p.Confidence)
}

// InWords says a chance in words, rounded down so that it never promises more:
// "9 in 10", "19 in 20".
func InWords(chance float64) string {
	chance += rounding
	switch {
	case chance >= 1:
		return "certain"
	case chance >= 0.99:
		return "99 in 100"
	case chance >= 0.98:
		return "49 in 50"
	case chance >= 0.95:
		return "19 in 20"
	case chance < 0.1:
		return "less than 1 in 10"
	}
	return fmt.Sprintf("%d in 10", int(chance*10))
}
