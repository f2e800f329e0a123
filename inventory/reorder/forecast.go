package reorder

import "slices"

// Method is the way in which a forecast was made.
type Method string

// The methods.
const (
	// Croston smooths the amount and the interval, at each sale.
	Croston Method = "Croston"
	// SyntetosBoylan is Croston less its bias of about half the smoothing
	// constant (Syntetos and Boylan, International Journal of Forecasting 21, 2005).
	SyntetosBoylan Method = "Syntetos-Boylan"
	// FadingOut smooths the chance of a sale in every period, so that the forecast
	// sinks while nothing sells (Teunter, Syntetos and Babai, European Journal of
	// Operational Research 214, 2011).
	FadingOut Method = "fading out"
)

// smoothing is the weight of the newest sale. Between 0.1 and 0.2 is usual for
// intermittent demand; the lower forgets a single large sale sooner.
const smoothing = 0.1

// longSilence is how many mean intervals without a sale suggest that a part is
// no longer asked for: by chance alone it happens 1 in 20 times (e to the -3).
const longSilence = 3

// forecast is what is expected to sell in a period.
type forecast struct {
	PerPeriod float64 // pieces, on average
	// Variance is how far PerPeriod may be off: the variance of the forecast, not
	// of the sales.
	Variance float64
	Method   Method
}

// forecastDemand forecasts from sales counted by period, oldest first. Even,
// frequent sales are left to Croston's method; the others are freed from its
// bias (the recommendation of the paper that defines the classes); a part that
// has not sold for long fades out. Never sold is forecast as 0.
func forecastDemand(counts []int) forecast {
	pattern := describe(counts)
	if pattern.Class == NeverSold {
		return forecast{Method: Croston}
	}
	amount, interval := croston(counts, smoothing)
	f := forecast{PerPeriod: (1 - smoothing/2) * amount / interval, Method: SyntetosBoylan}
	switch {
	case float64(pattern.SinceLast) > longSilence*pattern.Interval:
		f = forecast{PerPeriod: fadingOut(counts, smoothing, smoothing), Method: FadingOut}
	case pattern.Class == Smooth:
		f = forecast{PerPeriod: amount / interval, Method: Croston}
	}
	// A smoothed average varies as one sale does, times a/(2-a). To first order the
	// relative variances of amount and interval add up; an interval that ends with
	// chance 1/i in each period has (i-1)/i.
	relative := pattern.Variation + (pattern.Interval-1)/pattern.Interval
	f.Variance = smoothing / (2 - smoothing) * relative * f.PerPeriod * f.PerPeriod
	return f
}

// croston smooths the amounts sold and the periods from one sale to the next. The
// first sale and the periods up to and including it are the start; periods after
// the last sale change nothing. There must be a sale.
func croston(counts []int, alpha float64) (amount, interval float64) {
	periods := 0
	for _, n := range counts {
		periods++
		switch {
		case n <= 0:
			continue
		case amount == 0:
			amount, interval = float64(n), float64(periods)
		default:
			amount += alpha * (float64(n) - amount)
			interval += alpha * (float64(periods) - interval)
		}
		periods = 0
	}
	return amount, interval
}

// fadingOut smooths the amount at each sale with alpha and the chance of a sale in
// every period with beta. It starts, before the first period, from the amount of
// the first sale and one sale in the periods up to it. There must be a sale.
func fadingOut(counts []int, alpha, beta float64) (perPeriod float64) {
	first := slices.IndexFunc(counts, func(n int) bool { return n > 0 })
	amount, chance := float64(counts[first]), 1/float64(first+1)
	for _, n := range counts {
		if n > 0 {
			amount += alpha * (float64(n) - amount)
			chance += beta * (1 - chance)
		} else {
			chance -= beta * chance
		}
	}
	return amount * chance
}
