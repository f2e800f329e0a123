package reorder

// Class names how a part sells: how often, and how evenly.
type Class string

// The classes. A part that never sold has none of them.
const (
	NeverSold    Class = "never sold"
	Smooth       Class = "smooth"       // often, in like amounts
	Erratic      Class = "erratic"      // often, in very different amounts
	Intermittent Class = "intermittent" // now and then, in like amounts
	Lumpy        Class = "lumpy"        // now and then, in very different amounts
)

// The boundaries between the classes (Syntetos, Boylan and Croston, "On the
// categorization of demand patterns", JORS 56, 2005, 495-503).
const (
	oftenInterval = 1.32
	evenVariation = 0.49
)

// Pattern describes a history of sales.
type Pattern struct {
	Class     Class
	Periods   int // counted
	Sold      int // periods in which anything sold
	SinceLast int // periods after the last of these
	// Interval is the mean number of periods from one with sales to the next:
	// Periods / Sold.
	Interval float64
	// Variation is the squared coefficient of variation of the amounts sold, of
	// the periods with sales alone (variance over n, not n-1).
	Variation float64
	// Dispersion is the variance of all counts over their mean, 1 for sales that
	// come singly and by chance; never taken as less.
	Dispersion float64
	// MeanSale is the mean amount of the periods with sales.
	MeanSale float64
}

// describe finds the pattern of sales counted by period, oldest first.
func describe(counts []int) Pattern {
	p := Pattern{Class: NeverSold, Periods: len(counts), Dispersion: 1}
	sum, squares := 0.0, 0.0
	for i, n := range counts {
		if n <= 0 {
			continue
		}
		p.Sold++
		p.SinceLast = len(counts) - 1 - i
		sum += float64(n)
		squares += float64(n) * float64(n)
	}
	if p.Sold == 0 {
		return p
	}
	periods, sold := float64(p.Periods), float64(p.Sold)
	p.Interval = periods / sold
	p.MeanSale = sum / sold
	p.Variation = (squares/sold - p.MeanSale*p.MeanSale) / (p.MeanSale * p.MeanSale)
	if p.Periods > 1 {
		mean := sum / periods
		p.Dispersion = max(1, (squares-periods*mean*mean)/(periods-1)/mean)
	}
	often, even := p.Interval < oftenInterval, p.Variation < evenVariation
	switch {
	case often && even:
		p.Class = Smooth
	case often:
		p.Class = Erratic
	case even:
		p.Class = Intermittent
	default:
		p.Class = Lumpy
	}
	return p
}
