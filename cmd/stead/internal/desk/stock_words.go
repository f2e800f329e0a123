package desk

import (
	"fmt"

	"stead/inventory"
	"stead/inventory/calendar"
)

// What was done to the stock of a part, in words.

// PutInWords tell of pieces that were put in with no order.
func PutInWords(n int, part, bin string) string {
	return fmt.Sprintf("%d of %s put into %s", n, part, bin)
}

// SoldWords tell of pieces that were sold over the counter.
func SoldWords(n int, part string) string { return fmt.Sprintf("%d of %s sold", n, part) }

// MovedWords tell of pieces that went from bin to bin.
func MovedWords(n int, part, from, to string) string {
	return fmt.Sprintf("%d of %s moved from %s to %s", n, part, from, to)
}

// ScrappedWords tell of pieces that were taken out for good.
func ScrappedWords(n int, part, bin, why string) string {
	return fmt.Sprintf("%d of %s scrapped from %s: %s", n, part, bin, why)
}

// CountedWords tell what was counted, beside what the ledger said; a difference above 0 is more than it said.
func CountedWords(n int, part, bin string, difference int) string {
	words := fmt.Sprintf("%s in %s: %d", part, bin, n)
	switch {
	case difference == 0:
		return words + ", as the ledger says"
	case difference > 0:
		return fmt.Sprintf("%s, %d more than the ledger said", words, difference)
	}
	return fmt.Sprintf("%s, %d fewer than the ledger said", words, -difference)
}

// StocktakeWords tell what a stocktake found: how much of it is right, and each difference with what may explain it.
func StocktakeWords(lines int, found []inventory.Difference) (first string, more []string) {
	for _, d := range found {
		more = append(more, fmt.Sprintf("%s in %s: %d counted, the ledger said %d", d.Name, d.Bin, d.Counted, d.Expected))
		for _, words := range d.May {
			more = append(more, "  "+words)
		}
	}
	return fmt.Sprintf("%s counted, %s not as the ledger said.", Several(lines, "line"), Several(len(found), "line")), more
}

// NextBinWords say why a bin is best counted next.
func (c Clock) NextBinWords(b inventory.NextBin) string {
	counted := "never counted"
	if b.Counted != nil {
		counted = "last counted on " + b.Counted.Short(c.Today())
	}
	return fmt.Sprintf("%s, %s since", counted, Several(b.Moved, "movement"))
}

// ByHandWords say how a part is ordered where a person has decided it.
func (c Clock) ByHandWords(part, supplier string, until *calendar.Day) string {
	switch {
	case supplier != "":
		return part + " is bought from " + supplier
	case until != nil:
		return part + " is not ordered before " + c.Day(*until)
	}
	return part + " is ordered as planned"
}
