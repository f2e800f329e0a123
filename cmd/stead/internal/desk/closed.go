package desk

import (
	"slices"
	"strings"
	"time"

	"stead/inventory/calendar"
)

// Week begins as a working week does.
var Week = []time.Weekday{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday, time.Saturday, time.Sunday}

// closedWords say when a business is closed every week and every year.
func closedWords(closedOn []time.Weekday, country string) string {
	var words []string
	for _, d := range Week {
		if slices.Contains(closedOn, d) {
			words = append(words, d.String())
		}
	}
	if country != "" {
		words = append(words, "the bank holidays of "+country)
	}
	switch last := len(words) - 1; last {
	case -1:
		return "open every day"
	case 0:
		return "closed on " + words[0]
	default:
		return "closed on " + strings.Join(words[:last], ", ") + " and " + words[last]
	}
}

// closureWords are the closures that are not over yet.
func closureWords(closures []calendar.Closure, clock Clock) []string {
	var out []string
	for _, c := range closures {
		if c.Last >= clock.Today() {
			out = append(out, "closed "+c.Words(clock.Today()))
		}
	}
	return out
}
