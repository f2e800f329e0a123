package desk

import (
	"fmt"
	"time"

	"stead/inventory"
	"stead/inventory/calendar"
)

// CorrectedWords say who put what right, and why.
func CorrectedWords(c inventory.Correction, zone *time.Location) string {
	words := fmt.Sprintf("corrected by %s on %s: %s was %s, is %s", c.By, calendar.DayOf(c.At.In(zone)), c.What, orNothing(c.Was), orNothing(c.Became))
	if c.Why != "" {
		words += " (" + c.Why + ")"
	}
	return words
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return "“" + text + "”"
}
