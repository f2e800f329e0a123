package reorder

import (
	"fmt"
	"math"
)

// Words explains the advice in a sentence or two: "Sells 1 in 10 working days,
// takes 14 to come: keep 5. ..."
func (a advice) Words() string {
	if a.Pattern.Class == NeverSold {
		return fmt.Sprintf("Never sold in %s: keep none.", counted(a.Pattern.Periods, "period"))
	}
	sells := fmt.Sprintf("Sells %s, takes %s to come", a.rate(), a.days())
	if a.Forecast.Method == FadingOut {
		sells = fmt.Sprintf("Not sold for %s, where it used to sell every %.1f; it s%s",
			counted(a.Pattern.SinceLast, "period"), a.Pattern.Interval, sells[1:])
	}
	if !a.Keep {
		return sells + ": keep none, order it for the job."
	}
	return fmt.Sprintf("%s: keep %d. Order %d when shelf and orders are down to %d; that meets %s from the shelf.",
		sells, a.UpTo, a.Quantity, a.ReorderAt, fill(a.Fill))
}

// rate says how fast a part sells.
func (a advice) rate() string {
	switch days := 1 / a.PerDay; {
	case days < 0.95:
		return fmt.Sprintf("%.3g a working day", a.PerDay)
	case days > WorkingDaysPerYear:
		return "less than 1 a year"
	default:
		return "1 in " + counted(int(math.Round(days)), "working day")
	}
}

// days says how long it takes to come.
func (a advice) days() string {
	days := int(math.Round(a.Lead.MeanDays))
	spread := int(math.Round(math.Sqrt(a.Lead.VarianceDays)))
	if spread == 0 {
		return fmt.Sprint(days)
	}
	return fmt.Sprintf("%d, give or take %d,", days, spread)
}

// fill says a share of sales, rounded down.
func fill(share float64) string {
	return fmt.Sprintf("%d sales in 100", int(100*share+1e-9))
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
