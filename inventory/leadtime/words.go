package leadtime

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stead/inventory/calendar"
)

// Words explains the forecast, a sentence each: what was quoted, what it rests
// on, and anything out of the ordinary.
func (f Forecast) Words(today calendar.Day) []string {
	sentences := []string{f.quoteWords(), f.ownWords(), f.shareWords()}
	if f.Strain.Chance >= strainToTell {
		sentences = append(sentences, f.Strain.Words())
	}
	if f.Change != nil {
		sentences = append(sentences, f.Change.Words(today))
	}
	if len(f.Freaks) > 0 {
		sentences = append(sentences, f.freakWords(today))
	}
	if len(f.Overdue) > 0 {
		longest := 0
		for _, o := range f.Overdue {
			longest = max(longest, o.DaysOverdue())
		}
		sentences = append(sentences, fmt.Sprintf("%s overdue now, the longest by %s.",
			counted(len(f.Overdue), "order is", "orders are"), workingDays(longest)))
	}
	return sentences
}

func (f Forecast) quoteWords() string {
	if f.Assumption.QuoteAssumed {
		return fmt.Sprintf("No lead time given, %s: %s assumed.", f.Order.Signal.words(), workingDays(f.Assumption.QuotedDays))
	}
	return fmt.Sprintf("Quoted %s, %s.", workingDays(f.Assumption.QuotedDays), f.Order.Signal.words())
}

func (f Forecast) ownWords() string {
	switch f.OwnReceipts {
	case 0:
		return "Nothing has come from them yet."
	case 1:
		if f.OwnOnTime == 1 {
			return "The only receipt from them came by the day quoted."
		}
		return "The only receipt from them came later than quoted."
	}
	return fmt.Sprintf("Of %d receipts from them, %d came by the day quoted.", f.OwnReceipts, f.OwnOnTime)
}

func (f Forecast) shareWords() string {
	percent := func(share float64) int { return int(math.Round(100 * share)) }
	own, others := percent(f.OwnShare), percent(f.OthersShare)
	text := "The forecast rests"
	if own > 0 {
		text += fmt.Sprintf(" %d %% on its own orders,", own)
	}
	if others > 0 {
		text += fmt.Sprintf(" %d %% on %s,", others, counted(f.OtherSuppliers, "other supplier", "other suppliers"))
	}
	return text + fmt.Sprintf(" %d %% on the assumption that %.0f orders in 100 come late, by %.3g working days on average.",
		100-own-others, 100*f.Assumption.LateChance, f.Assumption.MeanDaysLate)
}

func (f Forecast) freakWords(today calendar.Day) string {
	r := slices.MaxFunc(f.Freaks, func(a, b Receipt) int { return cmp.Compare(a.DaysLate(), b.DaysLate()) })
	latest := fmt.Sprintf("%s (ordered %s)", lateWords(r.DaysLate()), r.Ordered.Words(today))
	if n := len(f.Freaks); n > 1 {
		return fmt.Sprintf("%d came far later than usual, the latest of them %s: each counts as one.", n, latest)
	}
	return fmt.Sprintf("One came %s: counted as one, it moves only the least likely dates.", latest)
}

// strainToTell is the chance from which a strain is spoken of.
const strainToTell = 0.5

// Strain is the one that dates count with; nil while none is likely enough to be spoken of.
func (e *Experience) Strain() *Strain {
	if e.strain == nil || e.strain.found.Chance < strainToTell {
		return nil
	}
	return &e.strain.found
}

// Words tells of the strain: "All suppliers are late just now, by about 3 working
// days: of 6 parcels due in the last fortnight from 4 of them 5 were late."
func (s Strain) Words() string {
	words := fmt.Sprintf("All suppliers are late just now, by about %s: of %s due in the last fortnight from %s %d were late.",
		workingDays(s.DaysLate), counted(s.Parcels, "parcel", "parcels"), counted(s.Suppliers, "supplier", "suppliers"), s.Late)
	if s.LastYear {
		words += " It was so in these weeks last year."
	}
	return words
}

// Words tells of the change: "6 of the 7 receipts since September were 3 working
// days late or more; before, on time was usual."
func (c Change) Words(today calendar.Day) string {
	orMore := "or more"
	switch {
	case c.DaysLate < c.DaysBefore:
		orMore = "or sooner"
	case c.DaysLate <= 0:
		orMore = "or later"
	}
	month := "January"
	if since := c.Since.Time(); since.Year() != today.Time().Year() {
		month = "January 2006"
	}
	before := lateWords(c.DaysBefore) + " was usual"
	if c.OfSome {
		before = fmt.Sprintf("%d of %d", c.AsLateBefore, c.Before)
	}
	return fmt.Sprintf("%d of the %d receipts since %s were %s %s; before, %s.",
		c.AsLate, c.Receipts, c.Since.Time().Format(month), lateWords(c.DaysLate), orMore, before)
}

// lateWords says how late: "3 working days late", "on time".
func lateWords(days int) string {
	switch {
	case days == 0:
		return "on time"
	case days < 0:
		return workingDays(-days) + " early"
	}
	return workingDays(days) + " late"
}

func workingDays(n int) string { return counted(n, "working day", "working days") }

// counted is the number with its noun.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
