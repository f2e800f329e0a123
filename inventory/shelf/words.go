package shelf

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"stead/inventory/reorder"
)

// sentence begins with a capital and ends with a stop.
func sentence(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(first)) + words[size:] + "."
}

// words say what to keep of a part, and why.
func (s *Advice) words(k *Keeping, insight reorder.Insight, keep reorder.Keep) (words string) {
	if insight.Sales == 0 && (k.Told == nil || k.Told.Lost == 0) {
		if s.Weeks < 1 {
			return "Not a week in the books yet: nothing can be said of how it sells."
		}
		return "Never sold: keep none."
	}
	if k.Told != nil && k.Told.Used+k.Told.Lost > 0 {
		defer func() { words += k.Told.Words(s.approved) }()
	}
	sells := fmt.Sprintf("%s. It takes %s to come", insight.Words(), daysWords(k.LeadDays))
	switch {
	case s.weighed.Homeless(k.item):
		item := s.weighed.Item(k.item)
		return sells + ": keep none, order it for the job. " + tooFew(k.Limit, max(1, item.Pack, item.Minimum))
	case keep.UpTo == 0:
		return sells + ": keep none, order it for the job; money saves more sales elsewhere."
	}
	return fmt.Sprintf("%s: keep %d. Order %d when shelf and orders are down to %d; that meets %d sales in 100 from the shelf.%s",
		sells, keep.UpTo, keep.UpTo-keep.At, keep.At, int(100*keep.Fill+1e-9), within(k.Limit))
}

func daysWords(days float64) string {
	if n := int(math.Round(days)); n != 1 {
		return fmt.Sprintf("%d working days", n)
	}
	return "1 working day"
}
